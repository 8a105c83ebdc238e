"""What the learned pace promises of odd evenings, names, order, batches and steps half done.

The properties are the product's own promises, no outside source, unless a source stands beside them.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.builders import STEPS, Did, did, evening, log_of, planned, steady_blocks
from tracker.domain.answers import PlannedLine
from tracker.domain.records import Records
from tracker.pace import learn
from tracker.pace.blocks import Block
from tracker.pace.drawing import split
from tracker.pace.fit import fit
from tracker.pace.mixed import Floats
from tracker.pace.pace import Pace
from tracker.pace.priors import Priors, expected_log_minutes

DRAWS = 4096
FAR_ALONG = [planned("spears", step, 5, 20) for step in STEPS]


def drawn(pace: Pace, lines: list[PlannedLine], seed: int = 3) -> Floats:
    """Joint draws (DRAWS, lines), the same luck every time."""
    return pace.draw(lines, np.random.default_rng(seed), DRAWS).astype(np.float64)


def medians(pace: Pace, lines: list[PlannedLine] | None = None) -> Floats:
    """Median minutes of each line."""
    return np.asarray(np.median(drawn(pace, lines or FAR_ALONG), axis=0))


def widths(pace: Pace, lines: list[PlannedLine] | None = None) -> Floats:
    """Log width of each line's 80 % range."""
    low, high = np.quantile(np.log(drawn(pace, lines or FAR_ALONG)), (0.1, 0.9), axis=0)
    return np.asarray(high - low)


def absurd(blocks: list[Block], number: int) -> list[Block]:
    """The log with one evening ten times too long."""
    return [b._replace(minutes=10 * b.minutes) if b.evening == number else b for b in blocks]


@pytest.mark.parametrize("number", [2, 15, 29])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_one_absurd_evening_moves_no_median_by_more_than_five_per_cent(seed: int, number: int) -> None:
    blocks = steady_blocks(60, np.random.default_rng(seed))
    moved = medians(fit(absurd(blocks, number))) / medians(fit(blocks))
    assert np.abs(moved - 1).max() < 0.05


def test_an_absurd_evening_is_named() -> None:
    pace = fit(absurd(steady_blocks(60, np.random.default_rng(4)), 15))
    assert {number for number, _ in pace.odd_evenings} == {15}
    assert all(4 < times < 25 for _, times in pace.odd_evenings)


def test_the_names_of_units_do_not_matter() -> None:
    blocks = steady_blocks(60, np.random.default_rng(5))
    other = {"spears": "zouaves", "riders": "archers", "bows": "moths", "axes": "dwellers"}
    renamed = [b._replace(lines=tuple(x._replace(unit=other[x.unit]) for x in b.lines)) for b in blocks]
    one, two = fit(blocks), fit(renamed)
    assert one.best is not None
    assert two.best is not None
    assert np.sort(two.best[0]) == pytest.approx(np.sort(one.best[0]), abs=1e-7)
    asked = [line._replace(unit="zouaves") for line in FAR_ALONG]
    # The same distribution by other draws: within Monte Carlo error of 1024 draws.
    assert medians(two, asked) == pytest.approx(medians(one), rel=0.03)


def test_the_order_of_lines_in_an_evening_does_not_matter() -> None:
    evenings = [
        [did("spears", "cleaning", 5, 43), did("riders", "shade", 3, 21), did("bows", "assembly", 4, 66)],
        [did("axes", "shade", 6), did("bows", "highlights", 4), did("spears", "assembly", 5, 57)],
    ]
    totals = (None, 171.0)

    def logged(rows: list[list[Did]]) -> Records:
        # Units are entered in the same order, only their lines are not.
        first = evening(*(did(unit, "varnish", 1, 12) for unit in ("spears", "riders", "bows", "axes")))
        return log_of(first, *(evening(*r, minutes=m) for r, m in zip(rows, totals, strict=True)))

    one = drawn(learn(logged(evenings)), FAR_ALONG)
    two = drawn(learn(logged([rows[::-1] for rows in evenings])), FAR_ALONG)
    assert two == pytest.approx(one, rel=1e-5)


@pytest.mark.parametrize("factor", [0.5, 1.0, 3.0])
def test_the_log_overrules_the_trade(factor: float) -> None:
    # A known truth: six people who take `factor` times the trade's minutes. One person's 200 lines leave
    # about 6 % of chance in a median, the mean of six 2.5 %; three of those and 4 % of pull to the trade.
    asked = [planned("spears", step, 5) for step in STEPS]
    truth = [math.exp(expected_log_minutes(line, Priors())) * factor for line in asked]
    errors = [
        np.log(medians(fit(steady_blocks(200, np.random.default_rng(seed), factor=factor)), asked) / truth)
        for seed in range(7, 13)
    ]
    assert np.abs(np.mean(errors, axis=0)).max() < 0.12


