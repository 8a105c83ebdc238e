"""A short vocabulary for making records, lines and blocks in tests.

    log_of(evening(did("spears", "assembly", 5, 40)), evening(did("riders", "shade"), minutes=30))

is a log of two evenings, the first with a timed line, the second of which only the total is known.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

import numpy as np

from tracker.domain.answers import PlannedLine
from tracker.domain.records import Army, Line, Model, Records, Session, Unit
from tracker.pace.blocks import Block
from tracker.pace.priors import Priors, expected_log_minutes

FIRST_EVENING = date(2024, 1, 2)
STEPS = ("cleaning", "assembly", "base colours", "shade", "highlights")
UNITS = ("spears", "riders", "bows", "axes")


class Did(NamedTuple):
    """One line of an evening, in words."""

    unit: str
    step: str
    models: int = 5
    minutes: float | None = None
    finished: bool = True
    guess_minutes: float | None = None


class Evening(NamedTuple):
    """Lines of one session, and its total where it was told."""

    lines: tuple[Did, ...]
    minutes: float | None = None


def did(
    unit: str,
    step: str,
    models: int = 5,
    minutes: float | None = None,
    *,
    finished: bool = True,
    guess_minutes: float | None = None,
) -> Did:
    """A line: a step on some models of a unit."""
    return Did(unit, step, models, minutes, finished, guess_minutes)


def evening(*lines: Did, minutes: float | None = None) -> Evening:
    """An evening of these lines; `minutes` is the session's total."""
    return Evening(lines, minutes)


def log_of(*evenings: Evening, kinds: Mapping[str, str] | None = None) -> Records:
    """Records of evenings one day apart, in one army, with 40 models to every unit."""
    names = list(dict.fromkeys(line.unit for each in evenings for line in each.lines))
    units = [
        Unit(i, 1, name, (kinds or {}).get(name, "infantry"), added_on=FIRST_EVENING)
        for i, name in enumerate(names, 1)
    ]
    id_of = {unit.name: unit.id for unit in units}
    pairs = [(number, line) for number, each in enumerate(evenings, 1) for line in each.lines]
    return Records(
        armies=(Army(1, "host"),),
        units=tuple(units),
        models=tuple(Model(100 * unit.id + n, unit.id, n) for unit in units for n in range(1, 41)),
        sessions=tuple(
            Session(number, FIRST_EVENING + timedelta(days=number - 1), minutes=each.minutes)
            for number, each in enumerate(evenings, 1)
        ),
        lines=tuple(
            Line(i, number, id_of[x.unit], x.step, x.models, x.minutes, x.finished, x.guess_minutes)
            for i, (number, x) in enumerate(pairs, 1)
        ),
    )


def planned(
    unit: str = "spears", step: str = "base colours", models: int = 5, done_before: int = 0
) -> PlannedLine:
    """Infantry of plastic at table-top standard."""
    return PlannedLine("host", unit, step, models, done_before=done_before)


def timed(line: PlannedLine, minutes: float, evening_number: int = 0) -> Block:
    """A block of one line."""
    return Block((line,), minutes, evening_number)


def steady_blocks(
    lines: int,
    rng: np.random.Generator,
    *,
    factor: float = 1.0,
    spread: float = 0.3,
    steps: Sequence[str] = STEPS,
    units: Sequence[str] = UNITS,
) -> list[Block]:
    """Timed lines, two an evening, of a person who takes `factor` times the trade's minutes.

    Log minutes scatter by `spread`; steps and units take turns, so that each is met as often as the others.
    """
    out = []
    for i in range(lines):
        line = planned(units[(i // len(steps)) % len(units)], steps[i % len(steps)], int(rng.integers(3, 9)))
        mean = expected_log_minutes(line, Priors()) + math.log(factor)
        out.append(timed(line, float(np.exp(mean + spread * rng.standard_normal())), i // 2))
    return out
