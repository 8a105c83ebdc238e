"""What happens where two pieces meet: a ruler's claim, or what hands found, which wins.

A check is made base edge to base edge. Where the two stand with other bases between them, it counts less
the room that those take.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from operator import add
from typing import NamedTuple

from tracker.domain.bases import Base
from tracker.domain.ranks import Check, Edge, RankRules, own_edge
from tracker.ranking.clash import claim_um, claimed_um, filled
from tracker.ranking.puzzle import UM_PER_MM
from tracker.ranking.reach import at_edge
from tracker.ranking.states import State, facing

Key = tuple[int, Edge, int]
"""(model, its own edge, stem) at a joint."""
Checks = Mapping[tuple[Key, Key], float]
"""mm found by hand, both ways round."""


class Meeting(NamedTuple):
    """A way in which two places face each other."""

    beside: bool
    """Side by side; else one behind the other."""
    apart: int
    """1 = edge to edge, 2 = with one place between, and so on."""
    room_mm: float
    """Between the two edges that face each other."""
    margin_mm: float


def meeting(base: Base, rules: RankRules, *, beside: bool, apart: int = 1) -> Meeting:
    """How two places so many apart face each other: gaps and the bases between are room."""
    width = base.width_mm if beside else base.depth_mm
    return Meeting(beside, apart, apart * rules.gap_mm + (apart - 1) * width, rules.margin_mm)


def checks_on(checks: Iterable[Check], base_text: str) -> Checks:
    """The checks that hold on a base, by the two edges, either way round."""
    out: dict[tuple[Key, Key], float] = {}
    for one in checks:
        if one.base in ("", base_text):
            first: Key = (one.first, one.first_edge, one.first_stem_mm)
            second: Key = (one.second, one.second_edge, one.second_stem_mm)
            out[first, second] = out[second, first] = one.mm
    return out


def clash_um(checks: Checks, first: State, second: State, at: Meeting) -> tuple[int, bool]:
    """(micrometres, whether checked) of two states that meet so; what is not measured never clashes."""
    if first.model_id is None or second.model_id is None:
        return 0, False
    side, other = facing(at.beside)
    found = checks.get((_key(first, side), _key(second, other)))
    if found is not None:
        return _found_um(found, at), True
    if first.sides is None or second.sides is None:
        return 0, False
    mine, yours = at_edge(first.sides, side), at_edge(second.sides, other)
    return claim_um(mine, yours, at.room_mm, at.margin_mm), False


def table_of(checks: Checks, states: Sequence[State], at: Meeting, trust: float) -> list[list[int]]:
    """`clash_um` of every state against every other, claims that nobody checked times the trust.

    Quick, since a plan that goes down the trusts needs many.
    """
    side, other = facing(at.beside)
    bands = max((len(state.sides.front) for state in states if state.sides), default=1)
    mine = [filled(state.sides and at_edge(state.sides, side), bands) for state in states]
    yours = [filled(state.sides and at_edge(state.sides, other), bands) for state in states]
    room, margin = at.room_mm, at.margin_mm
    claims = {
        mm: round(um * trust) for mm in _overlaps(mine, yours) if (um := claimed_um(mm, room, margin)) > 0
    }
    table = [[claims.get(max(map(add, one, two)), 0) for two in yours] for one in mine]
    firsts, seconds = _by_key(states, side), _by_key(states, other)
    for (first, second), found in checks.items():
        for one in firsts.get(first, ()):
            for two in seconds.get(second, ()):
                table[one][two] = _found_um(found, at)
    return table


def _overlaps(mine: Iterable[tuple[int, ...]], yours: Iterable[tuple[int, ...]]) -> set[int]:
    """Every sum that two facing numbers can have."""
    ours, theirs = ({mm for bands in sides for mm in bands} for sides in (mine, yours))
    return {a + b for a in ours for b in theirs}


def _by_key(states: Sequence[State], side: Edge) -> Mapping[Key, list[int]]:
    out: dict[Key, list[int]] = defaultdict(list)
    for number, state in enumerate(states):
        if state.model_id is not None:
            out[_key(state, side)].append(number)
    return out


def _key(state: State, side: Edge) -> Key:
    if state.model_id is None:
        raise ValueError("scenery has no edge of its own")
    return state.model_id, own_edge(side, state.turn), state.stem_mm


def _found_um(found_mm: float, at: Meeting) -> int:
    return max(0, round((found_mm - at.room_mm) * UM_PER_MM))
