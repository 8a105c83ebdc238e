"""`lastcoat role`: places in a unit that a model is wanted for, and the spares that would do."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "show": ("look", "Every role and who has it."),
    "match": ("look", "The best spares for each open role."),
    "add": ("say", "Plan roles in a unit."),
    "fill": ("say", "A spare takes a role."),
    "free": ("say", "A role waits again."),
    "drop": ("say", "Give a role up."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "Places in a unit that a model is wanted for. An open role is no model and no backlog.",
        "lastcoat role add Spears captain --base 25x25 --tag sword",
        "lastcoat role match captain",
        "lastcoat role fill captain 3 --stand-in",
    ),
)
