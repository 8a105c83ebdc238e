"""What a person wishes were otherwise, to see what it would do to the dates. Nothing of it is stored.

A unit is meant by its name; the army is only needed where two armies have a unit of that name.
"""

from __future__ import annotations

from datetime import date
from typing import NamedTuple


class First(NamedTuple):
    """A unit is done before all others."""

    unit: str
    army: str = ""


class InOrder(NamedTuple):
    """These units are done first, in this order; the others follow as they stand."""

    units: tuple[tuple[str, str], ...]
    """(unit, army); the army may be empty."""


class MoreEvenings(NamedTuple):
    """So many evenings more in every week that one is at it; below 0 = fewer."""

    a_week: float


class Away(NamedTuple):
    """No evening from the first to the last of these days."""

    first: date
    last: date


class OnlyModels(NamedTuple):
    """A unit has so many models and no more."""

    unit: str
    models: int
    army: str = ""


class FewerModels(NamedTuple):
    """A unit has so many models fewer than it has."""

    unit: str
    fewer: int
    army: str = ""


class Filler(NamedTuple):
    """A piece of scenery stands in a unit in place of so many models."""

    unit: str
    instead_of: int
    army: str = ""


class AtStandard(NamedTuple):
    """A unit is painted to another standard."""

    unit: str
    standard: str
    army: str = ""


class Without(NamedTuple):
    """A unit is left out."""

    unit: str
    army: str = ""


class NewUnit(NamedTuple):
    """A unit comes on the desk, after all others."""

    unit: str
    models: int
    kind: str = "infantry"
    material: str = "plastic"
    standard: str = "table-top"
    army: str = ""


UnitWish = First | OnlyModels | FewerModels | Filler | AtStandard | Without | NewUnit
"""A wish about one unit."""
Wish = UnitWish | InOrder | MoreEvenings | Away
