"""How the pace behaves: odd evenings, names, order, scale, history, totals, batches, guesses."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.pace.hobbyists import live
from tracker.domain.answers import PlannedLine
from tracker.pace.blocks import Block
from tracker.pace.fit import fit
from tracker.pace.kept import from_bytes, to_bytes
from tracker.pace.pace import Pace

STEPS = ("cleaning", "assembly", "base colours", "shade", "highlights")
NEW = [PlannedLine("army", "new", step, 5) for step in STEPS]


def steady(count: int, seed: int = 1, noise: float = 0.3) -> list[Block]:
    """Timed lines of five models on six units in turn."""
    rng = np.random.default_rng(seed)
    middle = dict(zip(STEPS, (40.0, 50.0, 95.0, 14.0, 48.0), strict=True))
    out = []
    for i in range(count):
        step = STEPS[i % 5]
        line = PlannedLine("army", f"unit {i // 5 % 6}", step, 5)
        out.append(Block((line,), middle[step] * float(np.exp(noise * rng.standard_normal())), i // 2))
    return out


def medians(pace: Pace, lines: list[PlannedLine] = NEW) -> NDArray[np.float64]:
    """Median minutes of each line."""
    return np.asarray(np.median(pace.draw(lines, np.random.default_rng(1), 4000), axis=0))


def test_one_absurd_evening_moves_no_median_by_more_than_a_twentieth() -> None:
    blocks = steady(60)
    odd = [*blocks[:33], blocks[33]._replace(minutes=blocks[33].minutes * 10), *blocks[34:]]
    assert medians(fit(odd)) == pytest.approx(medians(fit(blocks)), rel=0.05)


def test_names_of_units_mean_nothing() -> None:
    blocks = steady(60)
    names = {f"unit {i}": f"{chr(90 - i)} host" for i in range(6)}
    other = [b._replace(lines=(b.lines[0]._replace(unit=names[b.lines[0].unit]),)) for b in blocks]
    assert medians(fit(other)) == pytest.approx(medians(fit(blocks)), rel=0.02)
    asked = PlannedLine("army", "unit 2", "shade", 5)
    renamed = asked._replace(unit=names["unit 2"])
    assert fit(other).middle_log_minutes(renamed) == pytest.approx(
        fit(blocks).middle_log_minutes(asked), abs=0.02
    )


def test_the_order_of_an_evenings_lines_means_nothing() -> None:
    blocks = steady(60)
    swapped = [blocks[i ^ 1] for i in range(60)]
    one, other = fit(blocks), fit(swapped)
    for line in NEW:
        assert other.middle_log_minutes(line) == pytest.approx(one.middle_log_minutes(line), abs=1e-4)


def test_twice_the_minutes_is_twice_the_estimate_once_the_log_outweighs_the_trade() -> None:
    blocks = steady(250)
    double = [b._replace(minutes=2 * b.minutes) for b in blocks]
    assert medians(fit(double)) == pytest.approx(2 * medians(fit(blocks)), rel=0.03)


def test_more_of_the_same_narrows() -> None:
    widths = []
    for count in (0, 10, 40, 160):
        total = fit(steady(count)).draw(NEW, np.random.default_rng(1), 4000).sum(axis=1)
        low, high = np.quantile(total, [0.1, 0.9])
        widths.append(float(np.log(high / low)))
    assert widths == sorted(widths, reverse=True)
    # Nothing logged: painters differ about fivefold end to end, and so does the 80 % range, nearly.
    assert 3 < np.exp(widths[0]) < 7


def test_an_empty_log_is_the_trade() -> None:
    # Trade's medians per model 7, 8, 18, 2, 9 with 3 minutes of set-up each, five models at once.
    expected = [3 + 5 * each for each in (7, 8, 18, 2, 9)]
    assert medians(fit([])) == pytest.approx(expected, rel=0.1)


def test_a_total_is_joint() -> None:
    drawn = fit(steady(20)).draw(NEW, np.random.default_rng(1), 4000)
    total = np.diff(np.quantile(drawn.sum(axis=1), [0.1, 0.9]))[0]
    widths = np.diff(np.quantile(drawn, [0.1, 0.9], axis=0), axis=0)[0]
    assert np.sqrt(np.sum(widths**2)) < total < widths.sum()


def test_time_already_spent_is_behind() -> None:
    pace = fit(steady(40))
    line = PlannedLine("army", "unit 1", "base colours", 5)
    fresh, begun = (medians(pace, [line._replace(spent_minutes=spent)])[0] for spent in (0.0, 60.0))
    assert 0 < begun < fresh
    # Far past all expectation something is still left, and no longer much.
    late = medians(pace, [line._replace(spent_minutes=2000.0)])[0]
    assert 0 < late < 2000


def test_the_same_seed_draws_the_same() -> None:
    pace = fit(steady(40))
    first, again = (pace.draw(NEW, np.random.default_rng(3), 500) for _ in range(2))
    assert np.array_equal(first, again)


def test_many_models_are_worked_in_the_usual_batches() -> None:
    pace = fit(steady(60))
    five, forty = (medians(pace, [PlannedLine("army", "new", "shade", n)])[0] for n in (5, 40))
    assert forty == pytest.approx(8 * five, rel=0.2)


def test_guesses_move_the_estimate_and_a_kept_one_is_its_figure() -> None:
    rng = np.random.default_rng(5)
    blocks = []
    for block in steady(120, noise=0.6):
        kept = rng.random() < 0.6
        guess = block.minutes if kept else block.minutes * float(np.exp(0.5 * rng.standard_normal()))
        line = block.lines[0]._replace(guess_minutes=round(guess, 1))
        blocks.append(Block((line,), round(block.minutes, 1), block.evening))
    pace = fit(blocks)
    line = PlannedLine("army", "new", "base colours", 5)
    usual, guessed = medians(pace, [line])[0], medians(pace, [line._replace(guess_minutes=40.0)])[0]
    assert 35 < guessed < usual
    drawn = pace.draw([line._replace(guess_minutes=90.0)], np.random.default_rng(1), 4000)
    assert 0.4 < np.mean(np.abs(drawn - 90.0) < 1e-6) < 0.75


def test_a_guess_for_the_whole_unit_counts() -> None:
    pace = fit(steady(60))
    long, short = (
        medians(pace, [line._replace(unit_guess_log=said) for line in NEW]).sum() for said in (0.7, -0.7)
    )
    assert long > 1.2 * short


@pytest.mark.parametrize("blocks", [[], steady(5), live(np.random.default_rng(2), 40).blocks])
def test_a_kept_pace_is_the_same_pace(blocks: list[Block]) -> None:
    pace = fit(blocks)
    again = from_bytes(to_bytes(pace))
    assert again is not None
    assert np.array_equal(
        again.draw(NEW, np.random.default_rng(1), 300), pace.draw(NEW, np.random.default_rng(1), 300)
    )
    assert from_bytes(to_bytes(pace)[:200]) is None
    assert from_bytes(b"") is None


def test_where_the_search_begins_does_not_matter() -> None:
    blocks = live(np.random.default_rng(8), 60).blocks
    cold, warm = fit(blocks), fit(blocks, start=fit(blocks[:-4]))
    assert medians(warm) == pytest.approx(medians(cold), rel=1e-7)
