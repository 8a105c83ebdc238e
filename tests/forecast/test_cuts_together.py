"""What comes before a cut and what goes with it: the order first, one cut of each sort; luck in a gain."""

from __future__ import annotations

from datetime import timedelta

import pytest

from tests.forecast.people import TUESDAY, regular_weeks, small_army
from tests.forecast.test_whatif import NamedPace
from tracker.domain.answers_goals import CutsAnswer, RearSkip
from tracker.domain.records import Goal, Records
from tracker.domain.routes import usual_route
from tracker.domain.wishes import FewerModels, Filler, InOrder, Without
from tracker.forecast.cuts import least_cuts

AS_OF = TUESDAY + timedelta(weeks=9)
PATHS = 150


def army(*models: int) -> Records:
    known = small_army(models, regular_weeks(9))
    route = usual_route("infantry", "table-top")
    return known._replace(units=tuple(unit._replace(route=route, files=5) for unit in known.units))


def ask(known: Records, days: int, *units: int, least: int | None = None) -> CutsAnswer:
    goal = Goal(1, "game", AS_OF + timedelta(days=days), units, least_models=least)
    return least_cuts(known, NamedPace(), AS_OF, goal, draws=PATHS)


def test_doing_other_work_later_comes_first_and_gives_nothing_up() -> None:
    best = ask(army(14, 4), 120, 2).cuts[0]
    assert best.cuts == (InOrder((("unit 2", "host"),)),)
    assert best.given_up_minutes == best.saved_minutes == 0
    assert best.is_enough


@pytest.mark.parametrize("units", [(), (1,), (1, 2)])
def test_what_comes_first_anyway_has_nothing_to_come_before(units: tuple[int, ...]) -> None:
    cuts = [one for found in ask(army(14, 4), 60, *units).cuts for one in found.cuts]
    assert cuts
    assert not any(isinstance(one, InOrder) for one in cuts)


def test_cuts_come_on_top_of_the_order() -> None:
    answer = ask(army(14, 14), 110, 2, least=5)
    alone = max(one.chance for one in answer.cuts)
    assert not any(one.is_enough for one in answer.cuts)
    assert answer.together
    for both in answer.together:
        assert isinstance(both.cuts[0], InOrder)
        assert both.chance > alone


def test_together_each_sort_once_for_a_unit() -> None:
    for days in (60, 80, 100, 120, 150):
        for both in ask(army(12, 10), days, 1, 2, least=6).together:
            for unit in ("unit 1", "unit 2"):
                mine = [one for one in both.cuts if not isinstance(one, InOrder) and one.unit == unit]
                sorts = [type(one) for one in mine if not isinstance(one, RearSkip)]
                assert len(set(sorts)) == len(sorts)
                assert not {FewerModels, Filler} <= set(sorts)
                assert Without not in sorts or len(mine) == 1


def test_luck_leaves_the_gain_between_its_bounds() -> None:
    answer = ask(army(20), 180, 1, least=8)
    assert answer.cuts
    for one in answer.cuts:
        low, high = one.gain
        middle = one.chance - (answer.chance or 0.0)
        assert low <= middle <= high
        # Both plans meet the same luck and a cut keeps every path that was kept, so the gain is a plain
        # share of the paths: 1.96 standard errors sqrt(p (1 - p) / n) (Wald interval, any textbook).
        wide = 1.96 * (middle * (1 - middle) / PATHS) ** 0.5
        assert high == pytest.approx(min(middle + wide, 1.0))
        assert low == pytest.approx(middle - wide)
