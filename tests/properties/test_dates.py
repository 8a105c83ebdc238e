"""What must never happen to a date, on whole forecasts under the same luck.

Promises of the product, no outside source: more work, fewer evenings or a longer wait never brings a date
forward; a finished unit stays finished; a unit put last moves no other. Every date of the answer is
compared, path by path there would be nothing else to see: all plans meet the same evenings.
"""

from __future__ import annotations

from datetime import timedelta

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.builders import steady_blocks
from tests.forecast.people import TUESDAY, FixedPace, regular_weeks, small_army, worked
from tracker.domain.answers import ForecastAnswer
from tracker.domain.records import Model, OwnStep, Records
from tracker.domain.routes import usual_route
from tracker.forecast.futures import simulate_minutes
from tracker.forecast.outlook import forecast, simulate
from tracker.forecast.rhythm import Rhythm
from tracker.pace import learn
from tracker.pace.fit import fit
from tracker.pace.pace import Pace

DRAWS = 150
AS_OF = TUESDAY + timedelta(weeks=6)
ROUTES = (
    usual_route("infantry", "table-top"),
    usual_route("cavalry", "good", "metal"),
    ("cleaning", "assembly", "shade", "gilding the lily"),
)
PACES = (learn(Records()), fit(steady_blocks(60, np.random.default_rng(4))))

armies = st.lists(st.integers(1, 24), min_size=1, max_size=4)
paces = st.sampled_from(PACES)
seeds = st.integers(0, 1000)
routes = st.lists(st.sampled_from(ROUTES), min_size=5, max_size=5)


def army(sizes: list[int], unit_routes: list[tuple[str, ...]]) -> Records:
    """Six weeks of evenings and units "unit 1", "unit 2" … on these routes."""
    records = small_army(sizes, regular_weeks(6))
    units = tuple(u._replace(route=r) for u, r in zip(records.units, unit_routes, strict=False))
    return records._replace(units=units)


def ready(answer: ForecastAnswer) -> dict[str, list[int]]:
    """Days from the start at every level, by unit; beyond two years counts as the latest."""
    return {
        one.unit: [(day - TUESDAY).days if day else 10**6 for day in one.ready] for one in answer.units
    }  # fmt: skip


def none_earlier(later: ForecastAnswer, usual: ForecastAnswer) -> bool:
    """Whether no unit of the usual answer is ready sooner in the later one."""
    there = ready(later)
    return all(
        a >= b for unit, days in ready(usual).items() for a, b in zip(there[unit], days, strict=True)
    )  # fmt: skip


@settings(max_examples=15, deadline=None)
@given(armies, routes, paces, seeds)
def test_a_unit_put_last_moves_no_other(
    sizes: list[int], unit_routes: list[tuple[str, ...]], pace: Pace, seed: int
) -> None:
    usual = forecast(army(sizes, unit_routes), pace, AS_OF, seed, DRAWS)
    more = forecast(army([*sizes, 9], unit_routes), pace, AS_OF, seed, DRAWS)
    assert more.units[: len(sizes)] == usual.units


@settings(max_examples=15, deadline=None)
@given(armies, routes, paces, seeds, st.data())
def test_a_unit_put_in_between_brings_no_other_forward(
    sizes: list[int], unit_routes: list[tuple[str, ...]], pace: Pace, seed: int, data: st.DataObject
) -> None:
    records = army([*sizes, 9], unit_routes)
    place = data.draw(st.integers(0, len(sizes)))
    *others, new = records.units
    moved = [u._replace(order=2 * (u.order or 0)) for u in others]
    between = records._replace(units=(*moved, new._replace(order=2 * place + 1)))
    usual = forecast(army(sizes, unit_routes), pace, AS_OF, seed, DRAWS)
    more = forecast(between, pace, AS_OF, seed, DRAWS)
    assert none_earlier(more, usual)
    assert [one for one in more.units if one.unit != new.name][:place] == list(usual.units[:place])
    minutes = {one.unit: one.minutes_left for one in usual.units}
    assert all(one.minutes_left == minutes[one.unit] for one in more.units if one.unit in minutes)


