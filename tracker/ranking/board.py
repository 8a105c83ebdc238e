"""A unit as a placing puzzle: models and blocks as pieces, turns and stems as states, joints as links."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from math import ceil
from typing import NamedTuple

from tracker.domain.bases import Base
from tracker.domain.problems import DataError
from tracker.domain.ranks import (
    TURNS,
    Block,
    Check,
    Edge,
    Placed,
    RankModel,
    RankNotes,
    RankRules,
    Reach,
    own_edge,
)
from tracker.ranking.clash import claim_um
from tracker.ranking.holds import held_cells, kept_places
from tracker.ranking.layout import Cell, Neighbours, lay_out, neighbours
from tracker.ranking.puzzle import UM_PER_MM, Link, Puzzle, Table
from tracker.ranking.reach import at_edge, in_bands, off_base, turned

TURN_DISLIKE = {0: 0, 90: 2000, 180: 1000, 270: 2000}
"""Turning a model is less liked than any overhang, which is counted in mm."""
STEM_DISLIKE = 10
MOVE_DISLIKE = 20
"""A plan that is as good and leaves more models where they stand is better."""
FRONT_DISLIKE = 1_000_000
"""Per mm past the limit at the front edge: a rule, kept where it can be at the same clash."""

Key = tuple[int, Edge, int]
"""(model, its own edge, stem) at a joint."""


class State(NamedTuple):
    """A piece in one of its poses."""

    model_id: int | None
    """None: a block that is no model, which never clashes."""
    turn: int
    stem_mm: int
    sides: Reach | None
    """Reach past the sides of its place; None = not measured."""


class Board(NamedTuple):
    """The puzzle, and what its numbers mean."""

    puzzle: Puzzle
    cells: tuple[Cell, ...]
    states: tuple[State, ...]
    near: tuple[Neighbours, ...]
    base: Base
    rules: RankRules
    checks: Mapping[tuple[Key, Key], float]
    """mm found by hand, both ways round."""
    measured: frozenset[int]
    stale: frozenset[int]
    """Models whose measures were taken on another base."""

    def state_of(self, placed: Placed) -> State | None:
        """The state a model stands in; a turn that is not allowed by now is found all the same."""
        mine = [state for state in self.states if state.model_id == placed.model_id]
        for state in mine:
            if (state.turn, state.stem_mm) == (placed.turn, placed.stem_mm):
                return state
        if not mine:
            return None
        upright = next(state for state in mine if state.turn == 0)
        sides = upright.sides and turned(upright.sides, placed.turn)
        return State(placed.model_id, placed.turn, placed.stem_mm, sides)

    def clash(self, first: State, second: State, joint: Neighbours) -> tuple[float, bool]:
        """(mm, whether checked) of two states at such a joint."""
        um, checked = _clash_um(self, first, second, joint.beside, joint.apart)
        return um / UM_PER_MM, checked


def make_board(  # noqa: PLR0917 - a unit by its parts, in the order they are said
    files: int,
    ranks: int,
    base: Base,
    base_text: str,
    model_ids: Sequence[int],
    notes: RankNotes,
    *,
    trust: float = 1.0,
    now: Sequence[Placed] = (),
) -> Board:
    """The puzzle of a unit; `DataError` for what cannot be.

    `trust` multiplies claims that nobody checked, for the search only. `now` is the order as it stands:
    among equals a plan keeps to it.
    """
    known = {one.model_id: one for one in notes.models}
    large = {block.model_id: block for block in notes.blocks if block.kind == "large model"}
    single = [model for model in model_ids if model not in large]
    kept = kept_places(files, ranks, [known[model] for model in single if model in known], notes.blocks)
    stood = [(placed.file, placed.rank) for placed in now]
    cells = lay_out(files, ranks, len(single), notes.blocks, (*kept, *stood))
    allowed = held_cells(cells, ranks, [known.get(model, RankModel(model)) for model in single])
    pieces = [
        _states(known.get(model, RankModel(model)), base, base_text, notes.rules, single=True)
        for model in single
    ]
    for cell_number, cell in enumerate(cells):
        if cell.block is not None:
            pieces.append(_block_states(cell.block, known, base, base_text, notes.rules))
            allowed.append(frozenset((cell_number,)))
    states = tuple(state for piece in pieces for state in piece)
    near = tuple(neighbours(cells, _apart_most(states, base, notes.rules)))
    measured, stale = _measured(known, model_ids, base_text)
    board = Board(
        Puzzle((), 0, (), (), (), ()), cells, states, near, base, notes.rules,
        _checks(notes.checks, base_text), measured, stale,
    )  # fmt: skip
    piece_of = tuple((number, pose) for number, piece in enumerate(pieces) for pose in range(len(piece)))
    tables, links = _wired(board, trust)
    return board._replace(
        puzzle=Puzzle(
            piece_of, len(cells), links, tables, tuple(allowed),
            _disliked(board, {placed.model_id: (placed.file, placed.rank) for placed in now}),
        )
    )  # fmt: skip


def _states(
    model: RankModel, base: Base, base_text: str, rules: RankRules, *, single: bool
) -> tuple[State, ...]:
    usable = model.reach is not None and model.base == base_text
    if usable and model.reach is not None and (problem := off_base(model.reach, base)):
        raise DataError(problem)
    turns = TURNS[model.turns or rules.turns] if single else (0,)
    if base.width_mm != base.depth_mm:
        turns = tuple(turn for turn in turns if turn % 180 == 0)
    out = []
    for turn in turns:
        for stem in model.stems_mm or (0,):
            sides = None
            if usable and model.reach is not None:
                sides = turned(in_bands(model.reach, model.cuts_mm, rules.cuts_mm, stem), turn)
            out.append(State(model.model_id, turn, stem, sides))
    return tuple(out)


def _block_states(
    block: Block, known: Mapping[int, RankModel], base: Base, base_text: str, rules: RankRules
) -> tuple[State, ...]:
    if block.kind != "large model" or block.model_id is None:
        return (State(None, 0, 0, None),)
    model = known.get(block.model_id, RankModel(block.model_id))
    large = Base("rectangle", base.width_mm * block.files, base.depth_mm * block.ranks)
    # Its own base is the block; that its measures were taken on it goes without saying.
    return _states(model._replace(base=base_text), large, base_text, rules, single=False)[:1]


def _measured(
    known: Mapping[int, RankModel], model_ids: Iterable[int], base_text: str
) -> tuple[frozenset[int], frozenset[int]]:
    there = [known[model] for model in model_ids if model in known and known[model].reach is not None]
    fresh = frozenset(model.model_id for model in there if model.base == base_text)
    return fresh, frozenset(model.model_id for model in there) - fresh


def _checks(checks: Iterable[Check], base_text: str) -> dict[tuple[Key, Key], float]:
    out: dict[tuple[Key, Key], float] = {}
    for one in checks:
        if one.base in ("", base_text):
            first: Key = (one.first, one.first_edge, one.first_stem_mm)
            second: Key = (one.second, one.second_edge, one.second_stem_mm)
            out[first, second] = out[second, first] = one.mm
    return out


def facing(beside: bool) -> tuple[Edge, Edge]:
    """Sides of the first and of the second place that meet at a joint."""
    return ("right", "left") if beside else ("back", "front")


def _clash_um(board: Board, first: State, second: State, beside: bool, apart: int) -> tuple[int, bool]:
    if first.model_id is None or second.model_id is None:
        return 0, False
    side, other = facing(beside)
    rules = board.rules
    if apart == 1:
        key = (first.model_id, own_edge(side, first.turn), first.stem_mm)
        found = board.checks.get((key, (second.model_id, own_edge(other, second.turn), second.stem_mm)))
        if found is not None:
            return max(0, round((found - rules.gap_mm) * UM_PER_MM)), True
    if first.sides is None or second.sides is None:
        return 0, False
    width = board.base.width_mm if beside else board.base.depth_mm
    room = apart * rules.gap_mm + (apart - 1) * width
    return claim_um(at_edge(first.sides, side), at_edge(second.sides, other), room, rules.margin_mm), False


def _wired(board: Board, trust: float) -> tuple[tuple[Table, ...], tuple[Link, ...]]:
    """A table for each way of meeting that can clash at all, and the links that use it."""
    tables: list[Table] = []
    links: list[Link] = []
    for beside in (True, False):
        for apart in sorted({joint.apart for joint in board.near if joint.beside == beside}):
            joints = [joint for joint in board.near if (joint.beside, joint.apart) == (beside, apart)]
            table = [
                [_trusted(*_clash_um(board, one, two, beside, apart), trust) for two in board.states]
                for one in board.states
            ]
            if any(map(any, table)):
                links += [Link(joint.first, joint.second, len(tables)) for joint in joints]
                tables.append(table)
    return tuple(tables), tuple(links)


def _trusted(um: int, checked: bool, trust: float) -> int:
    return um if checked or trust == 1.0 else round(um * trust)


def _apart_most(states: Iterable[State], base: Base, rules: RankRules) -> tuple[int, int]:
    """How many places apart two models may be and still meet: reaches can add up past a whole place."""
    out = []
    for beside, width in ((True, base.width_mm), (False, base.depth_mm)):
        furthest = max(
            (reach_mm(state.sides, side) for state in states if state.sides for side in facing(beside)),
            default=0,
        )
        out.append(1 + max(0, ceil((2 * furthest + rules.margin_mm) / width) - 1))
    return out[0], out[1]


def _disliked(board: Board, now: Mapping[int, tuple[int, int]]) -> tuple[tuple[int, ...], ...]:
    """Per cell and state: overhang into a neighbour, past the front, turns, stems, leaving one's place."""
    inner = [set() for _ in board.cells]  # type: list[set[Edge]]
    for joint in board.near:
        if joint.apart == 1:
            first, second = facing(joint.beside)
            inner[joint.first].add(first)
            inner[joint.second].add(second)
    return tuple(
        tuple(_dislike(cell, sides, state, board.rules, now) for state in board.states)
        for cell, sides in zip(board.cells, inner, strict=True)
    )


def _dislike(
    cell: Cell, inner: Iterable[Edge], state: State, rules: RankRules, now: Mapping[int, tuple[int, int]]
) -> int:
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


def reach_mm(sides: Reach, side: Edge) -> int:
    """How far a model reaches past a side of its place, at the most; 0 where it does not."""
    return max(0, *(mm for mm in at_edge(sides, side) if mm is not None), 0)


BoardOf = Callable[[float], Board]
"""A board by the trust in claims that nobody checked."""
