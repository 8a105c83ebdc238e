"""The hidden state behind a calendar of evenings: class of person, drifting level, mode.

A day's state is (class, level, mode), 3 x 9 x 3 = 81 of them. The class is fixed for a person. The
level is the logarithm of sessions per week while at it, and drifts from week to week. The mode is
on, in a short break or in a long break, and may change every day.

The constants were fitted to real calendars of other people and tested on calendars held back; moderate
changes of any of them moved the score by less than 2 %, so they are not settings.
"""

from __future__ import annotations

from math import erf, sqrt
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

CLASSES = 3
LEVELS = 9
MODES = 3
ON, SHORT_BREAK, LONG_BREAK = range(MODES)

# Weekly chances per class: enter a short break, stay in it, enter a long break, stay in it.
_WEEKLY = np.array(
    [
        (0.04, 0.30, 0.01, 0.85),  # steady
        (0.25, 0.50, 0.06, 0.90),  # typical
        (0.45, 0.60, 0.11, 0.92),  # fitful
    ]
)
_SESSIONS_A_WEEK = 3.0
_SPREAD = 1.1
_PLANNED_SHARE = 0.75
_PLANNED_SPREAD = 0.8
_BREAK_RATE_A_WEEK = 0.02
_WEEKLY_MEMORY = 0.97
_EDGE = 2.6


class StateSpace(NamedTuple):
    """Prior and moves of the hidden state; P below always has shape (classes, levels, modes)."""

    prior: NDArray[np.float64]
    """Chance of each state before any evening is known, shape (3, 9, 3), sums to 1."""
    mode_move: NDArray[np.float64]
    """Daily chance of mode j after mode i within a class, shape (3, 3, 3) = (class, i, j)."""
    level_move: NDArray[np.float64]
    """Weekly chance of level j after level i, shape (9, 9)."""
    sessions_a_week: NDArray[np.float64]
    """Sessions per week while on, by level, shape (9,)."""


def state_space(planned_days_a_week: float | None = None) -> StateSpace:
    """The state space; a declared number of planned days a week moves the centre of the level.

    Without a plan the level's centre is 3 sessions a week with log-sd 1.1; with d planned days it is
    .75 d with log-sd .8, because people keep about three quarters of what they plan.
    """
    planned = planned_days_a_week is not None and planned_days_a_week > 0
    spread = _PLANNED_SPREAD if planned else _SPREAD
    centre = _PLANNED_SHARE * (planned_days_a_week or 0.0) if planned else _SESSIONS_A_WEEK
    points = spread * np.linspace(-_EDGE, _EDGE, LEVELS)
    mode_move = _mode_move()
    prior = np.einsum("l,cm->clm", _level_prior(points, spread), _mode_prior()) / CLASSES
    return StateSpace(prior, mode_move, _level_move(points, spread), centre * np.exp(points))


def _daily() -> tuple[NDArray[np.float64], ...]:
    """Daily chances per class: enter short, leave short, enter long, leave long."""
    enter_short, stay_short, enter_long, stay_long = _WEEKLY.T
    return (
        1 - (1 - enter_short) ** (1 / 7),
        1 - stay_short ** (1 / 7),
        1 - (1 - enter_long) ** (1 / 7),
        1 - stay_long ** (1 / 7),
    )


def _mode_move() -> NDArray[np.float64]:
    enter_short, leave_short, enter_long, leave_long = _daily()
    move = np.zeros((CLASSES, MODES, MODES))
    move[:, ON, SHORT_BREAK], move[:, ON, LONG_BREAK] = enter_short, enter_long
    move[:, SHORT_BREAK, ON], move[:, LONG_BREAK, ON] = leave_short, leave_long
    for mode in range(MODES):
        move[:, mode, mode] = 1 - move[:, mode].sum(axis=1)
    return move


def _mode_prior() -> NDArray[np.float64]:
    """Where the mode is in the long run, per class: shape (3, 3), rows sum to 1."""
    enter_short, leave_short, enter_long, leave_long = _daily()
    weight = np.stack([np.ones(CLASSES), enter_short / leave_short, enter_long / leave_long], axis=1)
    return np.asarray(weight / weight.sum(axis=1, keepdims=True))


def _level_prior(points: NDArray[np.float64], spread: float) -> NDArray[np.float64]:
    """Normal(0, spread) mass between the midpoints of neighbouring points; the outer two are open."""
    middle = (points[1:] + points[:-1]) / 2
    below = [0.0, *(0.5 * (1 + erf(x / spread / sqrt(2))) for x in middle), 1.0]
    return np.diff(below)


def _level_move(points: NDArray[np.float64], spread: float) -> NDArray[np.float64]:
    """Seven daily moves of a mean-reverting walk on the points; matches its daily mean and variance."""
    memory = _WEEKLY_MEMORY ** (1 / 7)
    gap = points[1] - points[0]
    drift = (memory - 1) * points
    scatter = spread**2 * (1 - memory**2) + drift**2
    up = np.clip((scatter / gap**2 + drift / gap) / 2, 0, 0.45)
    down = np.clip((scatter / gap**2 - drift / gap) / 2, 0, 0.45)
    up[-1] = down[0] = 0.0
    move = np.diag(1 - up - down) + np.diag(up[:-1], 1) + np.diag(down[1:], -1)
    return np.asarray(np.linalg.matrix_power(move, 7))


def session_chances(space: StateSpace, weekday_factors: NDArray[np.float64]) -> NDArray[np.float64]:
    """Chance of an evening by weekday (Monday first), level and mode, shape (7, 9, 3).

    On: 1 - exp(-L f / 7) with L sessions a week and weekday factor f; in a break L = .02.
    """
    rate = np.full((LEVELS, MODES), _BREAK_RATE_A_WEEK)
    rate[:, ON] = space.sessions_a_week
    chance = 1 - np.exp(-rate[None] * weekday_factors[:, None, None] / 7)
    return np.asarray(np.clip(chance, 0.0001, 0.97))
