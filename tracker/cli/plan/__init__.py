"""`lastcoat plan`: evenings to come, as the person means them; each act is a command of its own."""

from __future__ import annotations

from tracker.cli.acts import acts_of
from tracker.cli.common import help_text

ACTS: dict[str, tuple[str, str]] = {
    "evenings": ("say", 'Recurring evenings, such as "every Tuesday and Thursday".'),
    "once": ("say", "One evening, or a long day at the desk."),
    "away": ("say", "Days away: none is expected, and none is missed."),
    "show": ("look", "What is planned, and how well plans were kept."),
    "drop": ("look", "Take one plan back, by its number."),
}
"""Name of an act -> its module in this folder and its line in the help."""


command = acts_of(
    __name__,
    ACTS,
    help_text(
        "Evenings to come as you mean them. The dates take them as a hint, and rest on what happened.",
        'lastcoat plan evenings "every Tuesday and Thursday"',
        "lastcoat plan once 2027-03-06 --minutes 240",
        "lastcoat plan away 2027-04-01 2027-04-10",
        "lastcoat plan show",
    ),
)
