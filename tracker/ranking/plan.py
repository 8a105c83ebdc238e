"""Who stands where: the order as it is, and the plan, told joint by joint.

The plan goes by what is known: measures, and checks by hand, which win over measures. When every joint
that still clashes was checked, claims that nobody checked are trusted less and less: one of them may be
wrong, as most claims of a millimetre or two are.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from tracker.domain.answers_ranks import Joint, Overhang, Status
from tracker.domain.ranks import EDGES, Placed, RankNotes, own_edge
from tracker.ranking.board import Board, BoardOf
from tracker.ranking.bound import least_total, least_worst
from tracker.ranking.layout import lay_out
from tracker.ranking.mend import mended
from tracker.ranking.puzzle import UM_PER_MM, Arrangement
from tracker.ranking.solve import First, Found, solve
from tracker.ranking.states import State, facing, reach_mm

TRUSTS = (1.0, 0.5, 0.25, 0.12, 0.05, 0.01)
"""Shares at which unchecked claims count, once all that clashes was checked. Chosen on invented figures."""


class Plan(NamedTuple):
    """An order, told."""

    placed: tuple[Placed, ...]
    bench: tuple[int, ...]
    joints: tuple[Joint, ...]
    """Those that clash or are claimed to, worst first."""
    all_joints: int
    status: Status
    worst_mm: float
    total_mm: float
    at_least_mm: float
    front_mm: int
    trust: float = 1.0
    overhangs: tuple[Overhang, ...] = ()
    """What reaches past the unit's outer edges, and over places that are empty."""

    @property
    def is_known(self) -> bool:
        """Whether every joint that clashes was checked."""
        return all(joint.checked for joint in self.joints)


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


def score(board: Board, placed: Sequence[Placed]) -> Plan:
    """An order as it is. Joints at full trust: less trust only guides the search."""
    cells = {(cell.file, cell.rank): number for number, cell in enumerate(board.cells)}
    at: dict[int, tuple[Placed, State]] = {}
    for one in placed:
        state = board.state_of(one)
        if state is not None and (one.file, one.rank) in cells:
            at[cells[one.file, one.rank]] = (one, state)
    joints, adjacent = [], 0
    for near in board.near:
        if near.first in at and near.second in at:
            adjacent += near.apart == 1
            mm, checked = board.clash(at[near.first][1], at[near.second][1], near)
            if mm > 0:
                joints.append(_joint(at[near.first][0], at[near.second][0], near.beside, mm, checked))
    joints.sort(key=lambda joint: -joint.mm)
    standing = {one.model_id for one, _ in at.values()}
    models = dict.fromkeys(state.model_id for state in board.states if state.model_id is not None)
    over = _overhangs(board, at)
    front = max((one.mm for one in over if one.side == "front"), default=0)
    total = round(sum(joint.mm for joint in joints), 3)
    return Plan(
        tuple(sorted((one for one, _ in at.values()), key=lambda one: (one.rank, one.file))),
        tuple(model for model in models if model not in standing), tuple(joints), adjacent,
        "best found" if joints else "no clash", max((joint.mm for joint in joints), default=0.0), total,
        0.0, front, overhangs=over,
    )  # fmt: skip


def _overhangs(board: Board, at: Mapping[int, tuple[Placed, State]]) -> tuple[Overhang, ...]:
    inner = {
        (cell, side)
        for joint in board.near
        if joint.apart == 1
        for cell, side in zip((joint.first, joint.second), facing(joint.beside), strict=True)
        if joint.first in at and joint.second in at
    }
    return tuple(
        Overhang(one.place, side, mm)
        for cell, (one, state) in at.items()
        for side in EDGES
        if (cell, side) not in inner and state.sides is not None and (mm := reach_mm(state.sides, side)) > 0
    )


def plan(board_of: BoardOf, *, seed: int = 0, first: First = "worst", start: Sequence[Placed] = ()) -> Plan:
    """The best order by what is known, with what it promises.

    `board_of` makes the board at a trust in unchecked claims. The plan shows a joint to check, or it is
    free of clashes, or all that clashes in it was checked at every trust; then the best of them is shown.
    """
    full = board_of(1.0)
    plans: list[Plan] = []
    for trust in TRUSTS:
        board = full if trust == 1.0 else board_of(trust)
        stands = _arranged(board, start)
        begin = stands and mended(board.puzzle, stands)
        found = solve(board.puzzle, seed=seed, first=first, start=begin)
        now = score(full, placed_of(board, found.arrangement))._replace(trust=trust)
        if trust == 1.0:
            now = _promised(full, now, found, first)
        if not now.is_known or not now.joints:
            return now
        plans.append(now)
    return min(plans, key=lambda known: (known.worst_mm, known.total_mm))


def _promised(board: Board, now: Plan, found: Found, first: First) -> Plan:
    """The plan with its status: what no order could better."""
    if not now.joints:
        return now._replace(status="no clash")
    total, worst = least_total(board.puzzle), least_worst(board.puzzle)
    at_least = round(total / UM_PER_MM, 3)
    reached = (now.total_mm <= at_least, now.worst_mm <= round(worst / UM_PER_MM, 3))
    if found.proved or all(reached) or (first == "total" and reached[0]):
        return now._replace(status="proved best", at_least_mm=at_least)
    return now._replace(status="at least" if total else "best found", at_least_mm=at_least)


def placed_of(board: Board, arrangement: Arrangement) -> tuple[Placed, ...]:
    """Where every model stands; those on the bench are left out."""
    out = []
    for cell, number in zip(board.cells, arrangement, strict=True):
        state = board.states[number]
        if state.model_id is not None and not cell.is_bench:
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
        model = board.states[numbers[0]].model_id
        one = place.get(model) if model is not None else None
        if one is not None and (one.file, one.rank) in cells:
            cell = cells[one.file, one.rank]
            pose = (one.turn, one.stem_mm)
            same = [n for n in numbers if (board.states[n].turn, board.states[n].stem_mm) == pose]
            out.setdefault(cell, (same or numbers)[0])
        elif model is None:
            fixed = board.puzzle.allowed[piece]
            if fixed:
                out.setdefault(min(fixed), numbers[0])
        elif bench:
            out[bench.pop(0)] = numbers[0]
    return tuple(out[cell] for cell in range(len(board.cells))) if len(out) == len(board.cells) else None


def _joint(first: Placed, second: Placed, beside: bool, mm: float, checked: bool) -> Joint:
    side, other = facing(beside)
    return Joint(
        first.model_id, first.place, own_edge(side, first.turn), second.model_id, second.place,
        own_edge(other, second.turn), mm, checked, first.stem_mm, second.stem_mm, beside,
    )  # fmt: skip


def joint_between(one: Placed, other: Placed) -> Joint | None:
    """The joint at which two places meet edge to edge; None where they do not."""
    for first, second in ((one, other), (other, one)):
        if (second.file - first.file, second.rank - first.rank) == (1, 0):
            return _joint(first, second, True, 0.0, False)
        if (second.file - first.file, second.rank - first.rank) == (0, 1):
            return _joint(first, second, False, 0.0, False)
    return None
