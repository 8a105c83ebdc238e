"""Columns, groups and periods: what the engine is given for a log."""

from __future__ import annotations

import numpy as np
import pytest

from tests.builders import planned, timed
from tracker.domain.answers import PlannedLine
from tracker.pace.blocks import Block
from tracker.pace.design import (
    PERIODS_MOST,
    autoregression,
    build,
    columns_of,
    design_matrix,
    grain,
    offsets,
    period_lines,
    period_memory,
    periods_of,
)
from tracker.pace.effects import BATCH_MIDDLE_MODELS, effects_of
from tracker.pace.priors import Priors, log_minutes

PRIORS = Priors()


def test_an_autoregression_has_the_textbook_covariance() -> None:
    # Stationary AR(1) of variance 1: covariance memory^|i - j| (any text on time series).
    for size, memory in ((1, 0.9), (2, 0.5), (6, 0.9)):
        lag = np.abs(np.subtract.outer(np.arange(size), np.arange(size)))
        assert np.linalg.inv(autoregression(size, memory)) == pytest.approx(memory**lag, abs=1e-12)


def test_periods_count_lines_and_keep_evenings_whole() -> None:
    blocks = [timed(planned(), 30, evening) for evening in (0, 0, 0, 1, 1, 2)]
    assert periods_of(blocks, 2) == [0, 0, 0, 1, 1, 2]
    backwards = [blocks[i] for i in (2, 1, 0, 4, 3, 5)]
    assert periods_of(backwards, 2) == [0, 0, 0, 1, 1, 2]


def test_a_break_is_no_period() -> None:
    # Time at the desk counts: evening 500 follows evening 1.
    blocks = [timed(planned(), 30, evening) for evening in (0, 1, 500, 501)]
    assert periods_of(blocks, 2) == [0, 0, 1, 1]


def test_periods_of_a_long_log_are_longer_and_forget_more() -> None:
    assert period_lines(100, PRIORS) == PRIORS.drift_lines
    lines = period_lines(100_000, PRIORS)
    assert -(-100_000 // lines) <= PERIODS_MOST
    # Two short periods in one long one: the memory is the product (AR(1)).
    assert period_memory(2 * PRIORS.drift_lines, PRIORS) == pytest.approx(PRIORS.drift_memory**2)


def test_columns_do_not_depend_on_the_order_of_lines() -> None:
    lines = [planned("spears", "shade"), planned("riders", "assembly"), planned("bows", "varnish")]
    assert columns_of(lines, 2) == columns_of(lines[::-1], 2)


def test_every_column_belongs_to_one_effect_or_period() -> None:
    columns = columns_of([planned("spears", "shade"), planned("riders", "assembly")], 3)
    taken = sorted(column for places in columns.places.values() for column in places.values())
    assert taken == list(range(columns.size - 3))


def test_a_row_holds_the_sizes_of_its_effects() -> None:
    lines = [planned("spears", "shade", 10), planned("riders", "assembly", 5)]
    columns = columns_of(lines, 2)
    rows = design_matrix(lines, columns, [0, 1]).toarray()
    for line, row, period in zip(lines, rows, (0, 1), strict=True):
        expected = np.zeros(columns.size)
        for group, name, size in effects_of(line):
            expected[columns.places[group][name]] += size
        expected[columns.size - 2 + period] = 1.0
        assert row == pytest.approx(expected)


def test_an_effect_without_a_column_is_left_out() -> None:
    columns = columns_of([planned("spears", "shade")], 0)
    row = design_matrix([planned("strangers", "shade")], columns, None).toarray()[0]
    assert row[columns.places["unit"][next(iter(columns.places["unit"]))]] == 0
    assert row[columns.places["step"]["shade"]] == 1


def test_material_weighs_on_building_and_the_standard_on_colours() -> None:
    def groups(step: str) -> set[str]:
        return {group for group, _, _ in effects_of(planned("spears", step))}

    assert "material" in groups("assembly")
    assert "standard" not in groups("assembly")
    assert "standard" in groups("base colours")
    assert "material" not in groups("base colours")
    assert not {"material", "standard"} & groups("tufts")
    assert "standard" not in groups("priming")
    assert "own steps" in groups("gilding the lily")


def test_the_batch_exponent_turns_at_the_middle_batch() -> None:
    def batch(models: int) -> float:
        return next(size for group, _, size in effects_of(planned(models=models)) if group == "batch")

    assert batch(int(BATCH_MIDDLE_MODELS)) == 0
    assert batch(10) == pytest.approx(np.log(2))
    assert batch(0) == batch(1)


def test_offsets_are_the_trades_minutes() -> None:
    # The middle of a first lot of five: practice neither helps nor hinders there.
    third = PlannedLine("", "spears", "base colours", 1, done_before=2)
    assert offsets([third], PRIORS) == pytest.approx([log_minutes(third)])


def test_rounded_minutes_are_intervals_and_bounds_stay_bounds() -> None:
    blocks = [
        timed(planned(), 30.0),
        timed(planned(), 400.0),
        Block((planned("riders", "shade"),), 45.0, 0, at_least=True),
    ]
    sample = build(blocks, PRIORS, 15.0).sample
    assert (sample.low[0], sample.high[0]) == (22.5, 37.5)
    # 7.5 in 400 minutes is nothing; exact is quicker.
    assert (sample.low[1], sample.high[1]) == (400.0, 400.0)
    assert (sample.low[2], sample.high[2]) == (45.0, np.inf)


def test_steps_have_a_noise_of_their_own() -> None:
    blocks = [timed(planned(step=step), 30) for step in ("shade", "Shade", "assembly")]
    design = build(blocks, PRIORS, 1.0)
    assert design.noise_classes == {"assembly": 0, "shade": 1}
    assert design.sample.noise_class.tolist() == [1, 1, 0]


@pytest.mark.parametrize(
    ("minutes", "size"),
    [
        ([30.0, 60, 90, 30, 60, 120, 30, 60, 90, 30], 30.0),
        ([15.0, 30, 45, 60, 75, 90, 15, 30, 45, 60], 15.0),
        ([10.0, 20, 30, 40, 50, 10, 20, 70, 80, 10], 10.0),
        ([5.0, 20, 35, 45, 10, 55, 25, 15, 40, 65], 5.0),
        ([7.0, 22, 31, 44, 13, 58, 26, 19, 41, 66], 1.0),
        ([30.0] * 9, 1.0),
    ],
)
def test_the_grain_people_round_to(minutes: list[float], size: float) -> None:
    # Reported times are multiples of 5, 15 or 30 in 85-95 % of cases (Rietveld 2002, J. Transp. Stat.
    # 5:71-82); nine figures are too few to say so.
    assert grain(minutes) == size


def test_one_figure_in_ten_may_be_odd() -> None:
    assert grain([30.0] * 9 + [37.0]) == 30.0
    assert grain([30.0] * 8 + [37.0, 41.0]) == 1.0
