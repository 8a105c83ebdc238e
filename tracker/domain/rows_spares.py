"""Rows of the sheets of spares and of roles."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple


class SpareRow(NamedTuple):
    """A spare, or several that are alike, as a row of a sheet tells it."""

    number: int | None = None
    """The one with this number; None = those with all the same words, else new ones."""
    models: int = 1
    """How many; only a row without a number may say more than one."""
    name: str = ""
    kind: str = ""
    part: str = ""
    base: str = ""
    height_mm: float | None = None
    material: str = ""
    state: str = ""
    place: str = ""
    tags: tuple[str, ...] = ()
    note: str = ""
    added: date | None = None
    row: int = 0


class RoleRow(NamedTuple):
    """A role as a row of a sheet tells it."""

    unit: str
    role: str
    army: str = ""
    """Empty = there is only one unit of that name."""
    kind: str = ""
    base: str = ""
    height_mm: float | None = None
    tags: tuple[str, ...] = ()
    model: int | None = None
    """Number, in its unit, of the model that has the role; None = nobody yet."""
    stand_in: str = ""
    added: date | None = None
    row: int = 0
