"""The track record: past estimates, made with only what was known then, against what came to pass."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers import LEVELS, Doubt, Rival, TrackRecordAnswer
from tracker.pace.blocks import Block
from tracker.pace.fit import fit
from tracker.pace.pace import Pace
from tracker.pace.scores import binomial_limits, crps, held_range

Floats = NDArray[np.float64]
ORIGINS_MOST = 40
LINES_KNOWN_LEAST = 10
LINES_AHEAD = 10
LINES_FITTED_MOST = 1500
"""Of a log of many years each estimate rests on the newest lines before it, to be done in seconds."""
_DRAWS = 1000
_SPREADSHEET_SEEN = 2


class _Trial(NamedTuple):
    """One block that was estimated, by program and rivals; quantiles are log minutes at LEVELS."""

    log_minutes: float
    program: Floats
    spreadsheet: Floats
    guess_minutes: float | None


def track_record(blocks: Sequence[Block], as_of: date, seed: int) -> TrackRecordAnswer:
    """Replay: at evenings spread over the log, estimate the blocks of the next `LINES_AHEAD` lines.

    Each estimate is fitted anew from the blocks that had ended by that evening. Scores are the CRPS of
    log minutes from 19 quantiles. Too little history: no numbers, and a doubt that says so.
    """
    exact = [block for block in blocks if not block.at_least]
    origins = _origins(exact)
    if not origins:
        text = f"Too little history for a track record: it needs more than {LINES_KNOWN_LEAST} lines."
        return TrackRecordAnswer(as_of, 0, doubts=(Doubt("little-history", text),))
    trials: list[_Trial] = []
    totals: list[bool] = []
    pace: Pace | None = None
    for cut in origins:
        pace = fit(recent_blocks(exact[:cut]), start=pace)
        ahead = _ahead(exact, cut)
        drawn = _drawn(pace, ahead, np.random.default_rng([seed, cut]))
        trials += [_trial(block, drawn[:, i], exact[:cut]) for i, block in enumerate(ahead)]
        low, high = np.quantile(drawn.sum(axis=1), [0.1, 0.9])
        totals.append(bool(low <= sum(block.minutes for block in ahead) <= high))
    return _answer(trials, totals, as_of)


def _origins(blocks: Sequence[Block]) -> list[int]:
    """Cuts between blocks at the ends of evenings, at most `ORIGINS_MOST`, evenly spread.

    They lie far enough apart for no block to be estimated twice: an outcome counts once.
    """
    known = np.cumsum([len(block.lines) for block in blocks])
    ends: list[int] = []
    for i in range(len(blocks) - 1):
        far = known[i] >= (known[ends[-1] - 1] + LINES_AHEAD if ends else LINES_KNOWN_LEAST)
        if far and blocks[i].evening != blocks[i + 1].evening:
            ends.append(i + 1)
    if len(ends) <= ORIGINS_MOST:
        return ends
    return [ends[i] for i in np.linspace(0, len(ends) - 1, ORIGINS_MOST).astype(int).tolist()]


def recent_blocks(blocks: Sequence[Block]) -> list[Block]:
    """The newest blocks, of at most `LINES_FITTED_MOST` lines."""
    lines = 0
    for i in range(len(blocks) - 1, -1, -1):
        lines += len(blocks[i].lines)
        if lines > LINES_FITTED_MOST:
            return list(blocks[i:])
    return list(blocks)


def _ahead(blocks: Sequence[Block], cut: int) -> list[Block]:
    """The blocks after a cut that hold the next lines, at least one."""
    out: list[Block] = []
    lines = 0
    for block in blocks[cut:]:
        if out and lines + len(block.lines) > LINES_AHEAD:
            break
        out.append(block)
        lines += len(block.lines)
    return out


def _drawn(pace: Pace, blocks: Sequence[Block], rng: np.random.Generator) -> Floats:
    """Draws of the blocks' joint minutes (n, blocks)."""
    lines = [line for block in blocks for line in block.lines]
    drawn = pace.draw(lines, rng, _DRAWS, as_logged=True)
    ends = np.cumsum([len(block.lines) for block in blocks])
    starts = np.concatenate([[0], ends[:-1]])
    return np.add.reduceat(drawn, starts, axis=1)


