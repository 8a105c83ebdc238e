"""The one registry of what can be done by a key: bindings, hints, help and palette all come from here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from textual.binding import Binding, BindingType

PAGES = ("tonight", "army", "dates", "backlog", "pace")
"""Screens that are always one key away."""


class Action(NamedTuple):
    """Something a person can do."""

    name: str
    """Name of its method on a screen, and its name in the settings."""
    keys: str
    """Keys as the framework calls them, the first one shown; empty = only from the palette."""
    words: str
    """What it does, for help and palette."""
    hint: str = ""
    """One word for the last line; empty = not there."""
    where: tuple[str, ...] = ()
    """Screens it belongs to; none = all of them."""

    @property
    def key(self) -> str:
        """The key that is shown."""
        return self.keys.partition(",")[0]


_HERE = {page: f"go('{page}')" for page in PAGES}
ACTIONS: tuple[Action, ...] = (
    Action("write", "e", "Write down what you did", "write"),
    Action("lamp", "l", "Light the lamp, or put it out and say what was done", "lamp"),
    Action("take_up", "enter", "Write down the step under the cursor", "take up", ("tonight",)),
    Action("minutes", "m", "Say how many minutes you have: what can be finished?", "minutes", ("tonight",)),
    Action("sheet", "o", "Open the sheet of the unit under the cursor", "sheet", ("tonight", "dates")),
    Action("sheet", "enter,o", "Open the sheet of the unit under the cursor", "sheet", ("army",)),
    Action("say_done", "x", "Done: the models you marked, or the cell under the cursor", "done", ("unit",)),
    Action("say_in_hand", "h", "In hand: begun and not finished", "in hand", ("unit",)),
    Action("say_not_yet", "full_stop", "Not yet: takes a mistake back", "not yet", ("unit",)),
    Action("say_skipped", "minus", "Skipped: this model goes without the step", "skip", ("unit",)),
    Action("range", "v", "Begin or end a range of models", "range", ("unit",)),
    Action("all_models", "asterisk", "All models of the unit", "all", ("unit",)),
    Action("name_model", "n", "Give the model a name", "name", ("unit",)),
    Action("model_part", "m", "Say which part it is (rider, mount)", "", ("unit",)),
    Action("model_note", "N", "Write a note on the model", "", ("unit",)),
    Action("add_step", "plus", "Put a step on the route of the models you marked", "", ("unit",)),
    Action("drop_step", "D", "Take the step under the cursor off the route", "", ("unit",)),
    Action("finish_line", "f", "Make the step under the cursor the finish line", "", ("unit",)),
    Action("why", "w", "Why the step takes as long as it does", "why", ("unit",)),
    Action(
        "what_if",
        "w",
        "Ask what if: an evening more, another order, a unit less",
        "what if",
        ("dates", "whatif"),
    ),
    Action("sort", "s", "Sort by another column", "sort", ("army",)),
    Action("filter", "slash", "Show only units with these letters in their name", "filter", ("army",)),
    Action("fold", "f", "Fold or unfold the army", "fold", ("army",)),
    Action("add_unit", "n", "Put a new unit on the desk", "new", ("army", "first")),
    Action("add_models", "plus", "Models that came in for the unit", "", ("army",)),
    Action("earlier", "K", "Do this unit earlier", "", ("army",)),
    Action("later", "J", "Do this unit later", "", ("army",)),
    Action("rename", "r", "Give the unit another name", "", ("army", "unit")),
    Action("goal", "g", "Set the day it is wanted for", "", ("army", "unit")),
    Action("split", "x", "Split models off into a unit of their own", "", ("army",)),
    Action("merge", "M", "Merge the unit into another", "", ("army",)),
    Action("retire", "X", "The unit leaves: sold, given away or broken", "", ("army",)),
    Action("to_spares", "S", "The models you marked become spares", "", ("unit",)),
    Action("role", "enter,g", "A unit takes the spare under the cursor", "give a role", ("spares",)),
    Action("new_spares", "n", "Spares come in: how many, what, and where they lie", "new", ("spares",)),
    Action("filter_spares", "slash", "Show only spares with these words", "filter", ("spares",)),
    Action("roles", "m", "Roles, and the spares that would stand best in them", "match", ("spares",)),
    Action("fill", "enter,g", "The spare under the cursor takes the role", "fill", ("roles",)),
    Action("fill_stand_in", "s", "It takes the role for an evening: a stand-in", "stand-in", ("roles",)),
    Action("fill_for_good", "c", "It takes the role for good: converted for it", "for good", ("roles",)),
    Action("new_role", "n", "Plan a role: a place in a unit that a model is wanted for", "new", ("roles",)),
    Action("free", "f", "The role waits again; its model goes back to the spares", "free", ("roles",)),
    Action("drop_role", "X", "Give up the role under the cursor", "", ("roles",)),
    Action("open_recipe", "enter,o", "Open the recipe under the cursor", "open", ("recipes",)),
    Action("new_recipe", "n", "Write a recipe down: its name, then its steps", "new", ("recipes",)),
    Action("filter", "slash", "Show only recipes with these letters", "filter", ("recipes",)),
    Action("change_area", "c", "Say an area anew: a new version is written", "change", ("recipe",)),
    Action("older", "v", "The version before this one", "older", ("recipe",)),
    Action("newer", "w", "The version after this one", "newer", ("recipe",)),
    Action("copy_recipe", "y", "Copy it as a variant", "copy", ("recipes", "recipe")),
    Action("use_recipe", "g", "Say which unit or army is painted with it", "use", ("recipes", "recipe")),
    Action("paint_out", "o", "The paint under the cursor ran out", "paint out", ("recipe",)),
    Action("unit_recipes", "c", "What the unit is painted with", "", ("unit",)),
    Action("cut", "enter,c", "What would keep the goal under the cursor", "what would keep it", ("goals",)),
    Action("set_goal", "n", "Set a goal: a day, a name, and what is to be ready", "new", ("goals",)),
    Action("drop_goal", "X", "Give up the goal under the cursor", "give up", ("goals",)),
    Action("say_plan", "n", "Say which evenings you mean to come, or when you are away", "new", ("plans",)),
    Action("drop_plan", "X", "Give up the plan under the cursor", "give up", ("plans",)),
    Action(
        "ranks", "F", "How the unit ranks up: who stands where, fillers, the tray", "ranks", ("unit", "army")
    ),
    Action("plan", "n", "Plan who should stand where; again: the order as it stands", "plan", ("ranks",)),
    Action("fits", "f", "The joint in hand fits", "fits", ("ranks",)),
    Action("clashes", "m", "The joint in hand clashes by so many mm", "mm", ("ranks",)),
    Action("say_joint", "c", "Say of any joint what you found: B1-C1 fits, or the mm", "", ("ranks",)),
    Action("next_joint", "j,tab", "Another joint first", "", ("ranks",)),
    Action("keep", "k", "Keep the plan: the unit stands like this from now on", "keep", ("ranks",)),
    Action("measure", "r", "What a ruler says of the model under the cursor", "measure", ("ranks",)),
    Action("hold", "h", "A place the model under the cursor keeps, or free again", "hold", ("ranks",)),
    Action("turns", "o", "How the model under the cursor may be turned", "", ("ranks",)),
    Action("exchange", "x", "Mark the model; on another place they change places", "change", ("ranks",)),
    Action("filler", "plus", "A filler with its front left corner under the cursor", "", ("ranks",)),
    Action("clear", "X", "The larger base under the cursor goes", "", ("ranks",)),
    Action("sizes", "z", "How much room the unit and its tray take", "size", ("ranks",)),
    Action("set_ranks", "s", "Say files, ranks and base", "", ("ranks",)),
    Action("set_target", "enter,t", "Say how many points the list is meant to have", "target", ("money",)),
    Action("note_deal", "n", "Note what came in or went out, and its money", "note", ("money",)),
    Action("photos", "V", "Photos of the unit, before and after", "photos", ("unit", "army")),
    Action("add_photo", "n", "Add a photo: its file, and the step it shows the end of", "new", ("photos",)),
    Action("photo_out", "o", "Write the photo under the cursor to a file", "copy out", ("photos",)),
    Action("drop_photo", "X", "Forget the photo under the cursor", "forget", ("photos",)),
    Action("curing", "c", "What cures until when: timers, and waits of your own", "", ("tonight",)),
    Action("cured", "enter,x", "It is dry: the timer or step under the cursor", "dry", ("curing",)),
    Action("begin_cure", "n", "Begin a timer for something that cures", "timer", ("curing",)),
    Action("own_wait", "w", "Your own usual wait for the step under the cursor", "wait", ("curing",)),
    Action("record", "r", "What past estimates came to", "track record", ("pace",)),
    Action("demo", "y", "See the demo: an invented army, away from your own log", "demo", ("first",)),
    Action("bring_in", "i", "Bring in a roster or an evening sheet", "bring in", ("first", "army")),
    Action("go('tonight')", "t", "Tonight: what can be worked on", "tonight"),
    Action("go('army')", "a", "The army: every unit and what is left", "army"),
    Action("go('dates')", "d", "The dates: when units are table-ready", "dates"),
    Action("go('backlog')", "b", "The backlog: how it moved and when it ends", "backlog"),
    Action("go('pace')", "p", "Your pace: the minutes learned from you", "pace"),
    Action("money", "P", "Points and money: the list and its target, costs, month by month"),
    Action("spares", "S", "The spares: models without a role"),
    Action("recipes", "C", "The recipes: what was painted with what"),
    Action("goals", "G", "Goals: their chances, and what would keep them"),
    Action("plans", "E", "Your plans: evenings to come, and days away"),
    Action("cautions", "exclamation_mark", "What can hurt, and one thing to do about it"),
    Action("undo", "u", "Take back the last change", "undo"),
    Action("redo", "U", "Bring back what was taken back", ""),
    Action("rest", "R", "Rest the lamp, or go on"),
    Action("lamp_since", "B", "Light the lamp as of an earlier time"),
    Action("lamp_forget", "", "Forget the lamp: this session did not happen"),
    Action("look", "T", "Another look: night, day, stark"),
    Action("back", "escape,backspace", "Back to the page before"),
    Action("quit", "q", "Close; what is half typed is kept"),
)
HELP = Action("help", "question_mark,f1", "Help for this screen", "help")
_SIGNS = {
    "question_mark": "?", "exclamation_mark": "!", "slash": "/", "full_stop": ".", "minus": "-", "plus": "+",
    "asterisk": "*",
    "enter": "Enter", "escape": "Esc", "space": "Space", "backspace": "Backspace",
}  # fmt: skip


def actions_on(page: str) -> list[Action]:
    """What can be done on a screen: its own things first, then what can be done everywhere."""
    own = [action for action in ACTIONS if page in action.where]
    taken = {key for action in own for key in action.keys.split(",") if key}
    return [
        *own,
        *(a for a in (*ACTIONS, HELP) if not a.where and a.name != f"go('{page}')" and a.key not in taken),
        *(a for a in ACTIONS if not a.where and a.key in taken and a.key),
    ]


def action_id(action: Action) -> str:
    """Its name in the settings: letters and underscores."""
    return action.name.replace("go('", "go_").replace("')", "")


def bindings(actions: Iterable[Action]) -> list[BindingType]:
    """The actions as bindings that the settings can put on other keys."""
    return [
        Binding(action.keys, action.name, action.words, show=False, id=action_id(action))
        for action in actions
        if action.keys
    ]


def common_bindings() -> list[BindingType]:
    """Bindings of every screen."""
    return bindings(action for action in (*ACTIONS, HELP) if not action.where)


def own_bindings(page: str) -> list[BindingType]:
    """Bindings that only one screen has."""
    return bindings(action for action in ACTIONS if page in action.where)


def shown_key(key: str) -> str:
    """A key as people read it."""
    return _SIGNS.get(key, key.replace("ctrl+", "^").replace("shift+", "⇧"))


def key_of(action: Action, keymap: Mapping[str, str]) -> str:
    """The key that does it now, as it is shown."""
    return shown_key(keymap.get(action_id(action), action.keys).partition(",")[0])
