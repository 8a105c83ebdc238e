"""Wishes as changes of records: what becomes of models, routes and the order, and what is refused."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.forecast.people import ROUTE, TUESDAY, regular_weeks, small_army, worked
from tracker.domain.problems import DataError
from tracker.domain.progress import alive, progress_of
from tracker.domain.records import Records
from tracker.domain.routes import usual_route
from tracker.domain.wished import wished
from tracker.domain.wishes import (
    AtStandard,
    Away,
    FewerModels,
    Filler,
    First,
    InOrder,
    MoreEvenings,
    NewUnit,
    OnlyModels,
    Wish,
    Without,
)
from tracker.domain.work import work_left

DAY = TUESDAY + timedelta(weeks=3)


def army() -> Records:
    """Three units; two models of the first are cleaned."""
    known = small_army([6, 3, 2], regular_weeks(3))
    return worked(known, 1, "cleaning", [1, 2], 1)


def names_in_order(known: Records) -> list[str]:
    return [unit.unit.name for unit in work_left(known) if unit.models]


def test_an_order_of_some_keeps_the_others_behind() -> None:
    assert names_in_order(wished(army(), [First("unit 3")], DAY)) == ["unit 3", "unit 1", "unit 2"]
    some = InOrder((("UNIT 2", ""), ("unit 3", "host")))
    assert names_in_order(wished(army(), [some], DAY)) == ["unit 2", "unit 3", "unit 1"]
    both = wished(army(), [some, First("unit 1")], DAY)
    assert names_in_order(both) == ["unit 1", "unit 2", "unit 3"]


def test_the_least_begun_models_go_first() -> None:
    known = wished(army(), [FewerModels("unit 1", 4)], DAY)
    assert [model.id for model in alive(known.models, 1)] == [1, 2]
    assert known == wished(army(), [OnlyModels("unit 1", 2)], DAY)
    assert work_left(wished(army(), [OnlyModels("unit 2", 5)], DAY))[1].models == 5


def test_a_unit_left_out_and_a_new_one_at_the_end() -> None:
    known = wished(army(), [Without("unit 2"), NewUnit("bows", 4, "cavalry", "metal", "good")], DAY)
    assert names_in_order(known) == ["unit 1", "unit 3", "bows"]
    new = known.units[-1]
    assert (new.kind, new.material, new.standard, new.army_id) == ("cavalry", "metal", "good", 1)
    assert new.route == usual_route("cavalry", "good", "metal")
    alone = wished(Records(), [NewUnit("bows", 4)], DAY)
    assert (alone.armies[0].name, len(alone.models)) == ("My army", 4)
    assert wished(army(), [NewUnit("bows", 1, army="other")], DAY).armies[-1].name == "other"


def test_a_filler_is_scenery_that_skips_what_scenery_skips() -> None:
    route = usual_route("infantry", "table-top")
    known = army()
    known = known._replace(units=tuple(unit._replace(route=route) for unit in known.units))
    known = wished(known, [Filler("unit 1", 3)], DAY)
    filler = alive(known.models, 1)[-1]
    assert filler.kind == "scenery"
    assert len(alive(known.models, 1)) == 6 - 3 + 1
    lines = [line for line in work_left(known)[0].lines if filler.id in line.model_ids]
    assert tuple(line.step for line in lines) == usual_route("scenery", "table-top")


def test_another_standard_takes_its_usual_route_and_counts_paint_that_is_on() -> None:
    known = army()
    usual = tuple(unit._replace(route=usual_route("infantry", "table-top")) for unit in known.units)
    known = worked(known._replace(units=usual), 1, "base colours", [1], 2)
    quick = wished(known, [AtStandard("unit 1", "quick")], DAY)
    assert quick.units[0].route == usual_route("infantry", "quick")
    assert progress_of(quick).is_done(1, "one-coat colours")
    assert not progress_of(quick).is_done(2, "one-coat colours")
    back = wished(quick, [AtStandard("unit 1", "table-top")], DAY)
    assert progress_of(back).is_done(1, "base colours")


def test_a_route_of_ones_own_stays() -> None:
    known = wished(army(), [AtStandard("unit 1", "display")], DAY)
    assert (known.units[0].standard, known.units[0].route) == ("display", ROUTE)


def test_wishes_of_evenings_change_no_records() -> None:
    assert wished(army(), [MoreEvenings(1), Away(DAY, DAY)], DAY) == army()


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        (Without("unti 1"), 'there is no unit "unti 1". Did you mean'),
        (Without("unit 1", "elsewhere"), 'there is no unit "unit 1"'),
        (First("nobody"), "See lastcoat army"),
        (FewerModels("unit 2", 3), '3 models fewer cannot be, "unit 2" has 3'),
        (FewerModels("unit 2", 0), "0 models fewer cannot be"),
        (Filler("unit 3", 2), "Say 1 to 1"),
        (OnlyModels("unit 2", 0), "0 models are no unit"),
        (NewUnit("unit 2", 4), 'there is a unit "unit 2" already'),
        (NewUnit(" ", 4), "a new unit needs a name and models"),
        (NewUnit("bows", 0), "a new unit needs a name and models"),
        (InOrder((("unit 1", ""), ("unit 1", ""))), "names no unit, or one twice"),
        (InOrder(()), "names no unit, or one twice"),
    ],
)
def test_what_cannot_be(wish: Wish, said: str) -> None:
    with pytest.raises(DataError) as refusal:
        wished(army(), [wish], DAY)
    assert said in str(refusal.value)
    assert str(refusal.value).startswith("what if: ")


def test_a_name_in_two_armies_asks_for_the_army() -> None:
    known = army()
    same = (*known.units[:2], known.units[2]._replace(name="unit 1", army_id=2))
    known = known._replace(units=same, armies=(*known.armies, known.armies[0]._replace(id=2, name="guard")))
    with pytest.raises(DataError, match="stands in more than one army"):
        wished(known, [Without("unit 1")], DAY)
    assert names_in_order(wished(known, [Without("unit 1", "guard")], DAY)) == ["unit 1", "unit 2"]
