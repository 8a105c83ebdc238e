"""How a person's guesses run: learned from the log, used for lines that come with one."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tests.builders import planned, steady_blocks
from tracker.pace.blocks import Block
from tracker.pace.fit import fit
from tracker.pace.guesses import GuessHabit

DRAWS = 4000


def with_guesses(blocks: list[Block], times: float, scatter: float, rng: np.random.Generator) -> list[Block]:
    """Every line was guessed at `times` its true minutes, give or take `scatter` on the log scale."""
    return [
        block._replace(
            lines=(
                block.lines[0]._replace(
                    guess_minutes=block.minutes * times * math.exp(scatter * rng.standard_normal())
                ),
            )
        )
        for block in blocks
    ]


def habit(blocks: list[Block]) -> GuessHabit:
    found = fit(blocks).guess
    assert found is not None
    return found


def test_no_guesses_no_habit() -> None:
    assert fit(steady_blocks(20, np.random.default_rng(1))).guess is None


def test_the_bias_is_the_mean_log_ratio() -> None:
    # Definition, by hand: guesses at half the minutes are short by log 2.
    blocks = with_guesses(steady_blocks(30, np.random.default_rng(2)), 0.5, 0.0, np.random.default_rng(3))
    found = habit(blocks)
    assert found.guesses == 30
    assert found.log_bias == pytest.approx(math.log(2))
    assert found.kept_share == 0


def test_guesses_kept_to_the_minute_are_counted() -> None:
    blocks = steady_blocks(40, np.random.default_rng(4))
    kept = with_guesses(blocks[:30], 1.0, 0.0, np.random.default_rng(5))
    missed = with_guesses(blocks[30:], 0.7, 0.0, np.random.default_rng(5))
    assert habit(kept + missed).kept_share == pytest.approx(0.75)


def test_a_kept_guess_gives_its_figure() -> None:
    blocks = with_guesses(steady_blocks(80, np.random.default_rng(6)), 1.0, 0.0, np.random.default_rng(7))
    pace = fit(blocks)
    line = planned("spears", "shade", 5)
    usual = float(np.median(pace.draw([line], np.random.default_rng(8), DRAWS)))
    guess = round(usual)
    drawn = pace.draw([line._replace(guess_minutes=guess)], np.random.default_rng(8), DRAWS)
    assert np.mean(np.abs(drawn - guess) < 1e-6) > 0.8


def test_a_guess_moves_the_estimate_towards_itself() -> None:
    # Guesses that were right within a tenth are worth more than the pace's own 30 % scatter.
    rng = np.random.default_rng(9)
    pace = fit(with_guesses(steady_blocks(80, rng, spread=0.5), 1.0, 0.15, rng))
    line = planned("spears", "shade", 5)
    plain = float(np.median(pace.draw([line], np.random.default_rng(10), DRAWS)))
    medians = [
        float(
            np.median(
                pace.draw([line._replace(guess_minutes=plain * times)], np.random.default_rng(10), DRAWS)
            )
        )
        for times in (0.5, 1.0, 2.0)
    ]
    assert medians[0] < 0.85 * plain
    assert medians[2] > 1.15 * plain
    assert medians[0] < medians[1] < medians[2]


def test_right_guesses_narrow_the_range() -> None:
    rng = np.random.default_rng(11)
    pace = fit(with_guesses(steady_blocks(100, rng, spread=0.6), 1.0, 0.1, rng))
    line = planned("spears", "shade", 5)
    usual = float(np.median(pace.draw([line], np.random.default_rng(12), DRAWS)))

    def width(guess: float | None) -> float:
        drawn = pace.draw([line._replace(guess_minutes=guess)], np.random.default_rng(12), DRAWS)
        low, high = np.quantile(np.log(drawn), (0.1, 0.9))
        return float(high - low)

    assert width(usual) < 0.75 * width(None)


def test_guesses_always_short_are_lengthened() -> None:
    # Guesses at half the minutes, steadily: a new guess of g is answered nearer to 2 g than to g.
    rng = np.random.default_rng(13)
    pace = fit(with_guesses(steady_blocks(100, rng), 0.5, 0.1, rng))
    line = planned("spears", "shade", 5)
    usual = float(np.median(pace.draw([line], np.random.default_rng(14), DRAWS)))
    drawn = pace.draw([line._replace(guess_minutes=usual / 2)], np.random.default_rng(14), DRAWS)
    assert np.median(drawn) > 0.75 * usual


def test_a_guess_before_any_habit_is_learned_does_no_harm() -> None:
    pace = fit(steady_blocks(20, np.random.default_rng(15)))
    line = planned("spears", "shade", 5)
    plain = pace.draw([line], np.random.default_rng(16), DRAWS)
    guessed = pace.draw([line._replace(guess_minutes=25.0)], np.random.default_rng(16), DRAWS)
    assert np.median(guessed) == pytest.approx(np.median(plain), rel=0.05)
