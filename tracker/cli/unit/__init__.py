"""`lastcoat unit`: the care of units and their models; each act is a command of its own."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "A unit's sheet: models down, steps across."),
    "spares": ("look", "Models without a unit."),
    "rename": ("plan", "Call it otherwise, or let it join another army."),
    "set": ("plan", "Goal, date, standard, finish line and the rest of the plan."),
    "move": ("plan", "Earlier or later in the order, or to a place of it."),
    "split": ("shape", "Models become a unit of their own."),
    "merge": ("shape", "It joins another unit."),
    "retire": ("shape", "All its models leave."),
    "spare": ("shape", "Models become spares."),
    "role": ("shape", "Spares join a unit."),
    "model": ("models", "A name, a note, a part for its models."),
    "skip": ("models", "Models go without a step."),
    "step": ("models", "A step for some of its models only."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "The care of units: their plan, their place, their models.",
        "lastcoat unit show Spears",
        "lastcoat unit set Spears --goal-date 2027-05-01 --goal tournament",
        'lastcoat unit split Spears --models "last 8" --new "Old Spears"',
    ),
)
