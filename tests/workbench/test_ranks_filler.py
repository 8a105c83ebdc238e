"""What fillers would do for a unit: how many may stand, and what one of them saves."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.workbench.answering import small_desk
from tracker.domain.problems import DataError
from tracker.domain.ranks import Block, RankNotes, RankRules
from tracker.domain.rows import RosterRow
from tracker.domain.wishes import Filler
from tracker.workbench import ranks_size
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.ranks_blocks import add_filler
from tracker.workbench.ranks_filler import fillers
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_size import size
from tracker.workbench.whatif import whatif

DRAWS = 100


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Twenty bows, five wide, beside units in work."""
    desk = small_desk(tmp_path)
    add_unit(desk, RosterRow("Bows", 20, "Host", base="20x20", files=5, ranks=4, added=date(2026, 10, 9)))
    return desk


def noted(patch: pytest.MonkeyPatch, rules: RankRules, *blocks: Block) -> None:
    """As if these were stored of every unit."""
    patch.setattr(ranks_size, "rank_notes", lambda _store, _unit_id: RankNotes(rules, blocks=blocks))


# Arithmetic: 20 places, half of them models, blocks of 2 x 2.
def test_count_and_room_say_how_many(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    noted(monkeypatch, RankRules(least_percent=50))
    answer = fillers(desk, "bows", draws=DRAWS)
    assert (answer.unit, answer.army, answer.cells, answer.block) == ("Bows", "Host", 20, (2, 2))
    assert (answer.most_fillers, answer.models_then, answer.min_models) == (2, 12, 10)
    noted(monkeypatch, RankRules(least_percent=50), Block(1, "filler", 1, 2, 2, 2))
    assert fillers(desk, "bows", draws=DRAWS)[4:7] == (1, 12, 10)


def test_what_one_saves_is_the_what_ifs_own_answer(desk: Desk) -> None:
    answer = fillers(desk, "Bows", seed=3, draws=DRAWS)
    assert answer == fillers(desk, "Bows", seed=3, draws=DRAWS)
    beside = whatif(desk, [Filler("Bows", 4)], seed=3, draws=DRAWS)
    bows = next(one for one in beside.units if one.unit == "Bows")
    assert answer.saved_days == -(bows.shift_days or 0)
    assert answer.saved_hours is not None
    low, middle, high = answer.saved_hours
    assert low < middle < high
    assert bows.before is not None
    assert bows.after is not None
    # The differences lie around the difference of the two middles.
    assert low < (bows.before.minutes_left[9] - bows.after.minutes_left[9]) / 60 < high
    assert [doubt.code for doubt in answer.doubts] == [
        "no-minimum", "little-history", *(doubt.code for doubt in beside.doubts[1:])
    ]  # fmt: skip
    assert desk.records().units[-1].name == "Bows"


def test_places_without_a_model_save_nothing(desk: Desk) -> None:
    add_unit(desk, RosterRow("Slings", 16, "Host", base="20", files=5, ranks=4))
    answer = fillers(desk, "Slings", draws=DRAWS)
    assert (answer.saved_hours, answer.saved_days) == (None, None)
    assert answer.doubts[-1].code == "empty-places"
    partly = fillers(desk, "Slings", "60x60", draws=DRAWS)
    assert partly.block == (3, 3)
    assert partly.saved_hours is not None


def test_no_room_saves_nothing(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    noted(monkeypatch, RankRules(least_models=18))
    answer = fillers(desk, "Bows", draws=DRAWS)
    assert (answer.most_fillers, answer.models_then, answer.saved_hours) == (0, 20, None)


def test_a_size_that_does_not_add_up_is_a_doubt(desk: Desk) -> None:
    answer = fillers(desk, "Bows", "50x50", draws=DRAWS)
    assert answer.block == (3, 3)
    assert answer.doubts[0].text.startswith("50x50 on 20x20 does not add up: 50 on 20 = 2.5 places: takes 3")


@pytest.mark.parametrize(
    ("unit", "block", "line"),
    [
        ("Bows", "200x200", "filler: a filler of 10 by 10 places is larger than 5 files by 4 ranks."),
        ("Bows", "0", 'base: "0" is no size a base can have.'),
        ("Bows", "large", 'base: "large" is not a base size.'),
        ("Spears", "40", 'ranks: "Spears" has no files and ranks. Say them: lastcoat ranks set "Spears"'),
        ("nobody", "40", '--unit: there is no unit "nobody".'),
    ],
)
def test_what_cannot_be_is_one_line(desk: Desk, unit: str, block: str, line: str) -> None:
    with pytest.raises(DataError) as refused:
        fillers(desk, unit, block, draws=DRAWS)
    assert str(refused.value).startswith(line)
    assert "\n" not in str(refused.value)


def test_a_minimum_above_the_places_is_one_line(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    noted(monkeypatch, RankRules(least_models=21))
    with pytest.raises(DataError, match=r"^minimum: a minimum of 21 models is more than the 20 places\."):
        fillers(desk, "Bows", draws=DRAWS)
    noted(monkeypatch, RankRules(), *[Block(i, "filler", 1, 2, 2, 2) for i in range(6)])
    with pytest.raises(DataError, match=r"^fillers: the larger bases take 24 places, and there are 20\."):
        fillers(desk, "Bows", draws=DRAWS)


def test_a_unit_without_a_base_is_asked_for_it(desk: Desk) -> None:
    add_unit(desk, RosterRow("Slings", 16, "Host", files=4, ranks=4))
    with pytest.raises(DataError, match=r'^base: "Slings" has no base\. Say it: lastcoat ranks set'):
        fillers(desk, "Slings", draws=DRAWS)


# Arithmetic: 20 places; the larger of 11 and half of them; two blocks of 2 x 2 leave 12.
def test_what_is_stored_of_the_ranks_counts(desk: Desk) -> None:
    set_ranks(desk, "Bows", RankWish(base="25x25", least_models=11, least_percent=50))
    assert fillers(desk, "Bows", "50x50", draws=DRAWS)[2:7] == (20, (2, 2), 2, 12, 11)
    add_filler(desk, "Bows", "50x50", "B2")
    answer = fillers(desk, "Bows", "50x50", draws=DRAWS)
    assert answer[2:7] == (20, (2, 2), 1, 12, 11)
    assert answer.saved_hours is not None
    room = size(desk, "Bows")
    assert (room.models, room.last_rank, room.warnings, room.min_models) == (16, 5, (), 11)
    assert (room.base, [base for base, _ in room.earlier_bases]) == ("25x25", ["20x20"])
