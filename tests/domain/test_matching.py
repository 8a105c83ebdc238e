"""Which look stands best in a role: worked by hand, and with a best one planted among others."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.matching import (
    BASE_WEIGHT,
    HEIGHT_WEIGHT,
    KIND_WEIGHT,
    TAGS_WEIGHT,
    UNKNOWN,
    Look,
    Wish,
    also_best_for,
    base_fit,
    best_fits,
    fit_of,
    height_worth,
)

WISH = Wish("20x20", 28.0, "infantry", ("spear", "shield"))
GOOD = Look("20x20", 28.0, "infantry", "", ("spear", "shield"), 9)
BASES = ("20x20", "25x25", "25x50", "40x40", "25 round", "32 round", "50x100")
THINGS = ("spear", "shield", "bow", "banner", "drum", "hat")


@pytest.mark.parametrize(
    ("wanted", "has", "fit"),
    [
        ("20x20", "20 x 20 mm", "as wanted"),
        ("25x25", "20x20", "fits"),  # stands in a 25 mm place of a tray
        ("25x25", "25 round", "fits"),
        ("25x50", "50x25", "about"),
        ("25x25", "28 round", "about"),
        ("20x20", "40x40", "different"),
        ("50x100", "20x20", "different"),  # fits, but lost on so large a place
        ("20x20", "", "unknown"),
        ("", "20x20", "not asked"),
        ("a tile", "a TILE", "as wanted"),
        ("a tile", "20x20", "unknown"),
    ],
)
def test_bases_are_compared_as_they_stand_on_a_tray(wanted: str, has: str, fit: str) -> None:
    # Common practice, no source.
    assert base_fit(wanted, has) == fit


def test_heights_count_in_full_to_1_mm_and_not_at_all_from_6() -> None:
    worths = [height_worth(mm) for mm in (0, 1, -1, 3.5, -6, 20)]
    assert worths == [1.0, 1.0, 1.0, 0.5, 0.0, 0.0]
    assert height_worth(None) == UNKNOWN


def test_a_score_is_the_mean_of_what_is_asked() -> None:
    # By hand: the base differs, 3.5 mm is half, one of three words is shared, the kind is the same.
    look = Look("40x40", 31.5, "infantry", "", ("spear", "hat"), 1)
    by_hand = 0.0 * BASE_WEIGHT + 0.5 * HEIGHT_WEIGHT + TAGS_WEIGHT / 3 + KIND_WEIGHT
    assert fit_of(WISH, look).score == pytest.approx(by_hand)
    assert fit_of(WISH, GOOD).score == 1.0
    assert fit_of(WISH, GOOD._replace(part="rider")).score == 0.5
    only_height = Wish(height_mm=28.0)
    assert fit_of(only_height, look).score == 0.5
    assert fit_of(Wish(), look).score == 1.0


def test_no_other_likeness_makes_up_for_a_wrong_base() -> None:
    right_base_alone = Look("20x20", 50.0, "cavalry", "", ("bow",), 2)
    all_but_the_base = GOOD._replace(base="40x40", first=1)
    assert [fit.look for fit in best_fits(WISH, (all_but_the_base, right_base_alone, GOOD))] == [
        GOOD, right_base_alone, all_but_the_base,
    ]  # fmt: skip


def test_equal_ones_stand_by_their_numbers() -> None:
    taller, shorter = GOOD._replace(height_mm=29.0, first=7), GOOD._replace(height_mm=27.0, first=3)
    assert [fit.look.first for fit in best_fits(WISH, (taller, shorter))] == [3, 7]
    assert len(best_fits(WISH, (taller, shorter), most=1)) == 1


def test_a_spare_is_flagged_where_it_is_best_for_more_roles_than_it_can_fill() -> None:
    one, two = fit_of(WISH, GOOD), fit_of(WISH, GOOD._replace(alike=2))
    assert also_best_for([("a", one), ("b", one), ("c", None)]) == {"a": ("b",), "b": ("a",)}
    assert also_best_for([("a", two), ("b", two)]) == {}


def _worse(draw: st.DrawFn, wish: Wish, number: int) -> Look:
    """A look that misses what is wanted in at least one thing, and is no better in any."""
    base = draw(st.sampled_from(BASES))
    height = draw(st.one_of(st.none(), st.floats(20, 60)))
    tags = tuple(draw(st.lists(st.sampled_from(THINGS), unique=True, max_size=3)))
    kind = draw(st.sampled_from(("infantry", "cavalry", "")))
    look = Look(base, height, kind, "", tags, number)
    return look._replace(tags=("hat",)) if fit_of(wish, look).score == 1.0 else look


@st.composite
def planted(draw: st.DrawFn) -> tuple[Wish, list[Look], int]:
    """A wish, looks, and the number of the one that was made for it."""
    things = st.lists(st.sampled_from(THINGS[:5]), unique=True, min_size=1, max_size=3)
    wish = Wish(
        draw(st.sampled_from(BASES)), draw(st.integers(24, 55)) * 1.0, "infantry", tuple(draw(things))
    )
    best = draw(st.integers(1, 12))
    looks = [_worse(draw, wish, number) for number in range(1, 13)]
    height = (wish.height_mm or 0) + draw(st.floats(-1, 1))
    looks[best - 1] = Look(wish.base, height, "infantry", "", tuple(reversed(wish.tags)), best)
    return wish, draw(st.permutations(looks)), best


@settings(max_examples=40, deadline=None)
@given(planted())
def test_the_one_that_was_made_for_it_comes_first(said: tuple[Wish, list[Look], int]) -> None:
    wish, looks, best = said
    fits = best_fits(wish, looks)
    assert fits[0].look.first == best
    assert sorted(fits, key=lambda fit: -fit.score) == list(fits)
    assert all(0 <= fit.score <= 1 for fit in fits)
