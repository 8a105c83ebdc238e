"""The invented painter: how many minutes a line truly takes this person.

Conventions. A line is one step on k models of one unit, done in one go. Its true minutes are

    log T = log(typical(step) * 10 + set_up(step)) + exponent(step) * log(k / 10)
          + person + own(step) + log kind + own(kind) + log material [build steps]
          + log standard [colour steps] + own(unit) - practice * log2(1 + min(done, 40) / 5)
          + drift(week) + noise

with minutes of hands-on work, `done` = models of the unit that have the step behind them, all logs
natural but the one that is marked. What is a person's own is normal with the spreads of `Spreads`.
The medians, multipliers and spreads are common practice of the trade, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import log, log2
from typing import NamedTuple

from numpy.random import Generator

from tracker.domain.rows import RosterRow
from tracker.domain.steps import CATALOGUE

TYPICAL_MINUTES: dict[str, float] = {
    "sorting": 1, "stripping": 8, "cleaning": 7, "washing": 0.7, "straightening": 1, "dry fit": 2,
    "magnets": 2, "pinning": 6, "conversion": 8, "assembly": 8, "gap filling": 4, "sanding": 2,
    "base texture": 2.5, "sealing": 0.7, "priming": 0.8, "base colours": 18, "one-coat colours": 12,
    "shade": 2, "layering": 8, "highlights": 9, "details": 7, "freehand": 12, "gloss coat": 0.7,
    "decals": 4, "weathering": 2, "base painting": 4, "joining": 2, "varnish": 0.7, "tufts": 1.5,
    "ranking up": 1, "photo": 0.5,
}  # fmt: skip
"""Median minutes per model: a foot figure of plastic to table-top standard, ten at a time."""
KIND_TIMES = {
    "infantry": 1.0, "cavalry": 2.0, "large infantry": 2.0, "monster": 5.0, "war machine": 4.0,
    "vehicle": 5.0, "character": 1.5, "scenery": 2.0,
}  # fmt: skip
MATERIAL_TIMES = {"plastic": 1.0, "metal": 1.5, "resin": 1.5, "printed": 1.3, "mixed": 1.5}
STANDARD_TIMES = {"quick": 0.6, "table-top": 1.0, "good": 1.8, "display": 5.0}


class Spreads(NamedTuple):
    """How people differ: log standard deviations, unless said otherwise."""

    person: float = 0.45
    step: float = 0.25
    kind: float = 0.15
    unit: float = 0.20
    noise: float = 0.38
    drift: float = 0.15
    """Spread of the slow drift of a person's pace."""
    drift_kept: float = 0.94
    """Share of the drift that is still there a week later (first-order autoregression)."""
    brush_exponent: float = 0.95
    spray_exponent: float = 0.40
    exponent: float = 0.03
    """Spread of a step's own batch exponent (not a log)."""
    practice: float = 0.10
    """Log minutes saved per doubling."""
    guess_bias: float = -0.25
    """Mean log of guess over truth: people guess low."""
    guess_bias_spread: float = 0.15
    guess_noise: float = 0.30
    share_total_only: float = 0.35
    """Share of evenings of which only the total is written down."""
    share_guessed: float = 0.25
    """Share of lines guessed beforehand."""
    evenings_a_week: float = 2.6
    """In weeks that are not dry, before season and weekday."""
    evening_minutes: float = 65.0
    """Median length of an evening."""
    evening_spread: float = 0.45
    dry_chance: float = 0.07
    """Chance that a dry spell begins in a week."""


class Person(NamedTuple):
    """One painter's true pace, on the log scale."""

    spreads: Spreads
    speed: float
    steps: Mapping[str, float]
    kinds: Mapping[str, float]
    units: Mapping[str, float]
    exponents: Mapping[str, float]
    guess_bias: float
    batch: int
    """How many models this person likes to take along in one go."""


def draw_person(rng: Generator, roster: tuple[RosterRow, ...], spreads: Spreads) -> Person:
    """A person at random, for every unit of the roster."""
    return Person(
        spreads=spreads,
        speed=spreads.person * rng.standard_normal(),
        steps={step: spreads.step * rng.standard_normal() for step in TYPICAL_MINUTES},
        kinds={kind: spreads.kind * rng.standard_normal() for kind in KIND_TIMES},
        units={row.unit: spreads.unit * rng.standard_normal() for row in roster},
        exponents={step: _exponent(step, spreads, rng.standard_normal()) for step in TYPICAL_MINUTES},
        guess_bias=spreads.guess_bias + spreads.guess_bias_spread * rng.standard_normal(),
        batch=(5, 6, 8, 10)[int(4 * rng.random())],
    )


def _exponent(step: str, spreads: Spreads, deviate: float) -> float:
    usual = spreads.spray_exponent if CATALOGUE[step].mostly_set_up else spreads.brush_exponent
    return usual + spreads.exponent * deviate


def log_minutes(person: Person, row: RosterRow, step: str, models: int, done_before: int) -> float:
    """Log of the line's minutes without drift and noise (see the formula of this module)."""
    known = CATALOGUE[step]
    out = log(TYPICAL_MINUTES[step] * 10 + known.set_up_minutes)
    out += person.exponents[step] * log(models / 10)
    out += person.speed + person.steps[step] + person.units[row.unit]
    out += log(KIND_TIMES[row.kind]) + person.kinds[row.kind]
    if known.family == "build":
        out += log(MATERIAL_TIMES[row.material])
    if known.family == "colour":
        out += log(STANDARD_TIMES[row.standard])
    return out - person.spreads.practice * log2(1 + min(done_before, 40) / 5)
