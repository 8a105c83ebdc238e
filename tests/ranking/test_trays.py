"""Trays: room inside and outside, and what lies on one that is there."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.ranking.test_footprint import base
from tracker.domain.bases import Base
from tracker.domain.problems import DataError
from tracker.ranking.footprint import formed, mixed
from tracker.ranking.trays import on_tray, tray_for

sides = st.integers(10, 200).map(float)
decimals = st.integers(100, 2000).map(lambda tenths: tenths / 10)
counts = st.integers(1, 10)


# Arithmetic on play of 1 to 2 mm and 0.1 to 0.4 mm per base (common practice, no source).
def test_a_tray_for_five_by_four() -> None:
    tray = tray_for(formed(base("20"), 5, 4))
    assert tray.inside_mm[0] == pytest.approx((100 + 1 + 0.5, 80 + 1 + 0.4))
    assert tray.inside_mm[1] == pytest.approx((100 + 2 + 2.0, 80 + 2 + 1.6))
    assert tray.outside_mm[0] == pytest.approx((105.5, 85.4))
    assert tray.outside_mm[1] == pytest.approx((108, 87.6))
    assert tray.wall_mm == 2
    thick = tray_for(formed(base("20"), 5, 4), 3)
    assert thick.inside_mm == tray.inside_mm
    assert thick.outside_mm[0] == pytest.approx((107.5, 87.4))


def test_gaps_and_mixed_ranks_count() -> None:
    apart = tray_for(formed(base("20"), 5, 4, gap_mm=2))
    assert apart.inside_mm[0] == pytest.approx((108 + 1.5, 86 + 1.4))
    # Both ranks are 80 mm wide; four bases thicken the second by more than two the first.
    assert tray_for(mixed("50+30, 20+20+20+20")).inside_mm[1] == pytest.approx((80 + 1.6 + 2, 70 + 0.8 + 2))


@pytest.mark.parametrize("wall", [-0.1, math.nan, math.inf, 51])
def test_a_wall_that_cannot_be(wall: float) -> None:
    with pytest.raises(DataError, match=r"^wall: a wall of .* mm cannot be\. Say 0 to 50 mm$"):
        tray_for(formed(base("20"), 5, 4), wall)


# Arithmetic.
@pytest.mark.parametrize(
    ("tray", "size", "files", "ranks", "spare", "turned"),
    [
        ((210, 90), "20x20", 10, 4, (10, 10), False),
        ((126, 101), "25x50", 5, 2, (1, 1), False),
        ((101, 126), "25x50", 2, 5, (1, 1), True),
        ((100, 80), "20", 5, 4, (0, 0), False),
        ((99.9, 80), "20", 4, 4, (19.9, 0), False),
        ((114, 60), "28.5 round", 4, 2, (0, 3), False),
        ((60, 30), "60x35 oval", 0, 0, (60, 30), False),
    ],
)
def test_what_lies_on_a_tray(
    tray: tuple[float, float], size: str, files: int, ranks: int, spare: tuple[float, float], *, turned: bool
) -> None:
    found = on_tray(tray, base(size))
    assert (found.files, found.ranks, found.turned) == (files, ranks, turned)
    assert found.spare_mm == pytest.approx(spare)
    assert (found.tray_mm, found.base) == (tray, {"20": "20x20"}.get(size, size))


@given(decimals, decimals, counts, counts, st.integers(0, 1))
def test_the_tray_of_a_unit_holds_at_least_the_unit(
    w: float, d: float, files: int, ranks: int, end: int
) -> None:
    one = Base("rectangle", w, d)
    unit = formed(one, files, ranks)
    for tray in (tuple(unit.footprint), tray_for(unit).inside_mm[end]):
        found = on_tray((tray[0], tray[1]), one)
        if not found.turned:
            assert found.files >= files
            assert found.ranks >= ranks
        assert found.files * found.ranks >= files * ranks


@given(sides, sides, sides, sides)
def test_turning_the_tray_swaps_the_answer(width: float, depth: float, w: float, d: float) -> None:
    one = on_tray((width, depth), Base("rectangle", w, d))
    base_too = on_tray((depth, width), Base("rectangle", d, w))
    assert (base_too.files, base_too.ranks, base_too.turned) == (one.ranks, one.files, one.turned)
    assert base_too.spare_mm == one.spare_mm[::-1]
    tray_only = on_tray((depth, width), Base("rectangle", w, d))
    assert tray_only.files * tray_only.ranks == one.files * one.ranks


@given(sides, sides, sides, sides)
def test_one_more_base_does_not_lie_there(width: float, depth: float, w: float, d: float) -> None:
    one = on_tray((width, depth), Base("rectangle", w, d))
    if one.files:
        across, along = (d, w) if one.turned else (w, d)
        assert 0 <= one.spare_mm[0] < across
        assert 0 <= one.spare_mm[1] < along