def test_a_step_of_the_persons_own_is_answered() -> None:
    drawn_minutes = drawn(learn(Records()), [planned("spears", "gilding the lily", 3)])
    assert np.isfinite(drawn_minutes).all()
    assert 20 < np.median(drawn_minutes) < 250


def test_an_unknown_unit_is_less_sure_than_a_known_one() -> None:
    pace = fit(steady_blocks(200, np.random.default_rng(11)))
    strange = [line._replace(unit="strangers") for line in FAR_ALONG]
    assert (widths(pace, strange) > widths(pace)).mean() > 0.7
    assert medians(pace, strange) == pytest.approx(medians(pace), rel=0.25)


def test_minutes_already_spent_are_behind() -> None:
    pace = fit(steady_blocks(60, np.random.default_rng(12)))
    line = planned("spears", "base colours", 5, 20)
    whole = float(medians(pace, [line])[0])
    left = [float(medians(pace, [line._replace(spent_minutes=s * whole)])[0]) for s in (0.0, 0.3, 0.6)]
    assert left == sorted(left, reverse=True)
    # Hardly any of the drawn totals lies below a third of the median: what is left is the whole less it.
    assert left[1] == pytest.approx(0.7 * whole, rel=0.1)


def test_however_long_it_took_something_is_left() -> None:
    pace = fit(steady_blocks(60, np.random.default_rng(13)))
    line = planned("spears", "base colours", 5, 20)
    spent = 50 * float(medians(pace, [line])[0])
    left = drawn(pace, [line._replace(spent_minutes=spent)])
    assert np.isfinite(left).all()
    assert (left >= 0).all()
    assert np.median(left) > 0


def test_a_big_line_is_drawn_in_usual_batches() -> None:
    # This person moves 5 models at a time: 20 models are four surprises, so relatively narrower than
    # one line of 5, and not one line of 20 with a single surprise.
    blocks = [b for b in steady_blocks(80, np.random.default_rng(16)) if b.lines[0].models in (4, 5, 6)]
    pace = fit(blocks)
    usual = pace.batch_of_step["shade"]
    big, small = (
        planned("spears", "shade", 4 * round(usual), 20),
        planned("spears", "shade", round(usual), 20),
    )
    parts = split(big, pace.batch_of_step)
    assert len(parts) == 4
    assert split(small, pace.batch_of_step) == [small]
    assert sum(part.models for part in parts) == big.models
    assert [part.done_before for part in parts] == [20 + i * small.models for i in range(4)]
    assert widths(pace, [big])[0] < widths(pace, [small])[0]
    assert medians(pace, [big])[0] == pytest.approx(4 * medians(pace, [small])[0], rel=0.15)


def test_what_takes_a_batch_at_once_is_not_split() -> None:
    untaught = learn(Records()).batch_of_step
    assert [part.models for part in split(planned("spears", "priming", 40), untaught)] == [40]
    assert [part.models for part in split(planned("spears", "shade", 40), untaught)] == [10] * 4


def test_a_line_of_several_evenings_counts_once() -> None:
    split = log_of(
        *(
            evening(did("spears", "base colours", 0, 50, finished=False), did("riders", "shade", 5, 30 + i))
            for i in range(2)
        ),
        evening(did("spears", "base colours", 5, 50)),
    )
    pace = learn(split)
    assert pace.lines_of_step["base colours"] == 1
    assert pace.blocks == 3


def test_round_figures_come_back_where_a_line_is_shown() -> None:
    # A log in half hours (Rietveld 2002, J. Transp. Stat. 5:71-82: most reported times are round).
    rng = np.random.default_rng(17)
    blocks = [
        b._replace(minutes=max(30.0, 30.0 * round(b.minutes / 30)))
        for b in steady_blocks(60, rng, spread=0.5)
    ]
    pace = fit(blocks)
    assert pace.grain_minutes == 30.0
    shown = pace.draw(FAR_ALONG, np.random.default_rng(3), DRAWS, as_logged=True)
    assert np.mean(np.abs(shown / 30 - np.round(shown / 30)) < 1e-6) > 0.5
    assert np.mean(np.abs(drawn(pace, FAR_ALONG) / 30 % 1) < 1e-6) < 0.01


def test_nothing_asked_is_nothing_drawn() -> None:
    assert learn(Records()).draw([], np.random.default_rng(1), 10).shape == (10, 0)


@pytest.mark.parametrize("minutes", [0.1, 1e5])
def test_extreme_minutes_stay_finite(minutes: float) -> None:
    blocks = steady_blocks(10, np.random.default_rng(18))
    pace = fit([b._replace(minutes=minutes) for b in blocks])
    assert np.isfinite(drawn(pace, FAR_ALONG)).all()
