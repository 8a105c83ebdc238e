"""Models without a unit: kept, but no backlog."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.records import Records


class Spare(NamedTuple):
    """A model without a unit."""

    number: int
    kind: str
    name: str
    note: str
    added_on: date


def spares_of(records: Records) -> tuple[Spare, ...]:
    """Models without a unit that have not left, by number."""
    spares = [model for model in records.models if model.unit_id is None and model.left_on is None]
    return tuple(
        Spare(model.number, model.kind, model.name, model.note, model.added_on)
        for model in sorted(spares, key=lambda model: model.number)
    )
