"""Which screens are shown in the pages, how one gets there, and what is told about them."""

from __future__ import annotations

from typing import NamedTuple

SMALL, LARGE = (80, 24), (140, 40)


class Screen(NamedTuple):
    """A screen that is shown."""

    name: str
    """Name of its file in docs/screens/."""
    title: str
    words: str
    """What is told about it, each line at most 110 columns."""
    command: str
    """What does or prints the same as plain text."""
    keys: tuple[str, ...] = ()
    """What is pressed after opening."""
    size: tuple[int, int] = SMALL
    look: str = "night"
    later: tuple[str, ...] | None = None
    """What is pressed three quarters of an hour later; None = it is looked at at once."""
    on_empty_log: bool = False


_LEFT_OFF = ("e", "4", "5")
SCREENS: tuple[Screen, ...] = (
    Screen(
        "first",
        "An empty desk",
        """\
The first time there is nothing to show, so three ways in are offered: a first unit, written as in
"20 Spears"; the demo, in a folder of its own; or a sheet that you have.""",
        "lastcoat add --unit Spears --models 20",
        on_empty_log=True,
    ),
    Screen(
        "tonight",
        "Tonight",
        """\
Where you left off, what can be taken up now, what is drying and until when, the unit nearest its finish
line, the next goal with its chance. Earlier steps and waits are looked after: what stands there can be
begun.""",
        "lastcoat tonight",
    ),
    Screen(
        "minutes",
        "I have 45 minutes",
        """\
`m` asks how long you have, and ranks what can be *finished* in that time, setting up included: how many
models, how long they take you, and how often that would fit.""",
        "lastcoat tonight 45",
        ("m", "4", "5", "enter"),
    ),
    Screen(
        "entry",
        "The entry line",
        """\
It lies at the foot of every screen, and `e` opens it with the line you left off: type the minutes and press
Enter. Or begin a sentence of your own, its words in any order, with a slip of the finger or two; it is
understood among your own units and steps. What would be stored stands under the line before it is stored.
The arrows turn to another step, Tab to another unit. Leave it half typed, and it is there next time.""",
        'lastcoat log --dry-run "freehand 1 Old Pondback, 45 min"',
        _LEFT_OFF,
    ),
    Screen(
        "stored",
        "What it bought",
        """\
Enter stores the line, and says what it bought. `u` takes it back, whole; `U` brings it back.""",
        'lastcoat log "freehand 1 Old Pondback, 45 min"',
        (*_LEFT_OFF, "enter"),
    ),
    Screen(
        "lamp",
        "The lamp",
        """\
The lamp is the stopwatch of an evening. `l` lights it: the session is on disk at once, survives whatever
happens to the terminal, and runs past midnight. `R` lets it rest, `B` lights it as of an earlier time.""",
        "lastcoat lamp",
        ("l",),
        look="stark",
        later=(),
    ),
    Screen(
        "lamp_out",
        "The lamp goes out",
        """\
`l` again puts it out and asks what was done, the minutes filled in. Was it left on? Then it asks when you
really stopped.""",
        "lastcoat lamp off",
        ("l",),
        look="stark",
        later=("l",),
    ),
    Screen(
        "unit",
        "A unit's sheet",
        """\
Its models down, its steps across, a letter in every cell; the finish line is the stroke. Mark one model, a
range (`v`) or all (`*`), and mend what is wrong. `w` tells why a step takes you as long as it does.""",
        'lastcoat unit show "Orchard Bows"',
        ("a", *["down"] * 6, "enter", "right", "right", "v", "down", "down"),
    ),
    Screen(
        "ranks",
        "The ranks",
        """\
`F` shows how the unit under the cursor stands shoulder to shoulder. `n` plans who should stand where; it asks
for the joints it is unsure of, one by one: `f` says that they fit, `m` by how many mm they do not, and the
plan follows; `c` says of any other joint what you found. `k` keeps the plan. `r` takes a ruler's numbers, `h`
holds a model at its place, `x` lets two change places, `+` puts a filler there. "?" is only claimed, "!" was
found by hand. See [The ranks](ranks.md).""",
        "lastcoat ranks plan Beekeepers",
        ("a", *["down"] * 9, "F", "n"),
    ),
    Screen(
        "army",
        "The army",
        """\
Every unit with what is left, its dates, the chance of its goal, and its steps as a bar. `s` sorts, `/` finds
names, `f` folds an army, `S` shows the spares. From here units are added, split, merged, put in another
order, retired.""",
        "lastcoat army",
        ("a",),
    ),
    Screen(
        "dates",
        "The dates",
        """\
A range of dates for every unit, and the fan of the coming months: how many models are not table-ready yet. In
a small terminal the fan is further down.""",
        "lastcoat forecast --fan",
        ("d",),
        LARGE,
    ),
    Screen(
        "backlog",
        "The backlog",
        """\
The hours left over time, what came in, was finished and went elsewhere, and the evenings of the past
weeks.""",
        "lastcoat backlog --evenings",
        ("b",),
        LARGE,
        "day",
    ),
    Screen(
        "pace",
        "Your pace",
        """\
Minutes per model of every step as a range, and how far each is learned from you. `r` holds past estimates
against what came of them.""",
        "lastcoat pace",
        ("p",),
    ),
    Screen(
        "recipe",
        "A recipe",
        """\
`C` lists the recipes, `c` on a unit those it was painted with. Enter opens one: areas, paints in your own
words, mixes, swatches, how sure you are. `c` changes it, which makes a new version; `v` and `w` leaf through
them; `y` copies it as a variant, `g` lets a unit use it, `o` notes that a paint ran out.""",
        'lastcoat recipe show "Mill cloth"',
        ("C", "down", "down", "enter"),
    ),
    Screen(
        "roles",
        "Spares and roles",
        """\
`S` lists the spares, `m` the open roles with the spares that would stand best in them, and why. Enter lets
the spare under the cursor take the role, `s` as a stand-in, `c` for good.""",
        "lastcoat role match",
        ("S", "m"),
    ),
    Screen(
        "money",
        "Points and money",
        """\
`P` shows what the list is worth and when it reaches its target, what units cost in money and hours, and what
came in and went out month by month. `n` notes a deal in one line, `t` sets the target.""",
        "lastcoat source costs",
        ("P",),
        LARGE,
    ),
    Screen(
        "cautions",
        "Cautions",
        """\
`!` on any screen shows what to mind with the unit or step under the cursor.""",
        'lastcoat caution "Old Pondback"',
        ("exclamation_mark",),
    ),
    Screen(
        "help",
        "Help",
        """\
`?` on any screen lists what can be done there. Ctrl-P finds everything by a few letters of its name.""",
        "lastcoat keys",
        ("question_mark",),
        look="day",
    ),
)
"""In the order of the tour."""
