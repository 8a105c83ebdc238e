"""Who stands where: the order as it is, and the plan, told joint by joint.

The plan goes by what is known: measures, and checks by hand, which win over measures. When every joint
that still clashes was checked, claims that nobody checked are trusted less and less: one of them may be
wrong, as most claims of a millimetre or two are.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.ranks import Placed, RankNotes
from tracker.ranking.board import Board, BoardOf
from tracker.ranking.bound import Least, least_of
from tracker.ranking.layout import lay_out
from tracker.ranking.mend import mended
from tracker.ranking.puzzle import UM_PER_MM, Arrangement
from tracker.ranking.score import Plan, edge_to_edge_mm, is_shared, joint_between, score
from tracker.ranking.solve import First, solve

__all__ = ["Plan", "edge_to_edge_mm", "joint_between", "placed_of", "plan", "present", "score"]

TRUSTS = (1.0, 0.5, 0.25, 0.12, 0.05, 0.01)
"""Shares at which unchecked claims count, once all that clashes was checked. Chosen on invented figures."""


def present(files: int, ranks: int, model_ids: Sequence[int], notes: RankNotes) -> tuple[Placed, ...]:
    """The order a unit stands in: stored places first, the other models by number into those left free."""
    large = {block.model_id: block for block in notes.blocks if block.kind == "large model"}
    single = [model for model in model_ids if model not in large]
    stored = {one.model_id: one for one in notes.placed if one.model_id in single}
    kept = [(one.file, one.rank) for one in stored.values()]
    cells = lay_out(files, ranks, len(single), notes.blocks, kept)
    free = [(c.file, c.rank) for c in cells if c.block is None and not c.is_bench]
    placed = [one for one in stored.values() if (one.file, one.rank) in free]
    taken = {(one.file, one.rank) for one in placed}
    there = {one.model_id for one in placed}
    rest = [place for place in free if place not in taken]
    placed += [
        Placed(model, *place)
        for model, place in zip((m for m in single if m not in there), rest, strict=False)
    ]
    placed += [
        Placed(block.model_id, block.file, block.rank)
        for block in notes.blocks
        if block.kind == "large model" and block.model_id in model_ids and block.model_id is not None
    ]
    return tuple(sorted(placed, key=lambda one: (one.rank, one.file)))


def plan(board_of: BoardOf, *, seed: int = 0, first: First = "worst", start: Sequence[Placed] = ()) -> Plan:
    """The best order by what is known, with what it promises.

    `board_of` makes the board at a trust in unchecked claims. The plan shows a joint to check, or it is
    free of clashes, or all that clashes in it was checked at every trust; then the best of them is shown.
    """
    full = board_of(1.0)
    known = least_of(full.puzzle)
    plans: list[Plan] = []
    for trust in TRUSTS:
        board = full if trust == 1.0 else board_of(trust)
        stands = _arranged(board, plans[-1].placed if plans else start)
        begin = mended(board.puzzle, stands) if stands and not plans else stands
        # Less trust is only to find something else worth trying: a quick search does.
        found = solve(
            board.puzzle, seed=seed, first=first, start=begin, quick=trust < 1,
            least=known if trust == 1.0 else least_of(board.puzzle),
        )  # fmt: skip
        now = score(full, placed_of(board, found.arrangement))._replace(trust=trust)
        if found.proved and trust == 1.0:
            now = now._replace(status="proved best")
        plans.append(now)
        if not now.is_known or not now.joints:
            return _promised(now, known, first)
    return _promised(min(plans, key=lambda plan: (plan.worst_mm, plan.total_mm)), known, first)


def _promised(now: Plan, known: Least, first: First) -> Plan:
    """The plan with its status: what no order could better, by full trust in every claim."""
    if not now.joints:
        return now._replace(status="no clash")
    at_least = round(known.total / UM_PER_MM, 3)
    reached = (now.total_mm <= at_least, now.worst_mm <= round(known.worst / UM_PER_MM, 3))
    if now.status == "proved best" or all(reached) or (first == "total" and reached[0]):
        return now._replace(status="proved best", at_least_mm=at_least)
    return now._replace(status="at least" if known.total else "best found", at_least_mm=at_least)


def placed_of(board: Board, arrangement: Arrangement) -> tuple[Placed, ...]:
    """Where every model stands; those on the bench are left out."""
    out = []
    for cell, number in zip(board.cells, arrangement, strict=True):
        state = board.states[number]
        if state.model_id is not None and not cell.is_bench and not is_shared(cell):
            out.append(Placed(state.model_id, cell.file, cell.rank, state.turn, state.stem_mm))
    return tuple(sorted(out, key=lambda one: (one.rank, one.file)))


def _arranged(board: Board, placed: Sequence[Placed]) -> Arrangement | None:
    """The arrangement of an order; None where it is not one of the puzzle's (places held since)."""
    place = {one.model_id: one for one in placed}
    poses: dict[int, list[int]] = {}
    for number, (piece, _) in enumerate(board.puzzle.states):
        poses.setdefault(piece, []).append(number)
    out: dict[int, int] = {}
    bench = [number for number, cell in enumerate(board.cells) if cell.is_bench]
    cells = {(cell.file, cell.rank): number for number, cell in enumerate(board.cells) if not cell.is_bench}
    for piece, numbers in poses.items():
        model, fixed = board.states[numbers[0]].model_id, board.puzzle.allowed[piece]
        one = place.get(model) if model is not None else None
        if one is not None and (one.file, one.rank) in cells:
            cell = cells[one.file, one.rank]
            pose = (one.turn, one.stem_mm)
            same = [n for n in numbers if (board.states[n].turn, board.states[n].stem_mm) == pose]
            out.setdefault(cell, (same or numbers)[0])
        elif fixed and board.cells[min(fixed)].block is not None:
            out.setdefault(min(fixed), numbers[0])
        elif bench:
            out[bench.pop(0)] = numbers[0]
    return tuple(out[cell] for cell in range(len(board.cells))) if len(out) == len(board.cells) else None
