"""Simulated calendars: minutes at the desk on each coming day."""

from __future__ import annotations

from datetime import date, timedelta
from math import log

import numpy as np
from numpy.typing import NDArray

from tracker.forecast.rhythm import MinutesPosterior, Rhythm
from tracker.forecast.states import LEVELS, MODES, ON

HORIZON_DAYS = 730
MOST_MINUTES_AN_EVENING = 960.0
_BLOCK_DAYS = 56


def simulate_minutes(
    rhythm: Rhythm,
    rng: np.random.Generator,
    paths: int,
    horizon_days: int = HORIZON_DAYS,
    start: date | None = None,
) -> NDArray[np.float32]:
    """Minutes per day on `paths` futures from `start` on, float32, shape (paths, days).

    `start` defaults to the rhythm's own. The spread over hidden states is the whole uncertainty of
    the evenings; a path's usual evening length is drawn once. The random numbers used do not depend
    on the states, so two rhythms met with equal generators differ only by the rhythm.
    """
    state = _draw_states(rhythm, rng, paths)
    mean, sd = _draw_lengths(rhythm.minutes, rng, paths)
    out = np.empty((paths, horizon_days), dtype=np.float32)
    walk = _Walk(rhythm, start or rhythm.start)
    for first in range(0, horizon_days, _BLOCK_DAYS):
        days = min(_BLOCK_DAYS, horizon_days - first)
        at_desk = walk.block(state, rng, first, days)
        minutes = rng.standard_normal((days, paths), dtype=np.float32)
        minutes *= sd
        minutes += mean
        walk.meant(minutes, mean, first)
        np.minimum(np.exp(minutes, out=minutes), MOST_MINUTES_AN_EVENING, out=minutes)
        minutes *= at_desk
        out[:, first : first + days] = minutes.T
    return out


def _draw_states(rhythm: Rhythm, rng: np.random.Generator, paths: int) -> NDArray[np.intp]:
    """One state number per path: systematic draws in a random order."""
    bounds = np.cumsum(rhythm.chance.ravel())
    at = (np.arange(paths) + rng.random()) / paths * bounds[-1]
    return rng.permutation(np.searchsorted(bounds, at, side="right").clip(max=bounds.size - 1))


def _draw_lengths(
    known: MinutesPosterior, rng: np.random.Generator, paths: int
) -> tuple[NDArray[np.float32], NDArray[np.float32]]:
    """Mean and sd of a path's log-minutes, each shape (paths,)."""
    variance = known.scale / rng.standard_gamma(known.shape, paths)
    mean = known.mean + rng.standard_normal(paths) * np.sqrt(variance / known.weight)
    return mean.astype(np.float32), np.sqrt(variance).astype(np.float32)


class _Walk:
    """Tables over the 81 state numbers, laid out as (class, level, mode)."""

    def __init__(self, rhythm: Rhythm, start: date) -> None:
        stay = np.repeat(rhythm.space.mode_move, LEVELS, axis=0).reshape(-1, MODES)
        numbers = np.arange(len(stay))
        mode = numbers % MODES
        self._on = numbers - mode
        self._change = (1 - stay[numbers, mode]).astype(np.float32)
        # An evening state may fall to a short or a long break; a break can only end.
        self._short = np.where(mode == ON, stay[:, 1], 0.0).astype(np.float32)
        self._level_bounds = np.cumsum(rhythm.space.level_move, axis=1)[:, :-1].astype(np.float32)
        tables = rhythm.session_chance.astype(np.float32)
        self._chance = np.concatenate([tables.reshape(7, -1)] * len(rhythm.space.prior), axis=1)
        self._start = start
        self._seen = rhythm.days_seen
        self._away = rhythm.away
        self._once = {day: minutes for day, minutes in rhythm.once.items() if day not in rhythm.away}
        self._kept_share = rhythm.kept_share

    def block(
        self, state: NDArray[np.intp], rng: np.random.Generator, first: int, days: int
    ) -> NDArray[np.bool_]:
        """Whether there is an evening on each of some days, shape (days, paths); moves `state` on."""
        mode_luck = rng.random((days, len(state)), dtype=np.float32)
        desk_luck = rng.random((days, len(state)), dtype=np.float32)
        level_luck = rng.random((-(-days // 7), len(state)), dtype=np.float32)
        out = np.zeros((days, len(state)), dtype=bool)
        for i in range(days):
            day = self._start + timedelta(days=first + i)
            away = day in self._away
            if not away:
                self._move_modes(state, mode_luck[i])
            if (first + i) % 7 == 6:  # on the 7th, 14th … future day, whatever the weekday
                self._move_levels(state, level_luck[i // 7])
            if not away:
                chance = self._chance[day.weekday()].take(state)
                if day in self._once:
                    np.maximum(chance, np.float32(self._kept_share), out=chance)
                np.less(desk_luck[i], chance, out=out[i])
        return out

    def meant(self, logs: NDArray[np.float32], mean: NDArray[np.float32], first: int) -> None:
        """Log-minutes of declared evenings, shape (days, paths): around those that are meant."""
        for day, minutes in self._once.items():
            place = (day - self._start).days - first
            if minutes is not None and 0 <= place < len(logs):
                logs[place] += np.float32(log(minutes)) - mean

    def _move_modes(self, state: NDArray[np.intp], luck: NDArray[np.float32]) -> None:
        moved = (luck < self._change.take(state)).nonzero()[0]
        old = state[moved]
        on = self._on[old]
        to_break = on + 2 - (luck[moved] < self._short[old])
        state[moved] = np.where(old == on, to_break, on)

    def _move_levels(self, state: NDArray[np.intp], luck: NDArray[np.float32]) -> None:
        level = state // MODES % LEVELS
        new = (luck[:, None] >= self._level_bounds[level]).sum(axis=1)
        state += (new - level) * MODES