def _trial(block: Block, drawn: Floats, known: Sequence[Block]) -> _Trial:
    guessed = all(line.guess_minutes for line in block.lines)
    guess = sum(line.guess_minutes or 0.0 for line in block.lines) if guessed else None
    program = np.log(np.maximum(np.quantile(drawn, np.array(LEVELS) / 100), 1e-3))
    return _Trial(float(np.log(block.minutes)), program, _spreadsheet(block, known), guess)


def _spreadsheet(block: Block, known: Sequence[Block]) -> Floats:
    """What a sheet of means gives: mean minutes a model of each step so far, normal spread, floor 1 min.

    A step seen fewer than twice alone takes the mean over all steps. Only blocks of one line tell a
    step's minutes; without any, all blocks tell the mean of a model.
    """
    single = [b for b in known if len(b.lines) == 1] or list(known)
    each = [b.minutes / max(sum(line.models for line in b.lines), 1) for b in single]
    mean = variance = 0.0
    for line in block.lines:
        seen = [m for b, m in zip(single, each, strict=True) if b.lines[0].step == line.step]
        figures = seen if len(seen) >= _SPREADSHEET_SEEN else each
        models = max(line.models, 1)
        mean += models * float(np.mean(figures))
        variance += (models * float(np.std(figures, ddof=1 if len(figures) > 1 else 0))) ** 2
    z = np.array([-1.6449, -1.2816, -1.0364, -0.8416, -0.6745, -0.5244, -0.3853, -0.2533, -0.1257, 0.0])
    spread = np.sqrt(variance) * np.concatenate([z, -z[-2::-1]])
    return np.asarray(np.log(np.maximum(mean + spread, 1.0)))


def _answer(trials: Sequence[_Trial], totals: Sequence[bool], as_of: date) -> TrackRecordAnswer:
    y = np.array([trial.log_minutes for trial in trials])
    program = np.array([trial.program for trial in trials])
    middle = program[:, LEVELS.index(50)]
    below = (program < y[:, None]).sum(axis=1)
    # 19 levels make 20 intervals: two of them are a tenth.
    tenths = np.bincount(np.minimum(below // 2, 9), minlength=10)
    return TrackRecordAnswer(
        as_of,
        len(trials),
        tuple(held_range(y, program, percent) for percent in (50, 80)),
        float(np.exp(np.median(y - middle))),
        tuple(map(int, tenths)),
        len(totals),
        sum(totals),
        float(crps(y, program).mean()),
        _rivals(trials, y, program),
        tenths_luck=binomial_limits(len(trials), 0.1),
        totals_luck=binomial_limits(len(totals), 0.8),
    )


def _rivals(trials: Sequence[_Trial], y: Floats, program: Floats) -> tuple[Rival, ...]:
    middle = np.abs(program[:, LEVELS.index(50)] - y)
    sheet = np.array([trial.spreadsheet for trial in trials])
    sheet_miss = np.abs(sheet[:, LEVELS.index(50)] - y)
    out = [
        Rival(
            "spreadsheet", len(trials), float(crps(y, program).mean()), float(crps(y, sheet).mean()),
            int(np.sum(sheet_miss < middle)),
        )
    ]  # fmt: skip
    with_guess = np.array([trial.guess_minutes is not None for trial in trials])
    if with_guess.any():
        guess = np.log([trial.guess_minutes or 1.0 for trial in trials])
        miss = np.abs(guess - y)
        # A single figure is a forecast without spread: its score is how far off it is.
        out.append(
            Rival(
                "guess", int(with_guess.sum()), float(crps(y, program)[with_guess].mean()),
                float(miss[with_guess].mean()), int(np.sum((miss < middle)[with_guess])),
            )
        )  # fmt: skip
    return tuple(out)
