"""What would free a unit that still clashes: room, turns, a stem, calm models in place of others."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from tracker.domain.answers_ranks import Cures, Joint
from tracker.domain.problems import Problem
from tracker.domain.ranks import TURNS, RankNotes
from tracker.ranking.board import Board
from tracker.ranking.bound import blockers
from tracker.ranking.holds import read_place
from tracker.ranking.plan import Plan
from tracker.ranking.puzzle import Puzzle
from tracker.ranking.solve import solve

CALM_MOST = 4
STEM_STEPS_MM = (10, 20, 30)
"""So much above the highest stem one more is thought of; brass and plastic rod is cut to length anyway."""


def room_cures(board: Board, best: Plan) -> Cures:
    """The three sizes of room, and the models that the proof names; nothing is searched for.

    One gap at every joint: the worst clash. Files kept straight: the sum over file joints of the worst in
    each, and so for ranks. Each rank sliding by itself: the largest sum along a rank.
    """
    wider, by_rank = _along(joint for joint in best.joints if joint.beside)
    deeper, _ = _along(joint for joint in best.joints if not joint.beside)
    named = {board.states[state].model_id for state in _states_of(board, blockers(board.puzzle))}
    return Cures(
        best.worst_mm, wider, deeper, by_rank, None,
        blockers=tuple(sorted(model for model in named if model is not None)),
    )  # fmt: skip


def cures(
    board: Board, best: Plan, notes: RankNotes, board_of: Callable[[RankNotes], Board], *, seed: int = 0
) -> Cures:
    """Room, and what a search finds: turns that are not allowed, one more stem, fewest calm models."""
    calm = _calm(board, seed)
    return room_cures(board, best)._replace(
        calm_models=len(calm) if calm is not None else None,
        calm_ids=calm or (),
        turns_help=_turns_help(notes, board_of, seed),
        stem_mm=_stem(notes, board_of, seed),
    )


def _along(joints: Iterable[Joint]) -> tuple[float, float]:
    """(sum over lines of the worst joint in each, largest sum along one line across them)."""
    worst: dict[int, float] = {}
    sums: dict[int, float] = {}
    for joint in joints:
        place = read_place(joint.first_place)
        if isinstance(place, Problem):  # The plan names its own places.
            continue
        file, rank = place
        line, across = (file, rank) if joint.beside else (rank, file)
        worst[line] = max(worst.get(line, 0.0), joint.mm)
        sums[across] = sums.get(across, 0.0) + joint.mm
    return round(sum(worst.values()), 3), round(max(sums.values(), default=0.0), 3)


def _states_of(board: Board, pieces: frozenset[int]) -> list[int]:
    return [number for number, (piece, _) in enumerate(board.puzzle.states) if piece in pieces]


def _is_free(board: Board, seed: int) -> bool:
    return solve(board.puzzle, seed=seed).value.total == 0


def _turns_help(notes: RankNotes, board_of: Callable[[RankNotes], Board], seed: int) -> bool:
    """Whether the unit would be free if every model could be turned as its base allows."""
    turns = {TURNS[model.turns or notes.rules.turns] for model in notes.models} | {TURNS[notes.rules.turns]}
    if turns == {TURNS["any"]}:
        return False
    models = tuple(model._replace(turns="any") for model in notes.models)
    return _is_free(board_of(notes._replace(models=models, rules=notes.rules._replace(turns="any"))), seed)


def _stem(notes: RankNotes, board_of: Callable[[RankNotes], Board], seed: int) -> int | None:
    """One more height for every flyer's stem that would free the unit; None where none does."""
    highest = max((max(model.stems_mm) for model in notes.models if model.stems_mm), default=None)
    if highest is None:
        return None
    for step in STEM_STEPS_MM:
        models = tuple(
            model._replace(stems_mm=(*model.stems_mm, highest + step)) if model.stems_mm else model
            for model in notes.models
        )
        if _is_free(board_of(notes._replace(models=models)), seed):
            return highest + step
    return None


def _calm(board: Board, seed: int) -> tuple[int, ...] | None:
    """Fewest models found that, replaced by calm ones, leave the unit free; None = not with so few."""
    pieces = len(board.puzzle.allowed)
    may_go = sum(_may_go(board, where) for where in board.puzzle.allowed)
    for many in range(1, min(CALM_MOST, pieces // 4 + 1, may_go) + 1):
        found = solve(with_calm(board, many), seed=seed)
        if found.value.total == 0:
            benched = found.arrangement[board.puzzle.cells :]
            models = (board.states[state].model_id for state in benched if state < len(board.states))
            return tuple(sorted(model for model in models if model is not None))
    return None


def _may_go(board: Board, where: frozenset[int] | None) -> bool:
    """Whether a piece with these cells is a model that keeps no place."""
    return where is None or where == frozenset(n for n, cell in enumerate(board.cells) if cell.block is None)


def with_calm(board: Board, many: int) -> Puzzle:
    """The puzzle with so many pieces more that never clash, and room on the bench for as many models.

    The calm ones stand in single places of the unit, the benched ones are models that keep no place.
    """
    puzzle = board.puzzle
    pieces, states, cells = len(puzzle.allowed), len(puzzle.states), puzzle.cells
    inside = frozenset(
        number for number, cell in enumerate(board.cells) if cell.block is None and not cell.is_bench
    )
    bench = frozenset(range(cells, cells + many))
    allowed = tuple(
        where | bench if where is not None and _may_go(board, where) else where for where in puzzle.allowed
    )
    nothing = (0,) * many
    tables = tuple(
        (*((*row, *nothing) for row in table), *((0,) * (states + many) for _ in range(many)))
        for table in puzzle.tables
    )
    dislike = tuple((*row, *nothing) for row in puzzle.dislike)
    return Puzzle(
        (*puzzle.states, *((pieces + i, 0) for i in range(many))), cells + many, puzzle.links, tables,
        (*allowed, *(inside for _ in range(many))),
        (*dislike, *((0,) * (states + many) for _ in range(many))),
    )  # fmt: skip
