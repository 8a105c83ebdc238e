"""What is noted of a spare, and the roles that wait for one."""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

SPARE_STATES = ("bare", "built", "primed", "begun", "painted")
"""How far a spare has come; its own marks and lines say more where there are any."""
StandIn = Literal["", "stand-in", "for good"]
"""How a model fills a role: as meant; for an evening; converted for good."""


class Keeping(NamedTuple):
    """What is noted of a model that is kept without a role (or was)."""

    id: int
    model_id: int
    height_mm: float | None = None
    """From base to top of head."""
    material: str = ""
    base: str = ""
    """As the person wrote it; read it with `bases.parse_base`."""
    state: str = ""
    place: str = ""
    """Where it lies: "drawer 2"."""
    tags: tuple[str, ...] = ()
    """The person's own words for it: "spear", "shield", "kneeling"."""


class Role(NamedTuple):
    """A place in a unit that a model is wanted for, or that one has taken."""

    id: int
    unit_id: int
    name: str
    kind: str = ""
    """Empty = the unit's."""
    base: str = ""
    """Empty = the unit's."""
    height_mm: float | None = None
    tags: tuple[str, ...] = ()
    model_id: int | None = None
    """Who has it; none = nobody yet."""
    stand_in: str = ""
    """How its model fills it, see `StandIn`."""
    added_on: date = date(1970, 1, 1)
