"""Plans played again: the same answer as playing each from nothing, and nothing is learned or drawn twice."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.builders import steady_blocks
from tests.forecast.people import TUESDAY, regular_weeks, small_army, worked
from tests.forecast.test_whatif import NamedPace
from tracker.domain.answers import PlannedLine
from tracker.domain.records import Records
from tracker.domain.routes import usual_route
from tracker.domain.wished import wished
from tracker.domain.wishes import AtStandard, FewerModels, Filler, InOrder, NewUnit, Wish, Without
from tracker.forecast.again import Again
from tracker.forecast.outlook import Futures, simulate
from tracker.pace.fit import fit
from tracker.pace.pace import Pace

AS_OF = TUESDAY + timedelta(weeks=12)
PATHS = 200
PLANS: tuple[tuple[Wish, ...], ...] = (
    (),
    (FewerModels("unit 1", 3),),
    (Filler("unit 2", 4),),
    (AtStandard("unit 2", "quick"), Without("unit 1")),
    (InOrder((("unit 3", ""), ("unit 1", ""))),),
    (NewUnit("unit 4", 5, "cavalry"),),
)


class Counting(NamedPace):
    """Remembers how many lines it was asked about."""

    def __init__(self) -> None:
        self.lines = 0

    def draw(self, lines: Sequence[PlannedLine], rng: np.random.Generator, n: int) -> NDArray[np.float64]:
        self.lines += len(lines)
        return super().draw(lines, rng, n)


def host() -> Records:
    known = small_army([10, 12, 4], regular_weeks(12))
    route = usual_route("infantry", "table-top")
    known = known._replace(units=tuple(unit._replace(route=route) for unit in known.units))
    return worked(known, 1, "cleaning", list(range(1, 11)), 3)


def same(one: Futures, other: Futures) -> bool:
    return (
        one.work == other.work
        and bool(np.array_equal(one.ready_days, other.ready_days))
        and bool(np.array_equal(one.minutes, other.minutes))
    )


@pytest.mark.parametrize("wishes", PLANS)
def test_a_plan_played_again_is_the_plan_played_from_nothing(wishes: tuple[Wish, ...]) -> None:
    plan = wished(host(), wishes, AS_OF)
    again = Again(host(), NamedPace(), AS_OF, 3, PATHS)
    assert same(again.of(plan), simulate(plan, NamedPace(), AS_OF, 3, PATHS))
    assert same(again.of(host()), again.futures)


def test_so_it_is_with_a_learned_pace() -> None:
    pace: Pace = fit(steady_blocks(60, np.random.default_rng(2)))
    plan = wished(host(), [FewerModels("unit 2", 5)], AS_OF)
    again = Again(host(), pace, AS_OF, 3, PATHS)
    assert same(again.of(plan), simulate(plan, pace, AS_OF, 3, PATHS))


def test_only_lines_that_are_new_are_drawn() -> None:
    pace = Counting()
    again = Again(host(), pace, AS_OF, 3, PATHS)
    again.of(host())
    drawn = pace.lines
    plan = wished(host(), [FewerModels("unit 3", 1)], AS_OF)
    again.of(plan)
    again.of(plan)
    assert pace.lines - drawn == sum(len(unit.lines) for unit in again.futures.work if unit.unit.id == 3)


@pytest.mark.parametrize("days", [-3, 0, 1, 17, 60, 2000])
def test_begun_later_is_the_plan_with_no_evening_before(days: int) -> None:
    again = Again(host(), NamedPace(), AS_OF, 3, PATHS)
    first = again.futures.rhythm.start + timedelta(days=days)
    later = again.begun_on(first).ready_days
    whole = again.futures.calendar.put_in
    minutes = np.diff(whole, axis=1, prepend=np.float32(0))
    minutes[:, : max(days, 0)] = 0
    rested = simulate(
        host(), NamedPace(), AS_OF, 3, PATHS, evenings=lambda *_: np.asarray(minutes, dtype=np.float32)
    )
    # A path without a minute before that day begins an eighth of a minute late.
    assert float((later != rested.ready_days).mean()) < 0.01
    assert (later >= again.futures.ready_days).all()
    assert (later >= min(max(days, 0), again.futures.calendar.days)).all()
