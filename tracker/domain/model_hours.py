"""Hours by model: a line's known minutes shared equally among the models it moved on.

A line that names none is shared among all models of its unit. So hours follow a model to another unit.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from tracker.domain.records import Records
from tracker.domain.work import minute_shares


class Hours(NamedTuple):
    """Known minutes by model, those of units that have no models, and lines without any by unit."""

    of_model: Mapping[int, float]
    of_unit: Mapping[int, float]
    untimed: Mapping[int, int]


def hours_of(known: Records) -> Hours:
    """Every line's minutes at the models it moved on."""
    everyone: dict[int, list[int]] = {}
    for model in known.models:
        if model.unit_id is not None:
            everyone.setdefault(model.unit_id, []).append(model.id)
    there = {model.id for model in known.models}
    shares = minute_shares(known.lines, known.sessions)
    of_model: dict[int, float] = {}
    of_unit: dict[int, float] = {}
    untimed: dict[int, int] = {}
    for line in known.lines:
        minutes = shares[line.id]
        models = [model for model in line.model_ids if model in there] or everyone.get(line.unit_id, [])
        if minutes is None:
            untimed[line.unit_id] = untimed.get(line.unit_id, 0) + 1
        elif not models:
            of_unit[line.unit_id] = of_unit.get(line.unit_id, 0.0) + minutes
        else:
            for number in models:
                of_model[number] = of_model.get(number, 0.0) + minutes / len(models)
    return Hours(of_model, of_unit, untimed)
