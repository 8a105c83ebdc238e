"""A unit as a placing puzzle: models and blocks as pieces, turns and stems as states, joints as links."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import NamedTuple

from tracker.domain.bases import Base
from tracker.domain.ranks import Edge, Placed, RankModel, RankNotes, RankRules
from tracker.ranking.holds import held_cells, kept_places
from tracker.ranking.layout import Cell, Neighbours, lay_out, neighbours
from tracker.ranking.meeting import Checks, checks_on, clash_um, meeting, table_of
from tracker.ranking.puzzle import UM_PER_MM, Link, Puzzle, Table
from tracker.ranking.reach import turned
from tracker.ranking.states import State, apart_most, block_states, dislike_of, facing, states_of


class Board(NamedTuple):
    """The puzzle, and what its numbers mean."""

    puzzle: Puzzle
    cells: tuple[Cell, ...]
    states: tuple[State, ...]
    near: tuple[Neighbours, ...]
    base: Base
    rules: RankRules
    checks: Checks
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
        met = meeting(self.base, self.rules, beside=joint.beside, apart=joint.apart)
        um, checked = clash_um(self.checks, first, second, met)
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
        states_of(known.get(model, RankModel(model)), base, base_text, notes.rules, single=True)
        for model in single
    ]
    for cell_number, cell in enumerate(cells):
        if cell.block is not None:
            pieces.append(block_states(cell.block, known, base, base_text, notes.rules))
            allowed.append(frozenset((cell_number,)))
    states = tuple(state for piece in pieces for state in piece)
    near = tuple(neighbours(cells, apart_most(states, base, notes.rules)))
    measured, stale = _measured(known, model_ids, base_text)
    board = Board(
        Puzzle((), 0, (), (), (), ()), cells, states, near, base, notes.rules,
        checks_on(notes.checks, base_text), measured, stale,
    )  # fmt: skip
    piece_of = tuple((number, pose) for number, piece in enumerate(pieces) for pose in range(len(piece)))
    tables, links = _wired(board, trust)
    return board._replace(
        puzzle=Puzzle(
            piece_of, len(cells), links, tables, tuple(allowed),
            _disliked(board, {placed.model_id: (placed.file, placed.rank) for placed in now}),
        )
    )  # fmt: skip


def _measured(
    known: Mapping[int, RankModel], model_ids: Iterable[int], base_text: str
) -> tuple[frozenset[int], frozenset[int]]:
    there = [known[model] for model in model_ids if model in known and known[model].reach is not None]
    fresh = frozenset(model.model_id for model in there if model.base == base_text)
    return fresh, frozenset(model.model_id for model in there) - fresh


def _wired(board: Board, trust: float) -> tuple[tuple[Table, ...], tuple[Link, ...]]:
    """A table for each way of meeting that can clash at all, and the links that use it."""
    tables: list[Table] = []
    links: list[Link] = []
    for behind, apart in sorted({(not joint.beside, joint.apart) for joint in board.near}):
        met = meeting(board.base, board.rules, beside=not behind, apart=apart)
        table = table_of(board.checks, board.states, met, trust)
        if any(map(any, table)):
            joints = [joint for joint in board.near if (joint.beside, joint.apart) == (met.beside, apart)]
            links += [Link(joint.first, joint.second, len(tables)) for joint in joints]
            tables.append(table)
    return tuple(tables), tuple(links)


def _disliked(board: Board, now: Mapping[int, tuple[int, int]]) -> tuple[tuple[int, ...], ...]:
    """Per cell and state: overhang into a neighbour, past the front, turns, stems, leaving one's place."""
    inner: list[set[Edge]] = [set() for _ in board.cells]
    for joint in board.near:
        if joint.apart == 1:
            first, second = facing(joint.beside)
            inner[joint.first].add(first)
            inner[joint.second].add(second)
    return tuple(
        tuple(dislike_of(cell, sides, state, board.rules, now) for state in board.states)
        for cell, sides in zip(board.cells, inner, strict=True)
    )


BoardOf = Callable[[float], Board]
"""A board by the trust in claims that nobody checked."""
