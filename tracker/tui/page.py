"""A screen of the program: the frame with everything that can be done on any of them."""

from __future__ import annotations

from functools import partial

from tracker.report.screens.past_words import ASK_UNDO, KEPT_DRAFT, nothing_words
from tracker.tui.lamp_keys import LampKeys
from tracker.workbench.drafts import draft
from tracker.workbench.past import Turned, redo, undo, would_undo


class Page(LampKeys):
    """A screen that reads what it shows, and undoes."""

    seen = -1
    """Which state of the log it shows."""

    def read(self) -> None:
        """Ask the verbs for what the page shows."""

    def dates_arrived(self) -> None:
        """Fresh dates: the page is worded anew."""
        self.draw()

    def on_screen_resume(self) -> None:
        """Back on this screen: the entry line, and fresh lines if anything was stored meanwhile."""
        if self.question is None:
            self.entry.fill(self.lastcoat.draft)
        if not self.lastcoat.draft_is_read:
            self.lastcoat.draft_is_read = True
            self.ask_verb(partial(draft, self.desk), self.draft_arrived, "kept draft")
        if self.seen != self.lastcoat.log_state:
            self.reread()
        self.draw()

    def draft_arrived(self, text: str) -> None:
        """What was half typed when the program was closed, unless something is typed already."""
        if text and not self.entry.line.value:
            self.lastcoat.draft = text
            self.entry.fill(text)
            self.entry.below(KEPT_DRAFT, "quiet")

    def reread(self) -> None:
        """Everything was changed: read it all again."""
        self.seen = self.lastcoat.log_state
        self.read_lamp()
        self.read()

    def action_undo(self) -> None:
        """Take back the last change; one of another day is shown first."""
        self.ask_verb(partial(would_undo, self.desk), self._undo_if_sure, "undo")

    def _undo_if_sure(self, change: Turned | None) -> None:
        if change is None:
            self.entry.below(nothing_words("take back"), "quiet")
        elif change.day_words and self.lastcoat.sure_of != change:
            self.lastcoat.sure_of = change
            self.entry.below(ASK_UNDO.format(change=change.sentence("Would be taken back")), "late")
        else:
            self.ask_verb(partial(undo, self.desk), self._undone, "store", alone=False)

    def _undone(self, change: Turned) -> None:
        self.stored(change.sentence("Taken back") + " U brings it back.")

    def action_redo(self) -> None:
        """Bring back what was taken back."""
        self.ask_verb(partial(redo, self.desk), self._redone, "store", alone=False)

    def _redone(self, change: Turned) -> None:
        self.stored(change.sentence("Brought back"))

    def action_go(self, page: str) -> None:
        """Another page."""
        self.lastcoat.go(page)

    def action_spares(self) -> None:
        """Models without a role."""
        if self.PAGE != "spares":
            self.lastcoat.open("spares")

    def action_recipes(self) -> None:
        """What was painted with what."""
        if self.PAGE != "recipes":
            self.lastcoat.open("recipes")

    def action_goals(self) -> None:
        """What must be ready by when."""
        if self.PAGE != "goals":
            self.lastcoat.open("goals")

    def action_money(self) -> None:
        """What the list is worth, and what it cost."""
        if self.PAGE != "money":
            self.lastcoat.open("money")

    def action_plans(self) -> None:
        """Evenings to come."""
        if self.PAGE != "plans":
            self.lastcoat.open("plans")

    def action_cautions(self) -> None:
        """What can hurt: of the unit and step under the cursor, else all of it."""
        if self.PAGE != "cautions":
            self.lastcoat.open("cautions", *self.about_here())

    def about_here(self) -> tuple[str, str, str]:
        """(unit, army, step) under the cursor, as far as there are any."""
        of_steps = self.PAGE in ("tonight", "dates", "army") and self.rows.key
        key = self.rows.key if of_steps else "\t\t"
        army, unit, step, *_ = key.split("\t")
        here: tuple[str, str] | None = getattr(self, "unit_here", None)
        if here is not None:
            army, unit = here
        return unit, army, getattr(self, "step_here", "") or step

    def action_back(self) -> None:
        """The page before, or the first one."""
        self.lastcoat.back()

    def action_look(self) -> None:
        """Another look."""
        self.lastcoat.next_look()

    def action_help(self) -> None:
        """Help for this screen."""
        self.lastcoat.open("help", self.PAGE, self.TITLE_WORDS, self.TWIN)

    async def action_quit(self) -> None:
        """Close."""
        await self.lastcoat.close_when_stored()
