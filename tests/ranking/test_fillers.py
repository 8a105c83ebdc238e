"""Fillers under a minimum model count, and the room behind the front rank."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.domain.problems import DataError
from tracker.domain.ranks import Block
from tracker.ranking.fillers import fillers_allowed, least_models, models_left, room_for, saved_by

FILLER = Block(1, "filler", 1, 2, 2, 2)


# Arithmetic: 40 places, half, blocks of 2 x 2; 20 places; 30 places at 60 %.
@pytest.mark.parametrize(
    ("files", "ranks", "percent", "most", "models"),
    [(10, 4, 50, 5, 20), (8, 5, 50, 5, 20), (5, 4, 50, 2, 12), (6, 5, 60, 3, 18)],
)
def test_as_many_as_count_and_room_allow(
    files: int, ranks: int, percent: float, most: int, models: int
) -> None:
    found = fillers_allowed(files, ranks, (2, 2), least_models(files * ranks, percent=percent))
    assert (found.most_fillers, found.models_left) == (most, models)


# Arithmetic; the last one: behind the front rank of 10 x 4 there is room for five, side by side.
def test_the_larger_of_two_rules_counts() -> None:
    assert least_models(40, percent=50) == 20
    assert least_models(30, percent=60) == 18
    assert least_models(20, percent=55) == 11
    assert least_models(20, percent=51) == 11
    assert least_models(40, fixed=21, percent=50) == 21
    assert least_models(40, fixed=11, percent=50) == 20
    assert least_models(40) == 0
    assert fillers_allowed(10, 4, (2, 2), 20) == (20, 5, 20)


def test_the_front_rank_stays_models() -> None:
    assert fillers_allowed(5, 2, (2, 2), 0).most_fillers == 0
    assert fillers_allowed(5, 3, (2, 2), 0) == (0, 2, 7)
    assert fillers_allowed(5, 4, (5, 4), 0) == (0, 0, 20)
    assert fillers_allowed(5, 4, (2, 2), 20) == (20, 0, 20)


def test_a_block_lies_across_where_places_are_square() -> None:
    assert room_for(6, 3, (1, 3)) == 0
    assert room_for(6, 3, (1, 3), may_turn=True) == 4
    assert room_for(5, 3, (3, 2), may_turn=True) == 1
    with pytest.raises(DataError, match="larger than 3 files by 9 ranks"):
        fillers_allowed(3, 9, (4, 1), 0)
    assert fillers_allowed(3, 9, (4, 1), 0, may_turn=True).most_fillers == 6


def test_blocks_that_stand_already_count() -> None:
    assert fillers_allowed(5, 4, (2, 2), 10, blocks=[FILLER]) == (10, 1, 12)
    assert fillers_allowed(5, 4, (2, 2), 0, blocks=[FILLER]) == (0, 1, 12)
    in_the_middle = FILLER._replace(file=2, rank=3)
    assert fillers_allowed(5, 4, (2, 2), 0, blocks=[in_the_middle]) == (0, 1, 12)
    shared = Block(2, "multi-base", 1, 2, 3, 2, models=4)
    assert saved_by([shared]) == 2
    assert models_left(20, [shared, FILLER]) == 14
    large = Block(3, "large model", 1, 1, 2, 2, models=1)
    assert models_left(20, [large]) == 17
    assert fillers_allowed(5, 4, (2, 2), 18, blocks=[large]).most_fillers == 0


@pytest.mark.parametrize(
    ("least", "line"),
    [
        ({"fixed": 21}, "minimum: a minimum of 21 models is more than the 20 places. Say 20 or fewer"),
        ({"fixed": -1}, "minimum: a minimum of -1 models cannot be. Say 0 or more"),
        ({"percent": 101.0}, "minimum: a minimum of 101 % cannot be. Say 0 to 100 %"),
        ({"percent": float("nan")}, "minimum: a minimum of nan % cannot be. Say 0 to 100 %"),
    ],
)
def test_a_minimum_that_cannot_be(least: dict[str, float], line: str) -> None:
    with pytest.raises(DataError) as refused:
        least_models(20, **least)  # type: ignore[arg-type]
    assert str(refused.value) == line


def test_what_does_not_fit_is_one_line() -> None:
    with pytest.raises(DataError, match=r"^filler: a filler of 6 by 2 places is larger than 5 files by 4 "):
        fillers_allowed(5, 4, (6, 2), 0)
    with pytest.raises(DataError, match=r"^fillers: the larger bases take 24 places, and there are 20\."):
        models_left(20, [FILLER] * 6)
    with pytest.raises(DataError, match=r"^models: a base on 4 places cannot hold 5 models\. Say 0 to 4"):
        saved_by([FILLER._replace(models=5)])


@given(st.integers(1, 12), st.integers(1, 8), st.integers(1, 4), st.integers(1, 4), st.booleans())
def test_room_is_never_less_than_side_by_side_nor_more_than_places(
    files: int,
    ranks: int,
    wide: int,
    deep: int,
    turn: bool,
) -> None:
    found = room_for(files, ranks, (wide, deep), may_turn=turn)
    plain = (files // wide) * ((ranks - 1) // deep)
    across = (files // deep) * ((ranks - 1) // wide) if turn else 0
    assert max(plain, across) <= found <= files * (ranks - 1) // (wide * deep)
    if not turn:
        assert found == plain


@given(st.integers(1, 12), st.integers(1, 8), st.integers(0, 100))
def test_the_minimum_is_kept(files: int, ranks: int, percent: int) -> None:
    places = files * ranks
    least = least_models(places, percent=percent)
    # Whole numbers: the least n with 100 n >= percent * places.
    assert 100 * (least - 1) < percent * places <= 100 * least
    if files >= 2 and ranks >= 2:
        assert fillers_allowed(files, ranks, (2, 2), least).models_left >= least
