"""`lastcoat source`: where things came from, where they went, what they cost; each act is a command."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every deal, the newest first."),
    "costs": ("look", "What each unit cost, in money and in hours."),
    "months": ("look", "What came in and went out, month by month."),
    "add": ("say", "Note what came in or went out."),
    "set": ("say", "Say a deal otherwise."),
    "drop": ("say", "Forget a deal."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "Where models and other things came from or went to, and what they cost. Money keeps its currency; "
        "two currencies are never added up.",
        'lastcoat source add bought --unit Spears --cost "12.50 EUR"',
        "lastcoat source show",
        "lastcoat source costs",
    ),
)
