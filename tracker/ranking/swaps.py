"""The shortest way from the order as it stands to the plan: swaps and moves, then turns and stems.

Every act puts a model where it belongs and is never touched again, so a round of k models that take each
other's places needs k - 1 swaps, and a chain into an empty place k moves; fewer cannot do (each act closes at
most one round more; the number of rounds of a permutation: Cayley 1849).
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers_ranks import Swap
from tracker.domain.ranks import Placed

Place = tuple[int, int]
_BENCH = ""


def swaps_between(now: Sequence[Placed], then: Sequence[Placed]) -> tuple[Swap, ...]:
    """What to do, in order; a model on the bench has no place. Done on `now` it gives `then` exactly."""
    at = {(one.file, one.rank): one for one in now}
    where: dict[int, Place | None] = {one.model_id: (one.file, one.rank) for one in now}
    name = {(one.file, one.rank): one.place for one in (*now, *then)}
    wanted = {(one.file, one.rank): one for one in then}
    out: list[Swap] = []
    for place, one in wanted.items():
        here, before = at.get(place), where.get(one.model_id)
        if here is not None and here.model_id == one.model_id:
            continue
        mover = at[before] if before else one
        out.append(_act(mover, name[before] if before else _BENCH, one.place, here))
        at[place], where[one.model_id] = mover, place
        if here is not None:
            where[here.model_id] = before
        if before and here is not None:
            at[before] = here
        elif before:
            del at[before]
    gone = [
        Swap("move", at[place].model_id, name[place], _BENCH, turn=at[place].turn)
        for place in sorted(set(at) - set(wanted))
    ]
    return (*out, *gone, *_poses(now, then))


def _act(mover: Placed, place: str, to_place: str, here: Placed | None) -> Swap:
    if here is None:
        return Swap("move", mover.model_id, place, to_place, turn=mover.turn, stem_mm=mover.stem_mm)
    return Swap("swap", mover.model_id, place, to_place, here.model_id, mover.turn, mover.stem_mm)


def _poses(now: Sequence[Placed], then: Sequence[Placed]) -> list[Swap]:
    """Turns, then stems; a model that comes from the bench stands straight on its own stem."""
    before = {one.model_id: (one.turn, one.stem_mm) for one in now}
    out = [
        Swap("turn", one.model_id, one.place, one.place, turn=one.turn, stem_mm=one.stem_mm)
        for one in then
        if before.get(one.model_id, (0, 0))[0] != one.turn
    ]
    out += [
        Swap("stem", one.model_id, one.place, one.place, turn=one.turn, stem_mm=one.stem_mm)
        for one in then
        if before.get(one.model_id, (0, 0))[1] != one.stem_mm
    ]
    return out
