"""The unit as a frame of text: a box for each place, what clashes written on the joints.

The frame is a lattice: the edge between two places is drawn unless one block covers both, and the sign at
each crossing follows from the edges that meet there.
"""

from __future__ import annotations

from math import ceil
from typing import NamedTuple

from tracker.domain.answers_ranks import Joint, Overhang, RankAnswer
from tracker.domain.ranks import Block, Placed, place_name
from tracker.report.plain import cells, clip, count_words
from tracker.report.ranks_words import block_at, block_words, place_of, who

MARGIN = 4
"""Columns left and right of the frame, for what reaches past it."""
_INNER_LEAST, _INNER_MOST = 7, 14
_UP, _RIGHT, _DOWN, _LEFT = 1, 2, 4, 8


class Signs(NamedTuple):
    """What a frame is made of."""

    lattice: str
    """By the sum of the edges that meet: up 1, right 2, down 4, left 8."""
    turns: str
    """Looking to the front, right, back, left."""
    empty: str


FINE = Signs(" ╵╶└╷│┌├╴┘─┴┐┤┬┼", "↑→↓←", "·")
ASCII = Signs(" |-+||++-+-+++++", "^>v<", ".")


class Spot(NamedTuple):
    """One place of the frame, or all those of a block. Files and ranks count from 1."""

    file: int
    rank: int
    files: int = 1
    ranks: int = 1


class _Frame(NamedTuple):
    answer: RankAnswer
    inner: int
    """Columns inside a box."""
    high: int
    """Lines inside a box."""
    signs: Signs
    rows: list[list[str]]

    def column(self, file: int) -> int:
        """Of the left edge of a file."""
        return (file - 1) * (self.inner + 1)

    def row(self, rank: int) -> int:
        """Of the front edge of a rank."""
        return (rank - 1) * (self.high + 1)

    def room(self, spot: Spot) -> int:
        """Columns inside a spot."""
        return spot.files * (self.inner + 1) - 1

    def middle(self, spot: Spot) -> int:
        """The column in the middle of a spot."""
        return self.column(spot.file) + 1 + self.room(spot) // 2

    def put(self, row: int, column: int, text: str) -> None:
        """Write; a wide sign takes two columns, a combining one none."""
        for sign in text:
            wide = cells(sign)
            if wide == 0:
                self.rows[row][column - 1] += sign
                continue
            self.rows[row][column : column + wide] = [sign, *[""] * (wide - 1)]
            column += wide


def mark_text(joint: Joint) -> str:
    """As in "3!", a clash of 3 mm checked by hand, and "3?", only claimed; rounded up to whole mm."""
    return f"{ceil(joint.mm - 1e-9)}{'!' if joint.checked else '?'}"


def fits(answer: RankAnswer, width: int) -> bool:
    """Whether boxes that can be read fit into so many columns."""
    return _inner(answer, width) >= _INNER_LEAST


