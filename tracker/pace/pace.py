"""The learned pace: joint draws of everything uncertain, and minutes of planned lines from them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import PlannedLine
from tracker.pace.drawing import Drawing
from tracker.pace.effects import Columns, effects_of
from tracker.pace.guesses import GuessHabit
from tracker.pace.priors import Priors, expected_log_minutes
from tracker.pace.surprise import Heaps

Floats = NDArray[np.float64]


class Pace(NamedTuple):
    """This person's pace. Arrays have D joint draws in their first axis."""

    priors: Priors
    columns: Columns | None
    noise_classes: dict[str, int]
    effects: NDArray[np.float32]
    """(D, p)"""
    spreads: dict[str, Floats]
    """Group -> (D,)"""
    step_sd: Floats
    """(D, C)"""
    common_sd: Floats
    """(D,)"""
    upper: float
    heaps: Heaps | None
    guess: GuessHabit | None
    lines_of_step: dict[str, int]
    lines_of: dict[str, int]
    """Lines by "kind <kind>" and "unit <key>"."""
    batch_of_step: dict[str, float]
    grain_minutes: float
    best: tuple[Floats, Floats, Floats] | None
    """Effects, group variances and noise variances where the search ended."""
    group_names: tuple[str, ...]
    blocks: int
    odd_evenings: tuple[tuple[int, float], ...] = ()
    """Running numbers of evenings that do not fit, and how many times the expected minutes they took."""
    stretch: float = 1.0
    """How much wider the ranges are than the model alone would have them; never below 1."""
    drift_memory: float = 0.0
    """Autocorrelation of the drift from the log's last period to what comes; 0 = nothing is logged."""

    @classmethod
    def untaught(cls, priors: Priors, spreads: dict[str, Floats], common_sd: Floats) -> Pace:
        """What the trade believes, with nothing logged."""
        size = common_sd.size
        return cls(
            priors, None, {}, np.zeros((size, 0), dtype=np.float32), spreads, np.zeros((size, 0)),
            common_sd, 0.87, None, None, {}, {}, {}, 1.0, None, (), 0,
        )  # fmt: skip

    def draw(
        self, lines: Sequence[PlannedLine], rng: np.random.Generator, n: int, *, as_logged: bool = False
    ) -> NDArray[np.float32]:
        """Joint draws (n, lines) of the minutes that planned lines still take.

        as_logged: in the round figures this person would write down; totals hardly feel it.

        A line of more models than this person usually moves at once is drawn as several batches. The
        total of lines is the total along a row. Minutes already spent are behind: what comes is how
        much longer it takes, given that it has taken as long as it has. A line's draws hang on the state of
        `rng` and on the line, not on what else is asked: one more line changes no other's minutes.
        """
        drawing = Drawing(self, rng, n)
        out = np.empty((len(lines), n), dtype=np.float32)
        for place, line in enumerate(lines):
            out[place] = drawing.minutes(line, as_logged=as_logged)
        return out.T

    def mean_log_minutes(self, lines: Sequence[PlannedLine], rng: np.random.Generator) -> Floats:
        """(D, lines) log of the median minutes of each line, effects uncertain, surprise not yet in.

        Effects that the log does not know are drawn from their group's spread, one draw for all lines
        that share them. The drift is the next period's.
        """
        drawing = Drawing(self, rng, self.common_sd.size)
        out = np.empty((self.common_sd.size, len(lines)))
        for place, line in enumerate(lines):
            out[:, place] = drawing.mean_log_minutes(line)
        return out

    def middle_log_minutes(self, line: PlannedLine) -> float:
        """Mean log minutes of a line over the draws; the drift and effects nobody has met yet left out."""
        total = expected_log_minutes(line, self.priors)
        for group, name, scale in effects_of(line):
            column = self.columns.places[group].get(name) if self.columns else None
            if column is not None:
                total += scale * float(self.effects[:, column].mean(dtype=np.float64))
        return total
