"""Footprints against worked tables, the inch, and geometry."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.domain.bases import MM_PER_INCH, Base, Footprint, footprint, parse_base, parse_tray, written
from tracker.domain.problems import DataError, Problem
from tracker.ranking.footprint import formed, mixed, staggered

sides = st.integers(1, 1000).map(float)


def base(text: str) -> Base:
    found = parse_base(text)
    assert isinstance(found, Base)
    return found


# Arithmetic: width x depth in mm of 5 x 2, 5 x 4, 10 x 4 and 6 x 3 bases.
@pytest.mark.parametrize(
    ("size", "formations"),
    [
        ("20x20", ["100x40", "100x80", "200x80", "120x60"]),
        ("25x25", ["125x50", "125x100", "250x100", "150x75"]),
        ("30", ["150x60", "150x120", "300x120", "180x90"]),
        ("40", ["200x80", "200x160", "400x160", "240x120"]),
        ("50 mm", ["250x100", "250x200", "500x200", "300x150"]),
        ("60x60", ["300x120", "300x240", "600x240", "360x180"]),
        ("25x50", ["125x100", "125x200", "250x200", "150x150"]),
        ("30x60", ["150x120", "150x240", "300x240", "180x180"]),
        ("50x100", ["250x200"]),
    ],
)
def test_footprints_of_the_usual_formations(size: str, formations: list[str]) -> None:
    for (files, ranks), expected in zip(((5, 2), (5, 4), (10, 4), (6, 3)), formations, strict=False):
        width, depth = map(float, expected.split("x"))
        assert formed(base(size), files, ranks).footprint == Footprint(width, depth)


# Arithmetic; inches rounded to two places.
@pytest.mark.parametrize(
    ("files", "ranks", "size", "gap_mm", "mm", "inches"),
    [
        (5, 4, "20", 0, (100, 80), (3.94, 3.15)),
        (10, 4, "20", 0, (200, 80), (7.87, 3.15)),
        (7, 3, "25", 0, (175, 75), (6.89, 2.95)),
        (6, 2, "25x50", 0, (150, 100), (5.91, 3.94)),
        (5, 4, "20", 2, (108, 86), (4.25, 3.39)),
    ],
)
def test_footprints_in_mm_and_inches(  # noqa: PLR0917 - one row of the table
    files: int, ranks: int, size: str, gap_mm: float, mm: tuple[int, int], inches: tuple[float, float]
) -> None:
    found = formed(base(size), files, ranks, gap_mm=gap_mm).footprint
    assert tuple(found) == mm
    assert tuple(round(side, 2) for side in found.inches) == inches
    assert found == footprint(base(size), files, ranks, gap_mm)


# The international yard and pound agreement of 1959 (1 yd = 0.9144 m exactly, so 1 in = 25.4 mm); the same
# in ISO 80000-3. Inches of bases are arithmetic from it, rounded to three places.
def test_an_inch_is_exactly_25_4_mm() -> None:
    assert pytest.approx(914.4, abs=1e-12) == MM_PER_INCH * 36
    assert Footprint(25.4, 914.4).inches == pytest.approx((1, 36), abs=1e-12)
    usual = {
        20: 0.787, 25: 0.984, 28.5: 1.122, 30: 1.181, 32: 1.260, 40: 1.575, 50: 1.969, 60: 2.362, 100: 3.937,
    }  # fmt: skip
    assert {mm: round(Footprint(mm, mm).inches[0], 3) for mm in usual} == usual


def test_a_short_last_rank_takes_its_whole_depth() -> None:
    short = formed(base("20"), 5, models=18)
    assert (short.files, short.ranks, short.models, short.last_rank) == (5, 4, 18, 3)
    assert short.footprint == Footprint(100, 80)
    assert formed(base("20"), 5, 4, 18) == short
    assert formed(base("20"), 5, models=3).footprint == Footprint(60, 20)


@pytest.mark.parametrize(
    ("text", "mm", "counts"),
    [
        # Arithmetic: 50 + 30 = 4 x 20; the first rank is as deep as its deepest base.
        ("50+30, 20+20+20+20", (80, 70), (4, 2, 6, 4)),
        ("50x50+30x30", (80, 50), (2, 1, 2, 2)),
        ("25x50 + 25x50 , 25+25", (50, 75), (2, 2, 4, 2)),
        ("32 round+40 round", (72, 40), (2, 1, 2, 2)),
    ],
)
def test_mixed_ranks(text: str, mm: tuple[int, int], counts: tuple[int, int, int, int]) -> None:
    rows = mixed(text)
    assert tuple(rows.footprint) == mm
    assert (rows.files, rows.ranks, rows.models, rows.last_rank) == counts


# Geometry: the centres of three circles that touch are corners of an equilateral triangle, whose height is
# 0.866 of its side.
def test_staggered_rounds() -> None:
    width, depth = staggered(formed(base("25 round"), 4, 3)) or (0, 0)
    assert (width, round(depth, 1)) == (112.5, round(25 + 2 * 0.866 * 25, 1))
    centres = [(12.5, 12.5), (37.5, 12.5), (25.0, depth - 25 / 2 - (depth - 25) / 2)]
    assert [round(math.dist(centres[i], centres[i - 1]), 9) for i in range(3)] == [25, 25, 25]
    assert staggered(formed(base("25 round"), 4, 1)) == (100, 25)
    assert staggered(formed(base("25"), 4, 3)) is None
    assert staggered(mixed("25 round+32 round")) is None
    assert staggered(formed(base("20 round"), 5, models=6)) == pytest.approx((100, 20 + 17.3205), abs=1e-3)
    apart = staggered(formed(base("20 round"), 5, 2, gap_mm=2))
    assert apart == pytest.approx((5 * 20 + 4 * 2 + 11, 20 + 22 * math.sin(math.pi / 3)))


@given(sides, sides, st.integers(1, 20), st.integers(1, 10), st.integers(0, 10))
def test_a_quarter_turn_swaps_width_and_depth(w: float, d: float, files: int, ranks: int, gap: int) -> None:
    one = formed(Base("rectangle", w, d), files, ranks, gap_mm=gap).footprint
    other = formed(Base("rectangle", d, w), ranks, files, gap_mm=gap).footprint
    assert one == other[::-1]


@given(st.sampled_from(("rectangle", "oval", "round")), sides, sides)
def test_a_base_is_read_as_it_is_written(shape: str, w: float, d: float) -> None:
    one = Base(shape, w, w if shape == "round" else d)  # type: ignore[arg-type]
    assert parse_base(written(one)) == one


@pytest.mark.parametrize(
    ("files", "ranks", "models", "line"),
    [
        (0, 4, None, "files: 0 files cannot be. Say 1 to 100"),
        (-5, 4, None, "files: -5 files cannot be. Say 1 to 100"),
        (5, 0, None, "ranks: 0 ranks cannot be. Say 1 to 100"),
        (5, None, 0, "models: 0 models cannot be. Say 1 to 200"),
        (5, None, 10_000, "models: 10000 models cannot be. Say 1 to 200"),
        (5, None, None, "ranks: neither ranks nor models are said. Say one of them"),
        (50, 50, None, "files: 2500 places are more than one unit has here. Say files and ranks of"),
        (5, 4, 12, "models: 12 models cannot stand 5 wide and 4 deep. Say 16 to 20 models, or other files"),
        (5, 4, 21, "models: 21 models cannot stand 5 wide and 4 deep. Say 16 to 20 models, or other files"),
    ],
)
def test_what_cannot_stand_is_one_line(files: int, ranks: int | None, models: int | None, line: str) -> None:
    with pytest.raises(DataError) as refused:
        formed(base("20"), files, ranks, models)
    assert str(refused.value).startswith(line)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize("gap", [-1, math.nan, math.inf, 101])
def test_a_gap_that_cannot_be(gap: float) -> None:
    line = r"^gap: a gap of .* mm cannot be\. Say 0 to 100 mm$"
    with pytest.raises(DataError, match=line):
        formed(base("20"), 5, 4, gap_mm=gap)
    with pytest.raises(DataError, match=line):
        mixed("20+20", gap)


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("50+, 20", "rank 1"), ("", "rank 1"), ("20+20, 20+-20", "rank 2"), ("20, 0", "rank 2"),
        ("+".join(["20"] * 101), "files"), (",".join(["20"] * 101), "ranks"),
        (",".join(["20+20+20"] * 90), "files"),
    ],
)  # fmt: skip
def test_rows_that_cannot_be(text: str, where: str) -> None:
    with pytest.raises(DataError) as refused:
        mixed(text)
    assert str(refused.value).startswith(f"{where}: ")
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    "text", ["", "0", "-20", "20x", "0.5", "1001", "20x1001", "nan", "big\nbase", "9" * 500, "20x20x20"]
)
def test_what_is_no_base_is_one_line(text: str) -> None:
    found = parse_base(text)
    assert isinstance(found, Problem)
    assert "\n" not in str(found)
    assert len(str(found)) < 110


def test_a_tray_is_said_by_its_sides() -> None:
    assert parse_tray("210x90") == parse_tray(" 210 mm × 90mm ") == (210, 90)
    assert parse_tray("126,5*101.4") == (126.5, 101.4)
    for text in ("210", "210x90 oval", "0x90", "2100x90", "wide\nx", "-210x90"):
        assert isinstance(parse_tray(text), Problem)
