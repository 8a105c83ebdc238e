"""The way to the plan is right, and as short as can be."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from itertools import combinations
from random import Random

import pytest

from tracker.domain.answers_ranks import Swap
from tracker.domain.problems import Problem
from tracker.domain.ranks import Placed
from tracker.ranking.holds import read_place
from tracker.ranking.swaps import swaps_between

_PLACES = [(file, rank) for rank in (1, 2) for file in (1, 2, 3)]


def _done(now: Sequence[Placed], acts: Sequence[Swap]) -> set[Placed]:
    """What stands after the acts, each checked against what it says."""
    at = {one.place: one for one in now}
    bench: dict[int, Placed] = {}
    for act in acts:
        if act.act in ("turn", "stem"):
            assert at[act.place].model_id == act.model_id
            at[act.place] = at[act.place]._replace(turn=act.turn, stem_mm=act.stem_mm)
            continue
        mover = at.pop(act.place) if act.place else bench.pop(act.model_id, Placed(act.model_id, 0, 0))
        other = at.pop(act.to_place, None)
        assert mover.model_id == act.model_id
        assert (other.model_id if other else None) == act.other_id
        _stand(at, bench, mover, act.to_place)
        if other is not None:
            _stand(at, bench, other, act.place)
    return set(at.values())


def _stand(at: dict[str, Placed], bench: dict[int, Placed], one: Placed, place: str) -> None:
    read = read_place(place) if place else (0, 0)
    assert not isinstance(read, Problem)
    if place:
        at[place] = one._replace(file=read[0], rank=read[1])
    else:
        bench[one.model_id] = one


def _order(random: Random, models: int) -> list[Placed]:
    many = random.randint(0, min(models, len(_PLACES)))
    chosen = zip(random.sample(range(1, models + 1), many), random.sample(_PLACES, many), strict=True)
    return [Placed(model, *place, random.choice((0, 180)), random.choice((0, 15))) for model, place in chosen]


@pytest.mark.parametrize("seed", range(200))
def test_the_acts_lead_to_the_plan(seed: int) -> None:
    """Each act finds what it says it finds; models on the bench and empty places included."""
    random = Random(seed)
    now, then = _order(random, 7), _order(random, 7)
    assert _done(now, swaps_between(now, then)) == set(then)


def test_nothing_to_do_where_all_stand_right() -> None:
    """The plan is the order."""
    now = _order(Random(1), 6)
    assert swaps_between(now, now) == ()


def _reached(state: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    for one, other in combinations(range(len(state)), 2):
        after = list(state)
        after[one], after[other] = after[other], after[one]
        yield tuple(after)


def _fewest(now: tuple[int, ...], then: tuple[int, ...]) -> int:
    """Fewest exchanges of two seats that make one order the other: every way tried, breadth first."""
    seen, waiting = {now}, deque([(now, 0)])
    while waiting:
        state, acts = waiting.popleft()
        if state[:4] == then[:4]:
            return acts
        for after in _reached(state):
            if after not in seen:
                seen.add(after)
                waiting.append((after, acts + 1))
    raise AssertionError


@pytest.mark.parametrize("seed", range(60))
def test_no_shorter_way_exists(seed: int) -> None:
    """Four places and two seats on the bench; 0 = nobody. Source: every way tried."""
    random = Random(seed)
    seats = [1, 2, 3, 4, 0, 0] if seed % 2 else [1, 2, 3, 4, 5, 0]
    now, then = tuple(random.sample(seats, 6)), tuple(random.sample(seats, 6))
    placed = [
        [Placed(model, file, 1) for file, model in enumerate(order[:4], start=1) if model]
        for order in (now, then)
    ]
    assert len(swaps_between(*placed)) == _fewest(now, then)
