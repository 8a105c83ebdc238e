"""`lastcoat spare`: models without a role, what they look like and where they lie."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every spare, or those with some words."),
    "find": ("look", "The spares most like what you describe."),
    "add": ("say", "Bring spares in."),
    "note": ("say", "Note what they look like, where they lie."),
    "take": ("say", "A unit takes spares."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "Models without a role: kept, and no backlog until a unit takes them.",
        'lastcoat spare add 12 --name spearman --base 20x20 --place "drawer 2"',
        "lastcoat spare show drawer",
        "lastcoat spare find --base 20x20 --tag spear",
        "lastcoat spare take 1-2 --unit Spears",
    ),
)
