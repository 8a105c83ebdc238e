"""The track record tells the truth about logs whose truth is known."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from tests.pace.hobbyists import live
from tracker.pace.blocks import Block
from tracker.pace.track_record import LINES_AHEAD, track_record

DAY = date(2026, 10, 31)


def test_steady_people_are_estimated_as_well_as_it_says() -> None:
    answers = [track_record(live(np.random.default_rng([77, i]), 60, 0.0).blocks, DAY, 1) for i in range(6)]
    count = sum(answer.blocks for answer in answers)
    assert count > 600
    for i, percent in enumerate((50, 80)):
        # Misses of one person hang together (their drift), so the bound is wider than the binomial one.
        assert sum(answer.held[i].held for answer in answers) / count == pytest.approx(
            percent / 100, abs=0.07
        )
    answer = answers[0]
    assert sum(answer.tenths) == answer.blocks
    # Ten equal bins of n outcomes: each is binomial (n, 0.1) if the ranges are right.
    assert answer.tenths_luck[0] < answer.blocks / 10 < answer.tenths_luck[1]
    assert answer.totals_luck[0] <= 0.8 * answer.totals <= answer.totals_luck[1]
    spreadsheet = answer.rivals[0]
    assert (spreadsheet.code, spreadsheet.blocks) == ("spreadsheet", answer.blocks)
    assert spreadsheet.score < spreadsheet.rival_score
    assert len(answer.rivals) == 1


@pytest.mark.parametrize(("times", "longer"), [(3.0, True), (1 / 3, False)])
def test_a_sudden_change_shows_with_the_right_sign(times: float, longer: bool) -> None:
    blocks = live(np.random.default_rng(12), 40, 0.0).blocks
    half = len(blocks) // 2
    changed = blocks[:half] + [b._replace(minutes=b.minutes * times) for b in blocks[half:]]
    steady, moved = (track_record(some, DAY, 1) for some in (blocks, changed))
    assert (moved.times > steady.times) is longer
    assert (moved.times > 1) is longer


def test_guesses_are_a_rival_on_the_lines_that_had_one() -> None:
    rng = np.random.default_rng(13)
    blocks = []
    for block in live(rng, 50, 0.0).blocks:
        # This person guesses a third short, give or take a little.
        guess = block.minutes * 0.67 * float(np.exp(0.2 * rng.standard_normal()))
        line = block.lines[0]._replace(guess_minutes=guess if rng.random() < 0.7 else None)
        blocks.append(block._replace(lines=(line,)))
    answer = track_record(blocks, DAY, 1)
    guess_rival = answer.rivals[1]
    assert guess_rival.code == "guess"
    assert 0 < guess_rival.blocks < answer.blocks
    # Once the bias is learned a guess that is off by a fifth is known to within a fifth.
    assert guess_rival.score < 0.2 < guess_rival.rival_score


def test_no_outcome_counts_twice() -> None:
    blocks = live(np.random.default_rng(14), 30, 1.0).blocks
    answer = track_record(blocks, DAY, 1)
    assert answer.blocks <= len(blocks)
    assert answer.totals <= sum(len(b.lines) for b in blocks) / LINES_AHEAD + 1
    assert track_record(blocks, DAY, 1) == answer


@pytest.mark.parametrize("blocks", [[], live(np.random.default_rng(1), 3, 0.0).blocks])
def test_too_little_history_has_no_numbers(blocks: list[Block]) -> None:
    answer = track_record(blocks, DAY, 1)
    assert (answer.blocks, answer.held, answer.rivals) == (0, (), ())
    assert [doubt.code for doubt in answer.doubts] == ["little-history"]
