"""The invented army: the muster of Barleywick, a village of millers, beekeepers and ferry folk."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.routes import up_to_finish, usual_route
from tracker.domain.rows import RosterRow

FIRST_DAY = date(2024, 11, 4)
LAST_DAY = date(2026, 10, 31)
"""The day on which the shipped history ends; the demo answers as of it."""
GAME_DAYS = (date(2025, 9, 20), date(2026, 4, 11))
"""Days of a game at the village hall: a burst before, a rest after."""
MUSTER = "Barleywick Muster"
GREEN = "The Village Green"


class Already(NamedTuple):
    """Models that came in with every step up to this one behind them."""

    army: str
    unit: str
    up_to: str
    date: date


class Departure(NamedTuple):
    """Models that left, by their numbers within the unit."""

    army: str
    unit: str
    first: int
    last: int
    how: str
    date: date


ROSTER: tuple[RosterRow, ...] = (
    RosterRow("Mill Spears", 30, MUSTER, 240, base="20x20", files=6, ranks=5, order=1,
              added=date(2024, 11, 2), note="flour sacks on the shields"),
    RosterRow("The Reeve", 1, MUSTER, 95, "character", "metal", "good", base="25x25", order=2,
              added=date(2024, 11, 2), source="swapped for a box of bits"),
    RosterRow("Ferry Riders", 10, MUSTER, 230, "cavalry", base="25x50", files=5, ranks=2, order=3,
              goal_date=date(2027, 3, 13), goal="spring game at the hall", added=date(2024, 12, 21)),
    RosterRow("Weir Keepers", 16, MUSTER, 144, material="metal", base="20x20", files=4, ranks=4, order=4,
              added=date(2025, 5, 10), source="second-hand, came primed"),
    RosterRow("Old Pondback", 1, MUSTER, 210, "monster", "resin", "good", base="50x100", order=5,
              goal_date=date(2027, 3, 13), goal="spring game at the hall", added=date(2025, 8, 2)),
    RosterRow("Orchard Bows", 24, MUSTER, 168, standard="quick", base="20x20", files=6, ranks=4, order=6,
              added=date(2025, 10, 4), note="eight sold on again"),
    RosterRow("Bean Slinger", 1, MUSTER, 110, "war machine", "mixed", base="60x100", order=7,
              added=date(2026, 1, 17)),
    RosterRow("Quarry Hands", 6, MUSTER, 204, "large infantry", "resin", base="40x40", files=3, ranks=2,
              order=8, added=date(2026, 5, 30)),
    RosterRow("Beekeepers", 20, MUSTER, 160, base="20x20", files=5, ranks=4, finish_line="varnish",
              added=date(2026, 9, 12), note="tufts can wait"),
    RosterRow("Toll Bridge and Hedges", 4, GREEN, kind="scenery", material="printed", standard="quick",
              added=date(2025, 6, 7)),
)  # fmt: skip
ALREADY = (Already(MUSTER, "Weir Keepers", "priming", date(2025, 5, 10)),)
DEPARTURES = (Departure(MUSTER, "Orchard Bows", 17, 24, "sold", date(2026, 2, 21)),)


def route_of(row: RosterRow) -> tuple[str, ...]:
    """The whole route of a unit of the roster."""
    ranked = row.files is not None and row.ranks is not None
    return row.steps or usual_route(row.kind, row.standard, row.material, ranked=ranked)


def steps_of(row: RosterRow) -> tuple[str, ...]:
    """The steps up to the unit's finish line."""
    return up_to_finish(route_of(row), row.finish_line)
