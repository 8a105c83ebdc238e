"""Points: days counted by hand on four paths, every choice tried by brute force, whole answers on a log."""

from __future__ import annotations

from datetime import timedelta
from itertools import combinations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.forecast.people import ROUTE, TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.domain.list_points import build_steps, points_of, with_target
from tracker.domain.progress import progress_of
from tracker.domain.records import Records, Unit
from tracker.forecast.least_work import least_work
from tracker.forecast.points import dated, reached

AS_OF = TUESDAY + timedelta(weeks=9)
READY = np.array([[1, 5, 9], [2, 3, 20], [4, 30, 30], [30, 6, 7]], dtype=np.int32)
"""Four paths, three units; day 30 lies beyond the horizon."""
POINTS = (10.0, 20.0, 40.0)


def test_days_by_hand() -> None:
    # Path by path, the points that are there day by day: 10 on day 1, 30 on 5, 70 on 9, and so on.
    for target, days, order in (
        (10, [1, 2, 4, 6], (0,)),
        (30, [5, 3, 30, 7], (0, 1)),  # the middle of 3, 5, 7, 30 is 5: the first path
        (50, [9, 20, 30, 7], (0, 1, 2)),
        (70, [9, 20, 30, 30], (0, 1, 2)),
        (71, [30, 30, 30, 30], (0,)),
    ):
        found = reached(READY, POINTS, target, 30)
        assert found.days.tolist() == days
        if target <= 70:
            assert found.order == order


@given(
    st.lists(st.lists(st.integers(0, 12), min_size=4, max_size=4), min_size=1, max_size=7),
    st.lists(st.integers(1, 9), min_size=4, max_size=4),
    st.integers(1, 30),
)
@settings(max_examples=40)
def test_days_as_counting_day_by_day_has_them(ready: list[list[int]], points: list[int], target: int) -> None:
    found = reached(np.array(ready, dtype=np.int32), points, target, 12)
    for path, day in zip(ready, found.days, strict=True):
        sums = (sum(p for p, on in zip(points, path, strict=True) if on <= today) for today in range(12))
        assert day == next((today for today, there in enumerate(sums) if there >= target), 12)


@given(
    st.lists(st.tuples(st.integers(1, 20), st.integers(1, 50)), min_size=1, max_size=8),
    st.integers(1, 90),
)
@settings(max_examples=40)
def test_no_choice_needs_less_work(units: list[tuple[int, int]], wanted: int) -> None:
    points, minutes = ([float(one[i]) for one in units] for i in (0, 1))
    found = least_work(points, minutes, wanted)
    every = [c for n in range(len(units) + 1) for c in combinations(range(len(units)), n)]
    enough = [sum(minutes[i] for i in c) for c in every if sum(points[i] for i in c) >= wanted]
    assert found.exact
    assert found.minutes == sum(minutes[i] for i in found.chosen)
    assert found.minutes == (min(enough) if enough else sum(minutes))


def test_many_odd_points_are_still_answered() -> None:
    rng = np.random.default_rng(3)
    points = rng.uniform(1, 100, 18).tolist()  # every choice stands by itself: none is better than another
    found = least_work(points, points, sum(points) / 2)
    assert sum(points[i] for i in found.chosen) >= sum(points) / 2
    assert not found.exact


def army() -> Records:
    """Units of 2, 3 and 4 models with 10, 20 and 40 points; the first is done but for its varnish."""
    known = small_army([2, 3, 4], regular_weeks(9))
    units = tuple(unit._replace(points=p) for unit, p in zip(known.units, POINTS, strict=True))
    known = known._replace(units=units)
    for step in ROUTE[:-1]:
        known = worked(known, 1, step, (1, 2), 1)
    return worked(known, 1, "varnish", (1,), 1)


def test_sums_by_hand() -> None:
    known = army()
    one = points_of(known, progress_of(known), known.armies[0])
    assert (one.planned, one.built, one.ready, one.ready_by_models) == (70.0, 10.0, 0.0, 5.0)
    assert with_target(one, None).state == "none"
    assert with_target(one, 70.0).state == "open"
    assert with_target(one, 71.0).state == "never"
    done = worked(known, 1, "varnish", (2,), 1)
    finished = with_target(points_of(done, progress_of(done), done.armies[0]), 10.0)
    assert (finished.state, finished.ready, finished.missing) == ("met", 10.0, 0.0)


def test_build_steps_end_with_the_assembly() -> None:
    unit = Unit(1, 1, "x", route=("cleaning", "my own", "assembly", "gap filling", "priming"))
    assert build_steps(unit) == ("cleaning", "assembly")
    assert build_steps(unit._replace(route=("cleaning", "priming"))) == ("cleaning",)
    assert build_steps(unit._replace(route=("priming",))) == ()


def test_the_units_with_the_least_work_come_sooner() -> None:
    known = army()
    one = with_target(points_of(known, progress_of(known), known.armies[0]), 40.0)
    answer = dated(known, FixedPace(10.0, 0.2), AS_OF, [one], draws=200)
    (told,) = answer.armies
    assert told.on_the_way == ("unit 1", "unit 2", "unit 3")
    assert told.soonest is not None
    # Unit 3 alone has the 40 points: 4 models of 6 steps; the first two units have only 30 together.
    assert told.soonest.units == ("unit 3",)
    assert all(
        sooner <= later
        for sooner, later in zip(told.soonest.reached, told.reached, strict=True)
        if sooner and later
    )
    small = dated(known, FixedPace(), AS_OF, [one._replace(target=10.0)], draws=100).armies[0]
    assert (small.on_the_way, small.soonest) == (("unit 1",), None)
