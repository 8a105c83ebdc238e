"""How much room a unit takes: stored, said, mixed; and what lies on a tray."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.desks import a_desk
from tracker.domain.problems import DataError, LastcoatError, UsageError
from tracker.domain.ranks import Block, RankNotes, RankRules
from tracker.domain.rows import RosterRow
from tracker.workbench import ranks_size
from tracker.workbench.adding import Figure, add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.ranks_size import fits_on, size

NO_LOG = Desk("no log")


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Twenty spears, five wide, and riders without files."""
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Spears", 20, base="20x20", files=5, ranks=4))
    add_unit(desk, RosterRow("Riders", 5, kind="cavalry"))
    return desk


def noted(patch: pytest.MonkeyPatch, notes: RankNotes) -> None:
    """As if these notes were stored of every unit."""
    patch.setattr(ranks_size, "rank_notes", lambda _store, _unit_id: notes)


# Arithmetic, as in tests/ranking; inside and outside by common practice, no source.
def test_a_stored_unit_has_its_footprint_and_tray(desk: Desk) -> None:
    answer = size(desk, "spears")
    assert (answer.what, answer.base, answer.files, answer.ranks) == ("Spears", "20x20", 5, 4)
    assert (answer.models, answer.last_rank, answer.footprint_mm) == (20, 5, (100, 80))
    assert answer.tray.inside_mm[0] == pytest.approx((101.5, 81.4))
    assert answer.tray.outside_mm[1] == pytest.approx((108, 87.6))
    assert (answer.min_models, answer.warnings, answer.earlier_bases) == (None, (), ())
    assert answer.staggered_mm is None


def test_what_is_said_stands_before_what_is_stored(desk: Desk) -> None:
    assert size(desk, "Spears", base="25x25").footprint_mm == (125, 100)
    wide = size(desk, "Spears", files=7)
    assert (wide.files, wide.ranks, wide.last_rank, wide.footprint_mm) == (7, 3, 6, (140, 60))
    deep = size(desk, "Spears", ranks=2)
    assert (deep.files, deep.ranks, deep.footprint_mm) == (10, 2, (200, 40))
    fewer = size(desk, "Spears", models=18)
    assert (fewer.models, fewer.last_rank, fewer.footprint_mm) == (18, 3, (100, 80))
    assert size(desk, "Spears", gap_mm=2).footprint_mm == (108, 86)
    assert size(desk, "Riders", files=3, base="25x50").footprint_mm == (75, 100)
    mixed = size(desk, "Spears", rows="50+30,20+20+20+20")
    assert (mixed.what, mixed.base, mixed.footprint_mm) == ("Spears", "50+30,20+20+20+20", (80, 70))


def test_a_unit_that_does_not_fill_its_places_is_told(desk: Desk) -> None:
    assert size(desk, "Spears", models=12).warnings == ("8 of 20 places stay empty.",)
    many = size(desk, "Spears", models=22)
    assert many.warnings == ("20 places are too few: 2 models would have none.",)
    assert (many.models, many.footprint_mm) == (22, (100, 80))


