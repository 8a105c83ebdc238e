"""Blocks on places: what adds up, and what is said where it does not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.ranking.test_footprint import base
from tracker.domain.bases import Base
from tracker.ranking.footprint import mixed
from tracker.ranking.tiling import tiling, tiling_warning, uneven_rows


# Arithmetic.
@pytest.mark.parametrize(
    ("block", "place", "files", "ranks"),
    [
        ("40x40", "20", 2, 2),
        ("60x40", "20", 3, 2),
        ("50x50", "25", 2, 2),
        ("75x50", "25", 3, 2),
        ("50x100", "25", 2, 4),
        ("50x50", "25x50", 2, 1),
        ("100x50", "25x50", 4, 1),
        ("20x20", "20", 1, 1),
        ("40.4x39.6", "20", 2, 2),
        ("60 round", "20", 3, 3),
    ],
)
def test_blocks_that_add_up(block: str, place: str, files: int, ranks: int) -> None:
    found = tiling(base(block), base(place))
    assert (found.files, found.ranks, found.places) == (files, ranks, files * ranks)
    assert found.is_exact
    assert not found.turned
    assert tiling_warning(base(block), base(place)) == ""


def test_a_block_is_turned_where_only_that_adds_up() -> None:
    assert tiling(base("50x75"), base("25x50")) == (3, 1, (0, 0), True)
    assert tiling(base("75x50"), base("25x50")) == (3, 1, (0, 0), False)
    assert tiling(base("60x40"), base("25x30")) == (2, 2, (10, 0), True)
    assert tiling(base("50x25"), base("25x50")) == (1, 1, (0, 0), True)


# Arithmetic: places taken side by side, and mm left.
@pytest.mark.parametrize(
    ("block", "place", "takes", "spare", "said", "together"),
    [
        ("50", "20", 3, 10, "2.5", "; two side by side make 5 places"),
        ("40", "25", 2, 10, "1.6", ""),
        ("60", "25", 3, 15, "2.4", ""),
        ("30", "20", 2, 10, "1.5", "; two side by side make 3 places"),
        ("50", "40", 2, 30, "1.25", ""),
        ("100", "30", 4, 20, "3.33", "; three side by side make 10 places"),
    ],
)
def test_blocks_that_do_not_add_up(  # noqa: PLR0917 - one row of the table
    block: str, place: str, takes: int, spare: float, said: str, together: str
) -> None:
    found = tiling(base(block), base(place))
    assert (found.files, found.ranks, found.spare_mm) == (takes, takes, (spare, spare))
    assert tiling_warning(base(block), base(place)) == (
        f"{block}x{block} on {place}x{place} does not add up: "
        f"{block} on {place} = {said} places: takes {takes} and leaves {spare} mm{together}."
    )


def test_each_side_that_does_not_add_up_is_said() -> None:
    assert tiling_warning(base("40x30"), base("20")) == (
        "40x30 on 20x20 does not add up: "
        "30 on 20 = 1.5 places: takes 2 and leaves 10 mm; two one behind the other make 3 places."
    )
    both = tiling_warning(base("60x35"), base("25x30"))
    assert "35 on 25 = 1.4 places" in both
    assert "60 on 30" not in both
    both = tiling_warning(base("40x45"), base("25x30"))
    assert "40 on 25 = 1.6 places: takes 2 and leaves 10 mm; " in both
    assert "45 on 30 = 1.5 places: takes 2 and leaves 15 mm; two one behind the other make 3 places." in both


def test_rows_whose_widths_do_not_sum() -> None:
    assert uneven_rows(mixed("50+30, 20+20+20+20")) == ()
    assert uneven_rows(mixed("50+30, 20+20+20")) == ()
    assert uneven_rows(mixed("50+25, 20+20+20+20")) == (
        "Rank 1 is 75 mm wide, the widest 80 mm: 5 mm stay open.",
    )
    assert len(uneven_rows(mixed("20+20+20, 50, 25+25"))) == 2
    assert uneven_rows(mixed("20+20+20,20+20+20,20+20", 2)) == ()


@given(*[st.integers(10, 200).map(float) for _ in range(4)])
def test_a_block_lies_within_its_places(wide: float, deep: float, w: float, d: float) -> None:
    found = tiling(Base("rectangle", wide, deep), Base("rectangle", w, d))
    block = (deep, wide) if found.turned else (wide, deep)
    for side, place, takes in zip(block, (w, d), (found.files, found.ranks), strict=True):
        assert takes * place >= side - 0.5
        assert takes == 1 or (takes - 1) * place < side - 0.5
    assert found.is_exact == (tiling_warning(Base("rectangle", wide, deep), Base("rectangle", w, d)) == "")
