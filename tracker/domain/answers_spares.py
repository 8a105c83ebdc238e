"""What is answered about spares and roles."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.matching import Fit, Wish
from tracker.domain.spares import Spare


class SparesAnswer(NamedTuple):
    """Spares, all or those that were asked for."""

    as_of: date
    spares: tuple[Spare, ...]
    kept: int
    """How many there are in all."""


class RoleStanding(NamedTuple):
    """A role, and who has it."""

    army: str
    unit: str
    role: str
    wish: Wish
    """What it asks, the unit's base and kind where it has none of its own."""
    model: int | None
    """Number, in the unit, of the model that has it; None = nobody yet."""
    model_name: str
    stand_in: str
    added_on: date


class RolesAnswer(NamedTuple):
    """Roles, all or those of one unit, by army, unit and age."""

    as_of: date
    roles: tuple[RoleStanding, ...]


class Offer(NamedTuple):
    """A spare for a role, and how well it would do."""

    spare: Spare
    """The one with the lowest number of those that are alike."""
    alike: int
    """How many spares are alike in all that is compared, itself among them."""
    fit: Fit


class RoleMatch(NamedTuple):
    """The best spares for one open role."""

    role: RoleStanding
    offers: tuple[Offer, ...]
    """Best first."""
    also_best_for: tuple[str, ...] = ()
    """Other open roles for which the first offer is best too, where it cannot serve all."""


class MatchAnswer(NamedTuple):
    """Every open role that was asked for with the best spares for it."""

    as_of: date
    roles: tuple[RoleMatch, ...]
    spares: int
    """How many were looked at."""
    looks: int
    """How many different ones there are among them: each was judged once for a role."""
