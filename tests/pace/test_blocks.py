"""From the log to blocks: which lines share minutes that nobody told apart.

What a block is follows the product's own rules, no outside source; minutes are added up by hand.
"""

from __future__ import annotations

import pytest

from tests.builders import did, evening, log_of
from tracker.domain.records import Records
from tracker.pace.blocks import TIED_MOST, Block, blocks_of


def told(blocks: list[Block]) -> list[tuple[list[str], float, int, bool]]:
    """Steps, minutes, evening and bound of each block."""
    return [([line.step for line in b.lines], b.minutes, b.evening, b.at_least) for b in blocks]


def test_an_empty_log_has_no_blocks() -> None:
    assert blocks_of(Records()) == []


def test_a_timed_line_stands_alone() -> None:
    log = log_of(evening(did("spears", "cleaning", 5, 30), did("spears", "assembly", 5, 45)))
    assert told(blocks_of(log)) == [(["cleaning"], 30, 0, False), (["assembly"], 45, 0, False)]


def test_untimed_lines_share_what_the_evening_leaves() -> None:
    log = log_of(
        evening(
            did("spears", "cleaning", 5, 30), did("spears", "assembly"), did("riders", "shade"), minutes=90
        )
    )
    assert told(blocks_of(log)) == [(["cleaning"], 30, 0, False), (["assembly", "shade"], 60, 0, False)]


def test_a_step_of_several_evenings_is_one_line() -> None:
    log = log_of(
        evening(did("spears", "base colours", 0, 40, finished=False, guess_minutes=100)),
        evening(did("spears", "base colours", 0, 50, finished=False)),
        evening(did("spears", "base colours", 5, 20, guess_minutes=15)),
    )
    [block] = blocks_of(log)
    assert told([block]) == [(["base colours"], 110, 2, False)]
    assert (block.lines[0].models, block.lines[0].guess_minutes) == (5, 100)


def test_what_is_in_hand_is_a_lower_bound() -> None:
    log = log_of(evening(did("spears", "base colours", 3, 40, finished=False)))
    assert told(blocks_of(log)) == [(["base colours"], 40, 0, True)]


def test_a_longer_step_ties_the_evenings_it_spans() -> None:
    # The first evening's 80 minutes went to assembly and shade; assembly went on in the second.
    log = log_of(
        evening(did("spears", "assembly", 0, finished=False), did("riders", "shade"), minutes=80),
        evening(did("spears", "assembly", 5, 30)),
    )
    [block] = blocks_of(log)
    assert sorted(line.step for line in block.lines) == ["assembly", "shade"]
    assert (block.minutes, block.evening, block.at_least) == (110, 1, False)


def test_progress_without_minutes_teaches_nothing() -> None:
    log = log_of(
        evening(did("spears", "cleaning"), did("spears", "assembly")), evening(did("spears", "shade", 5, 30))
    )
    assert told(blocks_of(log)) == [(["shade"], 30, 1, False)]


def test_an_evening_whose_minutes_are_used_up_teaches_nothing_of_the_rest() -> None:
    log = log_of(evening(did("spears", "cleaning", 5, 60), did("spears", "assembly"), minutes=60))
    assert told(blocks_of(log)) == [(["cleaning"], 60, 0, False)]


def test_a_step_partly_untold_is_a_lower_bound() -> None:
    log = log_of(
        evening(did("spears", "base colours", 0, finished=False)),
        evening(did("spears", "base colours", 5, 50)),
    )
    assert told(blocks_of(log)) == [(["base colours"], 50, 1, True)]


def test_a_long_tangle_is_cut_into_runs() -> None:
    # More steps than may be tied: two runs of about equal length, and the minutes still add up.
    lines = [did(f"unit {i}", "base colours", 5) for i in range(TIED_MOST + 3)]
    blocks = blocks_of(log_of(evening(*lines, minutes=600)))
    assert sorted(len(block.lines) for block in blocks) == [(TIED_MOST + 3) // 2, (TIED_MOST + 4) // 2]
    assert sum(block.minutes for block in blocks) == pytest.approx(600)


def test_a_cut_divides_only_the_evening_it_goes_through() -> None:
    # Every evening ends in the middle of a step, so all are tied; the run that ends in the fourth evening
    # has the first three whole, and of the fourth the share that the trade expects.
    count = 2 * TIED_MOST
    evenings = [
        evening(
            *([did(f"unit {i - 1}", "base colours", 5)] if i else []),
            did(f"unit {i}", "base colours", 0 if i < count - 1 else 5, finished=i == count - 1),
            minutes=60,
        )
        for i in range(count)
    ]
    first, second = blocks_of(log_of(*evenings))
    assert len(first.lines) == len(second.lines) == TIED_MOST
    assert first.minutes == pytest.approx(60 * TIED_MOST + 30)
    assert second.minutes == pytest.approx(60 * TIED_MOST - 30)


def test_practice_counts_the_models_done_before() -> None:
    log = log_of(
        evening(did("spears", "shade", 4, 20)),
        evening(did("spears", "shade", 6, 20), did("riders", "shade", 3, 10)),
        evening(did("spears", "shade", 2, 9)),
    )
    assert [(b.lines[0].unit, b.lines[0].done_before) for b in blocks_of(log)] == [
        ("spears", 0),
        ("spears", 4),
        ("riders", 0),
        ("spears", 10),
    ]


def test_a_character_in_a_unit_keeps_its_own_kind() -> None:
    log = log_of(evening(did("spears", "shade", 1, 20)), evening(did("spears", "shade", 2, 20)))
    captain = log.models[0]._replace(kind="character")
    first, second = log.lines
    records = log._replace(
        models=(captain, *log.models[1:]),
        lines=(
            first._replace(model_ids=(captain.id,)),
            second._replace(model_ids=tuple(m.id for m in log.models[1:3])),
        ),
    )
    assert [block.lines[0].kind for block in blocks_of(records)] == ["character", "infantry"]


def test_a_guess_for_a_whole_unit_reaches_its_lines() -> None:
    log = log_of(evening(did("spears", "shade", 5, 20)), evening(did("riders", "shade", 5, 20)))
    spears = log.units[0]._replace(guess_minutes=900.0, route=("cleaning", "shade"))
    first, second = blocks_of(log._replace(units=(spears, *log.units[1:])))
    assert first.lines[0].unit_guess_log is not None
    assert second.lines[0].unit_guess_log is None
