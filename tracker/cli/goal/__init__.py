"""`lastcoat goal`: what must be table-ready by a day; each act is a command of its own."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every goal: its chance, its days, when to begin."),
    "cut": ("look", "What could stay undone so that a goal is kept."),
    "pick": ("look", "The units worth most points by a day."),
    "add": ("say", "Set a goal: units, a number of models, or points."),
    "set": ("say", "Another day, name or size."),
    "drop": ("say", "Give a goal up."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "What must be table-ready by a day, and how it stands.",
        'lastcoat goal add "Spring game" 2027-03-13 --unit Spears --unit Riders',
        "lastcoat goal show",
        'lastcoat goal cut "Spring game"',
        "lastcoat goal pick 2027-03-13",
    ),
)
