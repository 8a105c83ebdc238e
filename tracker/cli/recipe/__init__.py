"""`lastcoat recipe`: what was painted with what; each act is a command of its own."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "list": ("look", "Every recipe with its newest version and who is painted with it."),
    "show": ("look", "One recipe step by step, or what a unit is painted with."),
    "add": ("say", "Write a recipe down."),
    "change": ("say", "A new version: other steps on some areas, another primer."),
    "step": ("step", "One step with all its details, in, otherwise or out."),
    "copy": ("say", "A variant: a copy with a change."),
    "from": ("use", "A recipe from the notes of a unit's evenings."),
    "use": ("use", "Say which unit or army is painted with it."),
    "unuse": ("use", "A unit or army no longer goes by it."),
    "rename": ("say", "Another name."),
    "drop": ("say", "Take a recipe out that nothing is painted with."),
    "sheet": ("sheet", "One recipe as a page to print."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "What was painted with what, in your own words. A change makes a new version; a unit keeps the one "
        "it was painted with.",
        'lastcoat recipe add "Red cloaks" "cloth: dark red, wash, mid red 2:1 water"',
        'lastcoat recipe use "Red cloaks" --unit Spears',
        "lastcoat recipe show --unit Spears",
    ),
)
