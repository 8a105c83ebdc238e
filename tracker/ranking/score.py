"""An order of a unit, told: its joints, worst first, and what reaches past its outer edges."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from tracker.domain.answers_ranks import Joint, Overhang, Status
from tracker.domain.bases import Base
from tracker.domain.problems import Problem
from tracker.domain.ranks import EDGES, Placed, own_edge
from tracker.ranking.board import Board
from tracker.ranking.holds import read_place
from tracker.ranking.layout import Cell, Neighbours, touching
from tracker.ranking.states import State, facing, reach_mm


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


def score(board: Board, placed: Sequence[Placed]) -> Plan:
    """An order as it is. Joints at full trust: less trust only guides the search."""
    cells = {(cell.file, cell.rank): number for number, cell in enumerate(board.cells)}
    at = _shared_bases(board)
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
                joints.append(_joint(*_met(board, at, near), near.beside, mm, checked))
    joints.sort(key=lambda joint: -joint.mm)
    standing = {one.model_id for one, _ in at.values()}
    models_at = [one for number, (one, _) in at.items() if not is_shared(board.cells[number])]
    models = dict.fromkeys(state.model_id for state in board.states if state.model_id is not None)
    over = _overhangs(board, at)
    front = max((one.mm for one in over if one.side == "front"), default=0)
    total = round(sum(joint.mm for joint in joints), 3)
    return Plan(
        tuple(sorted(models_at, key=lambda one: (one.rank, one.file))),
        tuple(model for model in models if model not in standing), tuple(joints), adjacent,
        "best found" if joints else "no clash", max((joint.mm for joint in joints), default=0.0), total,
        0.0, front, overhangs=over,
    )  # fmt: skip


def is_shared(cell: Cell) -> bool:
    """Whether one base for several models is there."""
    return cell.block is not None and cell.block.kind == "multi-base"


def _shared_bases(board: Board) -> dict[int, tuple[Placed, State]]:
    """Measured bases that several models share, by cell: no models, so that no order names them."""
    states = {state.model_id: state for state in board.states}
    out = {}
    for number, cell in enumerate(board.cells):
        model = cell.block.model_id if cell.block and is_shared(cell) else None
        if model is not None and model in states:
            out[number] = (Placed(model, cell.file, cell.rank), states[model])
    return out


def _met(board: Board, at: Mapping[int, tuple[Placed, State]], near: Neighbours) -> tuple[Placed, Placed]:
    """Two neighbours at the places where they meet."""
    places = touching(board.cells[near.first], board.cells[near.second], beside=near.beside)
    first, second = (
        at[number][0]._replace(file=file, rank=rank)
        for number, (file, rank) in zip((near.first, near.second), places, strict=True)
    )
    return first, second


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


def edge_to_edge_mm(joint: Joint, mm: float, base: Base) -> float:
    """The mm of a `Check` for what hands found at a joint, both models tried where the order puts them.

    found + the bases that stand between them. Two that fit across a base were not tried nearer: at most that
    base is known of them edge to edge, so that much is kept, and no joint is called free that nobody tried.
    """
    first, second = read_place(joint.first_place), read_place(joint.second_place)
    if isinstance(first, Problem) or isinstance(second, Problem):  # An order names its own places.
        return mm
    files, ranks = second[0] - first[0], second[1] - first[1]
    between = (files - 1) * base.width_mm if joint.beside else (ranks - 1) * base.depth_mm
    return mm + max(0.0, between)
