"""Which effects a line has: the columns of the model and how lines map to them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
import scipy.sparse as sp

from tracker.domain.answers import PlannedLine
from tracker.pace.blocks import Block
from tracker.pace.effects import GROUPS, Columns, effects_of
from tracker.pace.mixed import Floats, Group, Sample
from tracker.pace.priors import Priors, Spread, expected_log_minutes

PERIODS_MOST = 150
"""Periods of drift at most: what a month did ten years ago need not be told apart from its season."""


def columns_of(lines: Iterable[PlannedLine], periods: int) -> Columns:
    """Columns for every effect that the lines have, groups in a fixed order, names sorted.

    Sorted names make the fit independent of the order in which a person typed things.
    """
    seen: dict[str, set[str]] = {group: set() for group in GROUPS}
    for line in lines:
        for group, name, _ in effects_of(line):
            seen[group].add(name)
    places: dict[str, dict[str, int]] = {}
    size = 0
    for group in GROUPS:
        places[group] = {name: size + i for i, name in enumerate(sorted(seen[group]))}
        size += len(places[group])
    return Columns(places, size + periods, periods)


def groups_of(columns: Columns, priors: Priors, memory: float) -> list[Group]:
    """The groups with their prior spreads; the drift is a first-order autoregression."""
    spreads: dict[str, Spread] = {
        "person": priors.person, "own steps": priors.own_steps, "step": priors.step,
        "kind": priors.kind, "material": priors.material, "standard": priors.standard,
        "unit": priors.unit, "batch": priors.batch, "practice": priors.practice,
        "unit guess": priors.unit_guess,
    }  # fmt: skip
    out = []
    for name in GROUPS:
        places = columns.places[name]
        if places:
            start = min(places.values())
            out.append(Group(name, start, start + len(places), *spreads[name]))
    if columns.periods:
        start = columns.size - columns.periods
        structure = autoregression(columns.periods, memory)
        out.append(Group("drift", start, columns.size, *priors.drift, structure))
    return out


def autoregression(size: int, memory: float) -> Floats:
    """Precision (size, size) of a stationary first-order autoregression with variance 1.

    Tridiagonal: 1 and -memory over 1 - memory^2, with 1 + memory^2 inside. Textbook.
    """
    if size == 1:
        return np.ones((1, 1))
    diagonal = np.full(size, 1 + memory**2)
    diagonal[0] = diagonal[-1] = 1.0
    beside = np.full(size - 1, -memory)
    dense = np.diag(diagonal) + np.diag(beside, 1) + np.diag(beside, -1)
    return np.asarray(dense / (1 - memory**2))


def period_lines(lines: int, priors: Priors) -> int:
    """Lines of log in one period of drift: the usual number, longer in a log of many years."""
    return max(priors.drift_lines, -(-lines // PERIODS_MOST))


def period_memory(lines_a_period: int, priors: Priors) -> float:
    """Autocorrelation of the drift from one period to the next, when periods are longer than usual."""
    return float(priors.drift_memory ** (lines_a_period / priors.drift_lines))


def periods_of(blocks: Sequence[Block], lines_a_period: int) -> list[int]:
    """Period of drift of each block: evenings counted by the lines logged before them.

    All blocks of one evening share a period, so their order within it does not matter.
    """
    lines_before: dict[int, int] = {}
    count = 0
    for block in sorted(blocks, key=lambda b: b.evening):
        lines_before.setdefault(block.evening, count)
        count += len(block.lines)
    return [lines_before[block.evening] // lines_a_period for block in blocks]


def design_matrix(
    lines: Sequence[PlannedLine], columns: Columns, periods: Sequence[int] | None
) -> sp.csr_array:
    """(m, p) rows of the lines; an effect without a column is left out (it is drawn afresh later)."""
    place: list[int] = []
    value: list[float] = []
    row_ends = [0]
    first_period = columns.size - columns.periods
    for i, line in enumerate(lines):
        for group, name, size in effects_of(line):
            column = columns.places[group].get(name)
            if column is not None and size:
                place.append(column)
                value.append(size)
        if periods is not None:
            place.append(first_period + periods[i])
            value.append(1.0)
        row_ends.append(len(place))
    return sp.csr_array(
        (np.array(value), np.array(place, dtype=np.int64), np.array(row_ends, dtype=np.int64)),
        shape=(len(lines), columns.size),
    )


def offsets(lines: Sequence[PlannedLine], priors: Priors) -> Floats:
    """(m,) what the trade expects of each line's log minutes."""
    return np.array([expected_log_minutes(line, priors) for line in lines])


class Design(NamedTuple):
    """A log made ready for the solver."""

    columns: Columns
    groups: list[Group]
    sample: Sample
    noise_classes: dict[str, int]
    """Step name (folded) -> class of noise."""
    drift_memory: float


def build(blocks: Sequence[Block], priors: Priors, grain_minutes: float) -> Design:
    """Columns, groups and numbers of all blocks; minutes are rounded to `grain_minutes`."""
    lines = [line for block in blocks for line in block.lines]
    lines_a_period = period_lines(len(lines), priors)
    memory = period_memory(lines_a_period, priors)
    of_block = periods_of(blocks, lines_a_period)
    block_of = [i for i, block in enumerate(blocks) for _ in block.lines]
    periods = [of_block[i] for i in block_of]
    columns = columns_of(lines, max(of_block, default=0) + 1)
    steps = {name: i for i, name in enumerate(sorted({line.step.casefold() for line in lines}))}
    low, high = _bounds(blocks, grain_minutes)
    sample = Sample(
        design_matrix(lines, columns, periods),
        offsets(lines, priors),
        np.array(block_of, dtype=np.int64),
        np.array([steps[line.step.casefold()] for line in lines], dtype=np.int64),
        low,
        high,
    )
    return Design(columns, groups_of(columns, priors, memory), sample, steps, memory)


def _bounds(blocks: Sequence[Block], grain_minutes: float) -> tuple[Floats, Floats]:
    """Minutes between which each block lies: half a grain to either side, or a bound from below."""
    minutes = np.array([block.minutes for block in blocks])
    bound = np.array([block.at_least for block in blocks])
    half = np.where(minutes > 0.75 * grain_minutes, grain_minutes / 2, 0.0)
    # A grain that is small against the minutes changes nothing; exact minutes are quicker and steadier.
    half[half < 0.1 * minutes] = 0.0
    low, high = minutes - half, minutes + half
    low[bound], high[bound] = minutes[bound], np.inf
    return low, high


def grain(minutes: Sequence[float]) -> float:
    """To how many minutes this person rounds: the coarsest of 30, 15, 10, 5 that nearly all keep to.

    At least 9 in 10 of 10 or more figures must be multiples; otherwise 1. People's reported times are
    multiples of 5, 15 or 30 in 85-95 % of cases (Rietveld 2002, J. Transp. Stat. 5:71-82).
    """
    if len(minutes) < 10:
        return 1.0
    figures = np.asarray(minutes)
    for size in (30.0, 15.0, 10.0, 5.0):
        off = np.abs(figures / size - np.round(figures / size)) * size
        if np.mean(off < 0.5) >= 0.9:
            return size
    return 1.0
