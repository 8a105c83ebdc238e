"""`lastcoat paint`: the paints of your recipes, by your own words; each act is a command of its own."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "list": ("look", "Every paint that a recipe names, and which are out."),
    "needs": ("look", "Which units still need a paint, and about how much work that is."),
    "out": ("say", "A paint ran out."),
    "back": ("say", "It is there again."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "The paints of your recipes, by your own words for them.",
        "lastcoat paint list",
        'lastcoat paint out "dark red" --use "mid red"',
        'lastcoat paint needs "dark red"',
    ),
)
