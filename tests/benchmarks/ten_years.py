"""Ten years at the desk: 150 units of 10 models, 2,500 evenings, 8,000 lines. Invented, from a seed."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import islice
from math import log
from typing import NamedTuple

import numpy as np

from tracker.domain.routes import usual_route
from tracker.domain.rows import EveningRow, RosterRow

FIRST_DAY = date(2016, 11, 1)
DAYS = 3652
UNITS = 150
MODELS = 10
EVENINGS = 2500
LINES = 8000
ROUTE = usual_route("infantry", "table-top")
_AT_ONCE = 3
_TOTAL_ONLY = 0.3
_PAUSE_MINUTES = 5.0


class Decade(NamedTuple):
    """The two sheets of ten years, and the day they end."""

    roster: list[RosterRow]
    evenings: list[EveningRow]
    last_day: date


class Piece(NamedTuple):
    """A line before it has a day."""

    unit: str
    step: str
    models: int
    minutes: float


def ten_years(seed: int = 1) -> Decade:
    """The same seed gives the same ten years."""
    rng = np.random.default_rng(seed)
    last_day = FIRST_DAY + timedelta(days=DAYS - 1)
    names = [f"Unit {number}" for number in range(1, UNITS + 1)]
    pieces = list(islice(_work(names, rng), LINES))
    begun = {piece.unit for piece in pieces}
    roster = [RosterRow(name, MODELS, added=None if name in begun else last_day) for name in names]
    return Decade(roster, list(_evenings(pieces, rng)), last_day)


def _work(names: list[str], rng: np.random.Generator) -> Iterator[Piece]:
    """Lines in the order they are worked: a few units at once, each step by step, in small batches."""
    usual = dict(zip(ROUTE, rng.lognormal(log(6.0), 0.6, len(ROUTE)), strict=True))
    coming = iter(names)
    going = [_unit(name, usual, rng) for name in islice(coming, _AT_ONCE)]
    while going:
        place = int(rng.integers(len(going)))
        piece = next(going[place], None)
        if piece is not None:
            yield piece
            continue
        del going[place]
        going += [_unit(name, usual, rng) for name in islice(coming, 1)]


def _unit(name: str, usual: dict[str, float], rng: np.random.Generator) -> Iterator[Piece]:
    own = rng.lognormal(0.0, 0.2)
    for step in ROUTE:
        left = MODELS
        while left:
            models = min(left, int(rng.integers(1, 4)))
            left -= models
            minutes = models * usual[step] * own * rng.lognormal(0.0, 0.35)
            yield Piece(name, step, models, float(min(max(round(minutes), 1), 240)))


def _evenings(pieces: list[Piece], rng: np.random.Generator) -> Iterator[EveningRow]:
    days = np.sort(rng.choice(DAYS, EVENINGS, replace=False))
    lines = 1 + rng.multinomial(LINES - EVENINGS, np.full(EVENINGS, 1 / EVENINGS))
    left = iter(pieces)
    for day, count in zip(days.tolist(), lines.tolist(), strict=True):
        held = list(islice(left, count))
        total = sum(piece.minutes for piece in held) + _PAUSE_MINUTES
        only = bool(rng.random() < _TOTAL_ONLY)
        for piece in held:
            yield EveningRow(
                FIRST_DAY + timedelta(days=day),
                piece.unit,
                piece.step,
                evening_minutes=total if only else None,
                models=piece.models,
                minutes=None if only else piece.minutes,
            )
