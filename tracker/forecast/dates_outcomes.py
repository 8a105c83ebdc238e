"""What became of units: the day on which the models that were open on some day were ready or gone."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from datetime import date
from typing import NamedTuple

from tracker.domain.progress import finish_steps
from tracker.domain.records import Records
from tracker.forecast.course import moves_of


class Closing(NamedTuple):
    """A model stops being backlog: its last step is behind it, or it left before that."""

    date: date
    finished: bool


Closings = Mapping[int, tuple[Closing, ...]]
"""By model id, in order; more than one where a step was taken back in between."""


def closings_of(records: Records) -> Closings:
    """Every closing of every model that has a unit."""
    units = {unit.id: unit for unit in records.units}
    steps = {unit.id: frozenset(finish_steps(unit)) for unit in records.units}
    unit_of = {model.id: model.unit_id for model in records.models}
    still: dict[int, set[str]] = {}
    out: dict[int, list[Closing]] = {}
    for move in sorted(moves_of(records, units)):
        if move.order == 0:
            still[move.model_id] = set(steps[unit_of[move.model_id] or 0])
            continue
        left = still[move.model_id]
        if move.opened:
            left.add(move.step)
            continue
        was_open = bool(left)
        left.difference_update((move.step,) if move.order == 1 else tuple(left))
        if was_open and not left:
            out.setdefault(move.model_id, []).append(Closing(move.date, move.order == 1))
    return {model: tuple(found) for model, found in out.items()}


def closed_after(closings: Closings, models: Iterable[int], day: date) -> Closing | None:
    """When the last of the models, all open on the evening of `day`, was ready or gone; None = not yet.

    A model that left is waited for no longer. `finished` is False when all of them left unfinished.
    """
    found = []
    for model in models:
        mine = closings.get(model, ())
        place = bisect_right(mine, day, key=lambda closing: closing.date)
        if place == len(mine):
            return None
        found.append(mine[place])
    last = max((closing.date for closing in found), default=day)
    return Closing(last, any(closing.finished for closing in found))
