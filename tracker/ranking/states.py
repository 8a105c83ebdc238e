"""A piece in one of its poses, a model turned and lifted or a block; and how little it is liked somewhere."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import ceil
from typing import NamedTuple

from tracker.domain.bases import Base
from tracker.domain.problems import DataError
from tracker.domain.ranks import TURNS, Block, Edge, RankModel, RankRules, Reach
from tracker.ranking.layout import Cell
from tracker.ranking.reach import at_edge, in_bands, off_bands, off_base, turned

TURN_DISLIKE = {0: 0, 90: 2000, 180: 1000, 270: 2000}
"""Turning a model is less liked than any overhang, which is counted in mm."""
STEM_DISLIKE = 10
MOVE_DISLIKE = 20
"""A plan that is as good and leaves more models where they stand is better."""
FRONT_DISLIKE = 1_000_000
"""Per mm past the limit at the front edge: a rule, kept where it can be at the same clash."""


class State(NamedTuple):
    """A piece in one of its poses."""

    model_id: int | None
    """None: a block that is no model, which never clashes."""
    turn: int
    stem_mm: int
    sides: Reach | None
    """Reach past the sides of its place; None = not measured."""


def states_of(
    model: RankModel, base: Base, base_text: str, rules: RankRules, *, single: bool
) -> tuple[State, ...]:
    """Every pose a model may take; of one that is not `single`, on a larger base, only those not turned."""
    reach = model.reach if model.base == base_text else None
    if reach and (problem := off_bands(reach, model.cuts_mm) or off_base(reach, base)):
        raise DataError(problem)
    turns = TURNS[model.turns or rules.turns] if single else (0,)
    if base.width_mm != base.depth_mm:
        turns = tuple(turn for turn in turns if turn % 180 == 0)
    out = []
    for turn in turns:
        for stem in model.stems_mm or (0,):
            sides = None
            if reach:
                sides = turned(in_bands(reach, model.cuts_mm, rules.cuts_mm, stem), turn)
            out.append(State(model.model_id, turn, stem, sides))
    return tuple(out)


def block_states(
    block: Block, known: Mapping[int, RankModel], base: Base, base_text: str, rules: RankRules
) -> tuple[State, ...]:
    """The one state of a larger base: of its model, or of scenery that never clashes.

    A filler stays low, whatever was measured of it; a base that several models share counts once its outer
    edges were measured.
    """
    model = known.get(block.model_id, RankModel(block.model_id)) if block.model_id is not None else None
    if model is None or block.kind == "filler" or (block.kind == "multi-base" and not model.reach):
        return (State(None, 0, 0, None),)
    large = Base("rectangle", base.width_mm * block.files, base.depth_mm * block.ranks)
    return states_of(model, large, base_text, rules, single=False)[:1]


def facing(beside: bool) -> tuple[Edge, Edge]:
    """Sides of the first and of the second place that meet at a joint."""
    return ("right", "left") if beside else ("back", "front")


def reach_mm(sides: Reach, side: Edge) -> int:
    """How far a model reaches past a side of its place, at the most; 0 where it does not."""
    return max(0, *(mm for mm in at_edge(sides, side) if mm is not None), 0)


def apart_most(states: Iterable[State], base: Base, rules: RankRules) -> tuple[int, int]:
    """How many places apart two models may be and still meet: reaches can add up past a whole place."""
    out = []
    for beside, width in ((True, base.width_mm), (False, base.depth_mm)):
        furthest = max(
            (reach_mm(state.sides, side) for state in states if state.sides for side in facing(beside)),
            default=0,
        )
        out.append(1 + max(0, ceil((2 * furthest + rules.margin_mm) / width) - 1))
    return out[0], out[1]


def dislike_of(
    cell: Cell, inner: Iterable[Edge], state: State, rules: RankRules, now: Mapping[int, tuple[int, int]]
) -> int:
    """How little a state is liked in a cell with neighbours at its `inner` sides; `now`: who stands where."""
    if cell.is_bench or state.model_id is None:
        return 0
    out = TURN_DISLIKE[state.turn] + (STEM_DISLIKE if state.stem_mm else 0)
    if state.model_id in now and now[state.model_id] != (cell.file, cell.rank):
        out += MOVE_DISLIKE
    if state.sides is not None:
        out += sum(reach_mm(state.sides, side) for side in inner)
        if cell.rank == 1 and rules.front_most_mm is not None:
            out += FRONT_DISLIKE * max(0, reach_mm(state.sides, "front") - rules.front_most_mm)
    return out
