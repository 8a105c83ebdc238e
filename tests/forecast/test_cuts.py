"""Cuts: a bigger one never lowers the chance, the least that is enough is found, hours add up."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import TUESDAY, FixedPace, regular_weeks, small_army, worked
from tests.forecast.test_whatif import NamedPace
from tracker.domain.answers_goals import CutsAnswer, RearSkip
from tracker.domain.cut_records import cut_records, ladders, minutes_left_behind
from tracker.domain.progress import progress_of
from tracker.domain.records import Goal, Records
from tracker.domain.routes import usual_route
from tracker.domain.wishes import AtStandard, FewerModels, Filler, Without
from tracker.forecast.again import Again
from tracker.forecast.cuts import least_cuts
from tracker.forecast.goals import chance_of

AS_OF = TUESDAY + timedelta(weeks=9)
EVENINGS = regular_weeks(9)
PROGRESS = progress_of(Records())


def army(*models: int, files: int | None = 5) -> Records:
    known = small_army(models, EVENINGS)
    route = usual_route("infantry", "table-top")
    return known._replace(units=tuple(unit._replace(route=route, files=files) for unit in known.units))


def goal_of(days: int, *units: int, least: int | None = None) -> Goal:
    return Goal(1, "game", AS_OF + timedelta(days=days), units, least_models=least)


def ask(known: Records, goal: Goal) -> CutsAnswer:
    return least_cuts(known, NamedPace(), AS_OF, goal, draws=150)


@settings(max_examples=10, deadline=None)
@given(st.lists(st.integers(4, 14), min_size=1, max_size=3), st.integers(5, 400), st.data())
def test_a_bigger_cut_never_lowers_the_chance(models: list[int], days: int, data: st.DataObject) -> None:
    known, goal = army(*models, files=3), goal_of(days, *range(1, len(models) + 1))
    again = Again(known, FixedPace(spread=0.2), AS_OF, 1, 100)
    rungs = ladders(known, known.units[0], "host", goal, again.futures.progress)
    # More of the same: fewer models, more scenery in their place. A quicker standard is another route.
    for ladder in (ladder for ladder in rungs if isinstance(ladder[0], FewerModels | Filler)):
        small, big = sorted(data.draw(st.tuples(*[st.integers(0, len(ladder) - 1)] * 2)))
        chances = [
            chance_of(goal, again.of(cut_records(known, cuts, again.futures.progress, AS_OF))) or 0.0
            for cuts in ([ladder[small]], [ladder[big]])
        ]
        assert chances == sorted(chances)


def test_the_least_cut_that_is_enough() -> None:
    known, goal = army(20), goal_of(160, 1, least=8)
    answer = ask(known, goal)
    assert answer.chance is not None
    assert answer.chance < 0.8
    enough = [cut for cut in answer.cuts if cut.is_enough]
    assert [cut.given_up_minutes for cut in enough] == sorted(cut.given_up_minutes for cut in enough)
    (fewer,) = [cut.cuts[0] for cut in enough if isinstance(cut.cuts[0], FewerModels)]
    again = Again(known, NamedPace(), AS_OF, 1, 150)
    # Every smaller cut is not enough: by exhaustive search.
    for n in range(1, 13):
        plan = cut_records(known, [FewerModels("unit 1", n)], again.futures.progress, AS_OF)
        assert ((chance_of(goal, again.of(plan)) or 0.0) >= 0.8) == (n >= fewer.fewer)
    assert answer == ask(known, goal)
    assert answer.together == ()


def test_nothing_to_cut() -> None:
    safe = ask(army(3), goal_of(700, 1))
    assert (safe.chance or 0.0) >= 0.8
    assert safe.cuts == safe.together == ()
    gone = ask(army(3), goal_of(700, 9))
    assert (gone.chance, gone.cuts, gone.is_met) == (None, (), False)


def test_cuts_put_together_where_one_is_not_enough() -> None:
    known, goal = army(16, 16), goal_of(120, 1, 2, least=10)
    answer = ask(known, goal)
    assert not any(cut.is_enough for cut in answer.cuts)
    assert answer.together
    best = max(cut.chance for cut in answer.cuts)
    assert all(len(both.cuts) > 1 and both.chance > best for both in answer.together)


def test_what_is_offered_for_which_goal() -> None:
    known = army(12)
    unit = known.units[0]

    def sorts(goal: Goal) -> set[type]:
        return {type(ladder[0]) for ladder in ladders(known, unit, "host", goal, PROGRESS)}

    whole = {FewerModels, Filler, AtStandard, RearSkip, Without}
    assert sorts(goal_of(9, 1)) == whole
    assert sorts(goal_of(9, 1, least=12)) == whole - {FewerModels, Filler}
    assert sorts(goal_of(9)._replace(models=5)) == whole - {FewerModels, Filler}
    assert sorts(goal_of(9)._replace(points=5.0)) == whole - {FewerModels}
    fewer = ladders(known, unit, "host", goal_of(9, 1, least=7), PROGRESS)[0]
    assert fewer == [FewerModels("unit 1", n, "host") for n in range(1, 6)]
    plain = army(12, files=None)
    assert RearSkip not in {
        type(one[0]) for one in ladders(plain, plain.units[0], "", goal_of(9, 1), PROGRESS)
    }


def test_rear_ranks_skip_what_is_not_done() -> None:
    known = worked(army(12), 1, "highlights", [11, 12], 3)
    progress = progress_of(known)
    (skip,) = [
        cut
        for ladder in ladders(known, known.units[0], "host", goal_of(9, 1), progress)
        for cut in ladder
        if isinstance(cut, RearSkip) and cut.step == "highlights"
    ]
    assert skip.models == 12 - 5 - 2  # without the front rank, and without those that have it
    after = progress_of(cut_records(known, [skip], progress, AS_OF))
    skipped = [n for n in range(1, 13) if after.cells.get((n, "highlights")) and n not in {11, 12}]
    assert skipped == [6, 7, 8, 9, 10]


def test_minutes_that_would_stay_behind() -> None:
    known = worked(army(4, 2), 1, "cleaning", [1, 2, 3, 4], 1)  # an evening of 60 minutes
    plan = cut_records(known, [FewerModels("unit 1", 1)], PROGRESS, AS_OF)
    assert minutes_left_behind(known, plan) == pytest.approx(15.0)
    whole = cut_records(known, [Without("unit 1"), Without("unit 2")], PROGRESS, AS_OF)
    assert minutes_left_behind(known, whole) == pytest.approx(60.0)
    assert minutes_left_behind(known, known) == 0