def test_larger_bases_take_their_places(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    add_unit(desk, RosterRow("Bows", 16, base="20", files=5, ranks=4))
    add_unit(desk, RosterRow("Bows", 1), more=True)
    filler = Block(1, "filler", 2, 2, 2, 2, model_id=42)
    noted(monkeypatch, RankNotes(blocks=(filler,)))
    assert desk.records().models[-1].id == 42
    answer = size(desk, "Bows")
    assert (answer.models, answer.last_rank, answer.warnings) == (16, 5, ())
    # 17 models now, four of them on one base of six places: 13 + 6.
    noted(monkeypatch, RankNotes(blocks=(Block(2, "multi-base", 1, 3, 3, 2, models=4),)))
    answer = size(desk, "Bows")
    assert (answer.models, answer.last_rank, answer.warnings) == (17, 4, ())
    # One of the 17 stands on four places: 16 + 4.
    noted(monkeypatch, RankNotes(blocks=(Block(2, "large model", 1, 1, 2, 2, models=1, model_id=21),)))
    assert size(desk, "Bows").last_rank == 5


def test_scenery_in_a_unit_is_no_model_of_it(desk: Desk) -> None:
    add_unit(desk, RosterRow("Bows", 3, base="20", files=2, ranks=1), figures=[Figure("stump", "scenery")])
    assert (size(desk, "Bows").models, size(desk, "Bows").warnings) == (2, ())


def test_rules_and_earlier_bases_come_with_it(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    noted(monkeypatch, RankNotes(RankRules(gap_mm=2, least_models=11, least_percent=50)))
    monkeypatch.setattr(ranks_size, "bases_before", lambda _store, _id: (("25x25", date(2026, 1, 2)),))
    answer = size(desk, "Spears")
    assert (answer.footprint_mm, answer.min_models) == ((108, 86), 11)
    assert answer.earlier_bases == (("25x25", "2026-01-02"),)
    noted(monkeypatch, RankNotes(RankRules(least_percent=60)))
    assert size(desk, "Spears", files=6, ranks=5, models=30).min_models == 18
    noted(monkeypatch, RankNotes(RankRules(least_models=21)))
    assert size(desk, "Spears").warnings == ("The minimum of 21 models is more than 20 places.",)


def test_sizes_alone_need_no_log() -> None:
    answer = size(NO_LOG, files=5, ranks=4, base="25 round", models=18, wall_mm=3)
    assert (answer.what, answer.models, answer.last_rank) == ("5 x 4 of 25 round", 18, 3)
    assert (answer.footprint_mm, answer.tray.wall_mm) == ((125, 100), 3)
    # Geometry: half a base wider, rows 0.866 diameters apart.
    assert answer.staggered_mm == pytest.approx((137.5, 25 + 3 * 0.8660254 * 25))
    assert size(NO_LOG, files=5, base="20", models=18).ranks == 4
    rows = size(NO_LOG, rows="50+30, 20+20+20+20")
    assert (rows.what, rows.base, rows.models, rows.warnings) == ("50+30, 20+20+20+20", "", 6, ())
    assert size(NO_LOG, rows="50+25, 20+20+20+20").warnings == (
        "Rank 1 is 75 mm wide, the widest 80 mm: 5 mm stay open.",
    )


@given(st.integers(1, 12), st.integers(1, 10), st.integers(20, 60), st.integers(20, 100))
def test_a_tray_of_the_inside_holds_the_unit(files: int, ranks: int, width: int, depth: int) -> None:
    base = f"{width}x{depth}"
    for inside in size(NO_LOG, files=files, ranks=ranks, base=base).tray.inside_mm:
        if max(inside) <= 1000:
            found = fits_on(NO_LOG, f"{inside[0]}x{inside[1]}", base)
            assert found.files * found.ranks >= files * ranks
            assert found.turned or (found.files >= files and found.ranks >= ranks)


def test_what_lies_on_a_tray() -> None:
    answer = fits_on(NO_LOG)
    assert (answer.tray_mm, answer.files, answer.ranks, answer.spare_mm) == ((210, 90), 10, 4, (10, 10))
    assert fits_on(NO_LOG, "90x210").files == 4
    assert fits_on(NO_LOG, "101x126", "25x50").turned


@pytest.mark.parametrize(
    ("asked", "line"),
    [
        ({}, "size: it is not said of what. Name a unit, or say --files 5 --ranks 4 --base 20x20"),
        ({"files": 5, "base": "20"}, "size: it is not said of what."),
        ({"files": 0, "ranks": 4, "base": "20"}, "files: 0 files cannot be. Say 1 to 100"),
        ({"files": 5, "base": "20", "models": 10_000}, "models: 10000 models cannot be. Say 1 to 200"),
        ({"files": 5, "ranks": 4, "base": "-20"}, 'base: "-20" is not a base size.'),
        ({"files": 5, "ranks": 4, "base": "5000"}, 'base: "5000" is no size a base can have.'),
        ({"files": 5, "ranks": 4, "base": "20", "gap_mm": -1.0}, "gap: a gap of -1 mm cannot be."),
        ({"files": 5, "ranks": 4, "base": "20", "wall_mm": -1.0}, "wall: a wall of -1 mm cannot be."),
        ({"rows": "50+x"}, 'rank 1: "x" is not a base size. Write rows like'),
    ],
)
def test_what_cannot_be_is_one_line(asked: dict[str, object], line: str) -> None:
    with pytest.raises(LastcoatError) as refused:
        size(NO_LOG, **asked)  # type: ignore[arg-type]
    assert str(refused.value).startswith(line)
    assert "\n" not in str(refused.value)
    assert isinstance(refused.value, UsageError) == line.startswith("size")


def test_a_unit_that_cannot_be_sized_is_one_line(desk: Desk) -> None:
    with pytest.raises(DataError, match=r'^base: "Riders" has no base\. Say it: lastcoat ranks set "Riders"'):
        size(desk, "Riders")
    with pytest.raises(
        DataError, match=r'^ranks: "Riders" has no files and ranks\. Say them: lastcoat ranks'
    ):
        size(desk, "Riders", base="25x50")
    with pytest.raises(DataError, match=r"^files: 0 files cannot be"):
        size(desk, "Spears", files=0)
    with pytest.raises(DataError, match=r"^ranks: 0 ranks cannot be"):
        size(desk, "Spears", ranks=0)
    with pytest.raises(DataError, match="there is no unit"):
        size(desk, "nobody")
    with pytest.raises(DataError, match=r'^tray: "wide" is no tray size'):
        fits_on(desk, "wide")