@settings(max_examples=15, deadline=None)
@given(armies, routes, paces, seeds, st.data())
def test_a_step_more_brings_no_date_forward(
    sizes: list[int], unit_routes: list[tuple[str, ...]], pace: Pace, seed: int, data: st.DataObject
) -> None:
    usual = army(sizes, unit_routes)
    which = data.draw(st.integers(0, len(sizes) - 1))
    unit = usual.units[which]
    at = data.draw(st.integers(0, len(unit.route)))
    longer = unit._replace(route=(*unit.route[:at], "oiling the rim", *unit.route[at:]))
    more = usual._replace(units=(*usual.units[:which], longer, *usual.units[which + 1 :]))
    assert none_earlier(
        forecast(more, pace, AS_OF, seed, DRAWS), forecast(usual, pace, AS_OF, seed, DRAWS)
    )  # fmt: skip


@settings(max_examples=15, deadline=None)
@given(armies, routes, seeds, st.data())
def test_models_more_or_slower_hands_bring_no_date_forward(
    sizes: list[int], unit_routes: list[tuple[str, ...]], seed: int, data: st.DataObject
) -> None:
    usual = army(sizes, unit_routes)
    before = forecast(usual, FixedPace(4.0, 0.4), AS_OF, seed, DRAWS)
    unit = data.draw(st.sampled_from(usual.units))
    extra = Model(9999, unit.id, 99, added_on=TUESDAY)
    more = usual._replace(models=(*usual.models, extra))
    assert none_earlier(forecast(more, FixedPace(4.0, 0.4), AS_OF, seed, DRAWS), before)
    assert none_earlier(forecast(usual, FixedPace(5.0, 0.4), AS_OF, seed, DRAWS), before)


@settings(max_examples=15, deadline=None)
@given(armies, routes, paces, seeds, st.sampled_from(["assembly", "shade", "varnish", "base texture"]))
def test_a_longer_wait_brings_no_date_forward(
    sizes: list[int], unit_routes: list[tuple[str, ...]], pace: Pace, seed: int, step: str
) -> None:
    usual = army(sizes, unit_routes)
    waits = [usual._replace(steps=(OwnStep(1, step, step, hours),)) for hours in (1.0, 30.0, 200.0)]
    short, long, longest = (forecast(records, pace, AS_OF, seed, DRAWS) for records in waits)
    assert none_earlier(long, short)
    assert none_earlier(longest, long)


def _without_some(
    rhythm: Rhythm, rng: np.random.Generator, paths: int, days: int
) -> NDArray[np.float32]:  # fmt: skip
    """The usual evenings without every third day, and shorter every fifth."""
    minutes = simulate_minutes(rhythm, rng, paths, days)
    minutes[:, ::3] = 0.0
    minutes[:, ::5] *= 0.5
    return minutes


@settings(max_examples=10, deadline=None)
@given(armies, routes, paces, seeds)
def test_fewer_evenings_bring_no_date_forward(
    sizes: list[int], unit_routes: list[tuple[str, ...]], pace: Pace, seed: int
) -> None:
    records = army(sizes, unit_routes)
    usual = simulate(records, pace, AS_OF, seed, DRAWS)
    fewer = simulate(records, pace, AS_OF, seed, DRAWS, evenings=_without_some)
    assert (fewer.ready_days >= usual.ready_days).all()
    assert np.array_equal(fewer.minutes, usual.minutes)


@settings(max_examples=10, deadline=None)
@given(armies, paces, seeds, st.integers(1, 300))
def test_a_finished_unit_stays_finished(sizes: list[int], pace: Pace, seed: int, days: int) -> None:
    records = army([3, *sizes], [ROUTES[2]] * 5)
    mine = [model.id for model in records.models if model.unit_id == 1]
    for step in ROUTES[2]:
        records = worked(records, 1, step, mine, 9)
    done = forecast(records, pace, AS_OF, seed, DRAWS).units[0]
    later = forecast(records, pace, AS_OF + timedelta(days=days), seed, DRAWS).units[0]
    assert done == later
    assert done.ready == (records.sessions[8].date,) * 19
    assert done.minutes_left == (0.0,) * 19
