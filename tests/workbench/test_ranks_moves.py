"""Units whose models come and go can still be ranked."""

from __future__ import annotations

from pathlib import Path

from tests.desks import NOW, a_desk
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.ranks import plan_ranks
from tracker.workbench.ranks_blocks import add_filler, drop_block
from tracker.workbench.ranks_rules import RankWish, set_ranks
from tracker.workbench.ranks_say import hold
from tracker.workbench.units_shape import merge, split, to_spares


def two_units(folder: Path) -> Desk:
    """Spears and Bows, six models each, three files by two ranks."""
    desk = a_desk(folder)
    for name in ("Spears", "Bows"):
        add_unit(desk, RosterRow(name, 6, base="20x20", files=3, ranks=2, added=NOW.date()))
    return desk


def test_units_whose_models_keep_the_same_place_can_join(tmp_path: Path) -> None:
    """Those that were there keep it; those that come are free."""
    desk = two_units(tmp_path)
    for name in ("Spears", "Bows"):
        hold(desk, name, "1", "B1")
    merge(desk, "Bows", "Spears")
    set_ranks(desk, "Spears", RankWish(files=6))
    answer = plan_ranks(desk, "Spears")
    assert len(answer.placed) == 12
    assert [one.model_id for one in answer.placed if one.place == "B1"] == [1]


def test_a_part_that_is_split_off_keeps_no_place_it_does_not_have(tmp_path: Path) -> None:
    """C2 lies outside of a unit of two by one."""
    desk = two_units(tmp_path)
    hold(desk, "Spears", "6", "C2")
    split(desk, "Spears", "5-6", "Vanguard")
    set_ranks(desk, "Vanguard", RankWish(files=2, ranks=1, base="20x20"))
    assert len(plan_ranks(desk, "Vanguard").placed) == 2


def test_scenery_that_became_a_spare_outlives_its_filler(tmp_path: Path) -> None:
    """It is in no unit's ranks any more."""
    desk = two_units(tmp_path)
    add_filler(desk, "Spears", "40x20", "A1", name="rock")
    scenery = next(model for model in desk.records().models if model.name == "rock")
    to_spares(desk, "Spears", str(scenery.number))
    drop_block(desk, "Spears", "A1")
    assert [model.unit_id for model in desk.records().models if model.id == scenery.id] == [None]