def _inner(answer: RankAnswer, width: int) -> int:
    return min((width - 2 * MARGIN - 1) // answer.files - 1, _INNER_MOST)


def spot_of(answer: RankAnswer, place: str) -> Spot | None:
    """What is drawn at a place; none outside the unit."""
    at = place_of(place)
    if at is None or at[0] > answer.files or at[1] > answer.ranks:
        return None
    block = block_at(answer.blocks, *at)
    return Spot(block.file, block.rank, block.files, block.ranks) if block else Spot(*at)


def joint_at(answer: RankAnswer, joint: Joint) -> tuple[int, int] | None:
    """(file, rank) of the place on whose left edge, or front edge, the joint's mark stands."""
    first, second = spot_of(answer, joint.first_place), spot_of(answer, joint.second_place)
    if first is None or second is None:
        return None
    return max(first.file, second.file), max(first.rank, second.rank)


def drawing(answer: RankAnswer, width: int, *, plain: bool = False) -> list[str]:
    """The frame, front at the top, no wider than `width`; for a width where it `fits`."""
    inner, high = _inner(answer, width), 3 if any(placed.stem_mm for placed in answer.placed) else 2
    wide, tall = answer.files * (inner + 1) + 1, answer.ranks * (high + 1) + 1
    frame = _Frame(answer, inner, high, ASCII if plain else FINE, [[" "] * wide for _ in range(tall)])
    _draw_lattice(frame)
    _draw_spots(frame)
    for joint in reversed(answer.joints):
        _draw_mark(frame, joint)  # the worst last: where a long reach passes over a base, it is what shows
    margins = {row: ["", ""] for row in range(tall)}
    outside = {"front": [" "] * wide, "back": [" "] * wide}
    for overhang in answer.overhangs:
        _draw_overhang(frame, overhang, margins, outside)
    body = [
        f"{margins[row][0]:>{MARGIN}}{''.join(signs)}{margins[row][1]}"
        for row, signs in enumerate(frame.rows)
    ]
    front, back = (" " * MARGIN + "".join(outside[side]) for side in ("front", "back"))
    lines = [" " * MARGIN + "FRONT".center(wide), front, *body, back]
    return [line.rstrip() for line in lines if line.strip()]


def _owner(answer: RankAnswer, file: int, rank: int) -> object:
    """What a place belongs to: a block, itself, or nothing outside the unit."""
    if not (1 <= file <= answer.files and 1 <= rank <= answer.ranks):
        return None
    return block_at(answer.blocks, file, rank) or (file, rank)


def _draw_lattice(frame: _Frame) -> None:
    """Every edge and crossing; crossing (f, r) stands right of file f and behind rank r."""
    answer, lattice = frame.answer, frame.signs.lattice

    def level(file: int, rank: int) -> bool:
        """Whether there is an edge behind a place."""
        return _owner(answer, file, rank) != _owner(answer, file, rank + 1)

    def upright(file: int, rank: int) -> bool:
        """Whether there is an edge right of a place."""
        return _owner(answer, file, rank) != _owner(answer, file + 1, rank)

    for rank in range(answer.ranks + 1):
        for file in range(answer.files + 1):
            row, column = frame.row(rank + 1), frame.column(file + 1)
            arms = _UP * upright(file, rank) + _DOWN * upright(file, rank + 1)
            arms += _LEFT * level(file, rank) + _RIGHT * level(file + 1, rank)
            frame.put(row, column, lattice[arms])
            if level(file + 1, rank) and file < answer.files:
                frame.put(row, column + 1, lattice[_LEFT + _RIGHT] * frame.inner)
            if upright(file, rank + 1) and rank < answer.ranks:
                for below in range(1, frame.high + 1):
                    frame.put(row + below, column, lattice[_UP + _DOWN])


def _draw_spots(frame: _Frame) -> None:
    """Models, blocks and empty places."""
    answer, taken = frame.answer, set()
    for placed in answer.placed:
        spot = spot_of(answer, placed.place)
        if spot is not None:
            taken.add(spot)
            _write(frame, spot, _model_lines(frame, placed))
    for block in answer.blocks:
        spot = Spot(block.file, block.rank, block.files, block.ranks)
        if spot not in taken:
            taken.add(spot)
            _write(frame, spot, _block_lines(block))
    for rank in range(1, answer.ranks + 1):
        for file in range(1, answer.files + 1):
            if spot_of(answer, place_name(file, rank)) not in taken:
                dots = " ".join(frame.signs.empty * ((frame.inner - 1) // 2))
                _write(frame, Spot(file, rank), [place_name(file, rank), dots])


def _model_lines(frame: _Frame, placed: Placed) -> list[str]:
    arrow = frame.signs.turns[placed.turn // 90 % 4]
    stem = [f"+{placed.stem_mm} mm"] if placed.stem_mm else []
    return [f"{placed.place} {arrow}", who(frame.answer, placed.model_id, placed.place), *stem]


def _block_lines(block: Block) -> list[str]:
    holds = [count_words(block.models, "model")] if block.models > 1 else []
    return [place_name(block.file, block.rank), block_words(block), *holds]


def _write(frame: _Frame, spot: Spot, lines: list[str]) -> None:
    room = spot.ranks * (frame.high + 1) - 1
    for below, words in enumerate(lines[:room], start=1):
        frame.put(
            frame.row(spot.rank) + below, frame.column(spot.file) + 2, clip(words, frame.room(spot) - 2)
        )


def _draw_mark(frame: _Frame, joint: Joint) -> None:
    at = joint_at(frame.answer, joint)
    if at is None:
        return
    row, column, words = frame.row(at[1]), frame.column(at[0]), mark_text(joint)
    if joint.beside:
        frame.put(row + 1, max(column - len(words) // 2, 0), words)
    else:
        frame.put(row, column + 1 + (frame.inner - len(words) - 1) // 2, f" {words} ")


def _draw_overhang(
    frame: _Frame, overhang: Overhang, margins: dict[int, list[str]], outside: dict[str, list[str]]
) -> None:
    """A tick on the outer edge, and how many mm beside it."""
    spot, lattice = spot_of(frame.answer, overhang.place), frame.signs.lattice
    if spot is None:
        return
    row, middle, words = frame.row(spot.rank) + frame.high, frame.middle(spot), str(overhang.mm)
    if overhang.side in outside:
        is_front = overhang.side == "front"
        tick = lattice[_LEFT + _RIGHT + (_UP if is_front else _DOWN)]
        frame.put(0 if is_front else len(frame.rows) - 1, middle, tick)
        start = middle - len(words) // 2
        outside[overhang.side][start : start + len(words)] = words
    else:
        is_left = overhang.side == "left"
        tick = lattice[_UP + _DOWN + (_LEFT if is_left else _RIGHT)]
        frame.put(row, 0 if is_left else len(frame.rows[0]) - 1, tick)
        margins[row][0 if is_left else 1] = f"{words} " if is_left else f" {words}"
