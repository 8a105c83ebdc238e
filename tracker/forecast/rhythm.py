"""When this person works and for how long, learned from the evenings of the log.

The chance of every hidden state (see `states`) is filtered day by day through the calendar:
exact, without sampling. Minutes of an evening are lognormal with a conjugate posterior.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date, timedelta
from math import log
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.forecast.evenings import EveningMinutes, Plan, minutes_by_day
from tracker.forecast.states import LEVELS, MODES, StateSpace, session_chances, state_space

LONGEST_SPELL_DAYS = 182
"""A gap longer than this is a project laid down, not a dry spell: its further days teach nothing."""
_MEDIAN_MINUTES = 60.0
_MINUTES_VARIANCE = 0.36
_MINUTES_DEGREES = 6.0
_MINUTES_HALF_LIFE_SESSIONS = 20.0
_WEEKDAY_PSEUDO_SESSIONS = 6.0
_SHARE_ON_PLANNED_DAYS = 0.8


class MinutesPosterior(NamedTuple):
    """Log-minutes of an evening: s2 = scale / Gamma(shape); mu ~ Normal(mean, s2 / weight)."""

    mean: float
    weight: float
    shape: float
    scale: float


class Rhythm(NamedTuple):
    """What is known of a person's evenings at the start of `start`, the first future day."""

    start: date
    space: StateSpace
    chance: NDArray[np.float64]
    """Chance of each hidden state on the day before `start`, shape (3, 9, 3), sums to 1."""
    weekday_factors: NDArray[np.float64]
    """Relative chance of Monday … Sunday, shape (7,), mean 1."""
    minutes: MinutesPosterior
    days_seen: int
    """Days from the first session day up to `start`; 0 = no session yet."""
    sessions: int
    away: frozenset[date] = frozenset()
    once: Mapping[date, float | None] = {}
    """Single evenings that were declared, with the minutes they are meant to have."""
    kept_share: float = 0.0
    """How often such an evening takes place, whatever the mode."""

    @property
    def session_chance(self) -> NDArray[np.float64]:
        """Chance of an evening by weekday, level and mode, shape (7, 9, 3)."""
        return session_chances(self.space, self.weekday_factors)


def fit_rhythm(
    days: Sequence[EveningMinutes],
    as_of: date,
    *,
    away: Collection[date] = (),
    plan: Plan | None = None,
    once: Mapping[date, float | None] = {},
    kept_share: float = 0.0,
) -> Rhythm:
    """The rhythm as known on `as_of`; evenings after it are not looked at.

    `as_of` counts as seen if it has a session; otherwise it may still get one and is the first
    future day. Days `away` (holidays, evenings idle only because something dries) are not evidence:
    the mode stands still, the level drifts on. Not to be trusted below two weeks of history; dates
    built on it assume that the project is not given up. Source: see `states`.
    """
    held = {day: m for day, m in minutes_by_day(days).items() if day <= as_of}
    start = as_of + timedelta(days=1) if as_of in held else as_of
    space = state_space(plan.days_a_week if plan else None)
    factors = weekday_factors(held, start, plan, away)
    chance = _filter(space, session_chances(space, factors), held, start, frozenset(away))
    seen = (start - min(held)).days if held else 0
    return Rhythm(
        start, space, chance, factors, minutes_posterior(held), seen, len(held), frozenset(away),
        dict(once), kept_share,
    )  # fmt: skip


def weekday_factors(
    held: Mapping[date, float | None], start: date, plan: Plan | None = None, away: Collection[date] = ()
) -> NDArray[np.float64]:
    """Relative chance of each weekday, Monday first, shape (7,), mean 1.

    f_d = (k_d + 6 b_d) / (x_d + 6/7), divided by the mean: k_d session days on weekday d, x_d all
    session days times the share of logged days on d, b_d = 1/7, or four fifths on planned days. A day
    away is no logged day unless there was an evening on it.
    """
    wanted = _WEEKDAY_PSEUDO_SESSIONS * _planned_weekdays(plan)
    expected = np.zeros(7)
    if held:
        first = min(held)
        length = (start - first).days
        logged = np.array([(length - (d - first.weekday()) % 7 + 6) // 7 for d in range(7)], dtype=float)
        missing = [day.weekday() for day in away if first <= day < start and day not in held]
        logged -= np.bincount(np.array(missing, dtype=int), minlength=7)
        expected = len(held) * logged / (length - len(missing))
        wanted = wanted + np.bincount([day.weekday() for day in held], minlength=7)
    factors = wanted / (expected + _WEEKDAY_PSEUDO_SESSIONS / 7)
    return np.asarray(factors / factors.mean())


def _planned_weekdays(plan: Plan | None) -> NDArray[np.float64]:
    if plan is None:
        return np.full(7, 1 / 7)
    shares = np.array(plan.weekday_shares)
    free = shares == 0
    if not free.any():
        return shares
    return np.asarray(_SHARE_ON_PLANNED_DAYS * shares + (1 - _SHARE_ON_PLANNED_DAYS) * free / free.sum())


def minutes_posterior(held: Mapping[date, float | None]) -> MinutesPosterior:
    """Posterior of an evening's log-minutes; the last 20 timed evenings weigh most.

    Weights w = .5^(age in sessions / 20), W their sum, mb and ss weighted mean and sum of squares of
    ln(minutes). Prior: median 60 minutes worth one session, log-sd .6 worth six.
    """
    logs = np.log([m for m in held.values() if m is not None])
    weights = 0.5 ** (np.arange(len(logs))[::-1] / _MINUTES_HALF_LIFE_SESSIONS)
    total = float(weights.sum())
    mean = float(weights @ logs) / total if total else 0.0
    squares = float(weights @ (logs - mean) ** 2)
    usual = log(_MEDIAN_MINUTES)
    scale = (_MINUTES_DEGREES * _MINUTES_VARIANCE + squares + total / (1 + total) * (mean - usual) ** 2) / 2
    return MinutesPosterior(
        (usual + total * mean) / (1 + total), 1 + total, (_MINUTES_DEGREES + total) / 2, scale
    )


def _filter(
    space: StateSpace,
    session_chance: NDArray[np.float64],
    held: Mapping[date, float | None],
    start: date,
    away: frozenset[date],
) -> NDArray[np.float64]:
    """Chance of each state after all days before `start`, shape (3, 9, 3)."""
    if not held:
        return space.prior
    first = min(held)
    chance = _first_evening(space, session_chance[first.weekday()])
    dry_days = 0
    for t in range(1, (start - first).days):
        day = first + timedelta(days=t)
        dry_days = 0 if day in held else dry_days + 1
        unseen = dry_days > LONGEST_SPELL_DAYS or (day in away and day not in held)
        if not unseen:
            chance = chance @ space.mode_move
        if t % 7 == 0:
            chance = np.einsum("clm,lk->ckm", chance, space.level_move)
        if not unseen:
            likely = session_chance[day.weekday()]
            chance = chance * (likely if day in held else 1 - likely)
            chance /= chance.sum()
    return chance


def _first_evening(space: StateSpace, likely: NDArray[np.float64]) -> NDArray[np.float64]:
    """The history starts at an evening by construction: it tells the mode, not class or level.

    Letting it tell the level too makes early dates too early.
    """
    mass = space.prior.sum(axis=2, keepdims=True)
    chance = space.prior * likely.reshape(1, LEVELS, MODES)
    return np.asarray(chance / chance.sum(axis=2, keepdims=True) * mass)
