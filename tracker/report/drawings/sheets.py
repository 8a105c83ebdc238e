"""The sheets that a unit's ranks are printed on, laid out in millimetres.

A plan wider than the paper is split; neighbouring sheets share a strip, and the same crosses stand on both.
Paper: A4 is 210 x 297 mm (ISO 216), Letter 8.5 x 11 in (ANSI/ASME Y14.1).
"""

from __future__ import annotations

from math import ceil
from typing import Literal, NamedTuple

from tracker.domain.answers_ranks import RankAnswer, SizeAnswer
from tracker.domain.bases import MM_PER_INCH
from tracker.domain.ranks import place_name
from tracker.report.drawings.mm import Box, line, n, rect, text
from tracker.report.drawings.ranks import plan_marks, spot_box, unit_mm
from tracker.report.ranks_drawing import Spot
from tracker.report.ranks_size_words import mm_words
from tracker.report.ranks_words import block_words

Paper = Literal["a4", "letter"]
PAPERS: dict[Paper, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "letter": (8.5 * MM_PER_INCH, 11 * MM_PER_INCH),
}
PAPER_EDGE_MM = 10.0
"""Kept clear on every side: printers do not reach the edge."""
HEAD_MM, BAR_MM = 20.0, 24.0
"""Kept for the heading, and for the bar that checks the printer."""
OVERLAP_MM = 10.0
_AROUND_MM, _ABOVE_MM = 4.0, 8.0
_APART_MM, _LABEL_MM = 6.0, 8.0


class Leaf(NamedTuple):
    """The room for drawing on a sheet, in mm, and how the paper lies."""

    paper_mm: tuple[float, float]
    width_mm: float
    depth_mm: float


def leaf_of(paper: Paper, *, lying: bool) -> Leaf:
    """What a sheet has room for, upright or lying."""
    width, depth = PAPERS[paper][::-1] if lying else PAPERS[paper]
    return Leaf((width, depth), width - 2 * PAPER_EDGE_MM, depth - 2 * PAPER_EDGE_MM - HEAD_MM - BAR_MM - 1)


def cuts(length_mm: float, room_mm: float) -> list[tuple[float, float]]:
    """(start, end) of the strips that a length is split into, each sharing `OVERLAP_MM` with the next."""
    step = room_mm - OVERLAP_MM
    count = 1 if length_mm <= room_mm else ceil((length_mm - OVERLAP_MM) / step)
    return [(i * step, min(i * step + room_mm, length_mm)) for i in range(count)]


def floor_of(answer: RankAnswer, size: SizeAnswer) -> Box:
    """The tray's floor with the most play, seen from the unit's front left corner; never below the unit."""
    width, depth = unit_mm(answer)
    inside_width, inside_depth = size.tray.inside_mm[1]
    floor_width, floor_depth = max(width, inside_width), max(depth, inside_depth)
    return Box((width - floor_width) / 2, (depth - floor_depth) / 2, floor_width, floor_depth)


def _world(answer: RankAnswer, floor: Box) -> Box:
    """All that the plan draws, from its left front to its right back."""
    past = dict.fromkeys(("front", "right", "back", "left"), 0.0)
    for one in answer.overhangs:
        past[one.side] = max(past[one.side], one.mm, _LABEL_MM)
    left = max(-floor.x, past["left"]) + _AROUND_MM
    front = max(-floor.y, past["front"]) + _ABOVE_MM
    width, depth = unit_mm(answer)
    right = max(floor.x + floor.width, width + past["right"]) + _AROUND_MM
    back = max(floor.y + floor.depth, depth + past["back"]) + _AROUND_MM
    return Box(-left, -front, left + right, front + back)


def best_leaf(answer: RankAnswer, size: SizeAnswer, paper: Paper) -> Leaf:
    """Upright, unless fewer sheets do with the paper lying."""
    world = _world(answer, floor_of(answer, size))
    leaves = [leaf_of(paper, lying=lying) for lying in (False, True)]
    return min(
        leaves, key=lambda leaf: len(cuts(world.width, leaf.width_mm)) * len(cuts(world.depth, leaf.depth_mm))
    )


def plan_sheets(answer: RankAnswer, floor: Box, leaf: Leaf) -> list[str]:
    """One drawing per sheet, from the front left to the back right."""
    world = _world(answer, floor)
    across, down = cuts(world.width, leaf.width_mm), cuts(world.depth, leaf.depth_mm)
    marks = [rect(floor, "cut"), *plan_marks(answer)]
    marks += [
        mark
        for start, _ in across[1:]
        for mark in _seam(world, world.x + start + OVERLAP_MM / 2, upright=True)
    ]
    marks += [
        mark
        for start, _ in down[1:]
        for mark in _seam(world, world.y + start + OVERLAP_MM / 2, upright=False)
    ]
    drawn = "".join(marks)
    return [
        svg(Box(world.x + left, world.y + front, right - left, back - front), drawn, "plan")
        for front, back in down
        for left, right in across
    ]


def _seam(world: Box, at: float, *, upright: bool) -> list[str]:
    """A line that two sheets share, with crosses every 40 mm to lay on each other."""
    start, length = (world.y, world.depth) if upright else (world.x, world.width)
    ends = [(at, start), (at, start + length)] if upright else [(start, at), (start + length, at)]
    marks = [line(*ends[0], *ends[1], "seam")]
    along = start + 5
    while along < start + length - 2:
        x, y = (at, along) if upright else (along, at)
        marks += [line(x - 2, y, x + 2, y, "tick"), line(x, y - 2, x, y + 2, "tick")]
        along += 40
    return marks


def svg(window: Box, marks: str, kind: str) -> str:
    """A drawing at true scale, cut to a window."""
    size = f'width="{n(window.width)}mm" height="{n(window.depth)}mm"'
    view = f'viewBox="{n(window.x)} {n(window.y)} {n(window.width)} {n(window.depth)}"'
    return f'<svg class="ranks {kind}" {size} {view} aria-hidden="true">{marks}</svg>'


def bar() -> str:
    """A bar of 100 mm, a tick every 10 mm, every other part filled."""
    marks = [rect(Box(0, 2, 100, 3), "bar")]
    for ten in range(11):
        marks.append(line(10 * ten, 1, 10 * ten, 6, "tick"))
        marks.append(text(10 * ten, 9.2, str(10 * ten), 2.6))
        if ten % 2 == 0 and ten < 10:
            marks.append(rect(Box(10 * ten, 2, 10, 3), "ink"))
    return svg(Box(-3, 0, 106, 10), "".join(marks), "check")


def _fillers(answer: RankAnswer) -> list[tuple[Box, str, str]]:
    """Size, name and place of every base that is cut to its block; largest first."""
    out = []
    for block in answer.blocks:
        if block.kind != "large model":
            box = spot_box(answer, Spot(block.file, block.rank, block.files, block.ranks))
            out.append((box, block_words(block), place_name(block.file, block.rank)))
    return sorted(out, key=lambda one: (-one[0].depth, -one[0].width, one[2]))


def _fits(box: Box, leaf: Leaf) -> bool:
    return box.width + 2 <= leaf.width_mm and box.depth + 2 <= leaf.depth_mm


def too_large(answer: RankAnswer, leaf: Leaf) -> list[str]:
    """Fillers that no sheet of this paper holds, with their sizes."""
    return [
        f"{name} ({place}): {mm_words(box.width)} by {mm_words(box.depth)}"
        for box, name, place in _fillers(answer)
        if not _fits(box, leaf)
    ]


def piece_sheets(answer: RankAnswer, leaf: Leaf) -> list[str]:
    """Fillers laid out in rows, as many to a sheet as it holds."""
    packed = _packed(answer, leaf, leaf.depth_mm)
    return [svg(Box(0, 0, leaf.width_mm, leaf.depth_mm), "".join(marks), "pieces") for marks in packed]


def pieces_below(answer: RankAnswer, floor: Box, leaf: Leaf) -> str:
    """All fillers below the plan, where one sheet holds both; else empty."""
    world = _world(answer, floor)
    depth = leaf.depth_mm - world.depth - _APART_MM
    is_one = world.width <= leaf.width_mm and depth > 0
    fillers = _fillers(answer)
    if not (is_one and fillers and all(_fits(box, leaf._replace(depth_mm=depth)) for box, _, _ in fillers)):
        return ""
    packed = _packed(answer, leaf, depth)
    return svg(Box(0, -_APART_MM, leaf.width_mm, depth + _APART_MM), "".join(packed[0]), "pieces") * (
        len(packed) == 1
    )


def _packed(answer: RankAnswer, leaf: Leaf, depth_mm: float) -> list[list[str]]:
    """The marks of every sheet, row by row from its top left."""
    sheets: list[list[str]] = []
    x = y = row_depth = 0.0
    for box, name, place in _fillers(answer):
        if not _fits(box, leaf):
            continue
        if x + box.width + 2 > leaf.width_mm:
            x, y, row_depth = 0.0, y + row_depth + _APART_MM, 0.0
        if not sheets or y + box.depth + 2 > depth_mm:
            sheets.append([])
            x = y = row_depth = 0.0
        sheets[-1] += _piece(Box(x + 1, y + 1, box.width, box.depth), name, place)
        x, row_depth = x + box.width + _APART_MM, max(row_depth, box.depth)
    return sheets


def _piece(box: Box, name: str, place: str) -> list[str]:
    middle, centre = box.x + box.width / 2, box.y + box.depth / 2
    size = f"{mm_words(box.width).removesuffix(' mm')} x {mm_words(box.depth)}"
    return [
        rect(box, "cut"),
        line(middle - 4, box.y + 1, middle + 4, box.y + 1, "front"),
        text(middle, box.y + 4.5, "front", 2.6, "quiet"),
        text(middle, centre + 1, name, 3.2, "strong", room=box.width - 2),
        text(middle, centre + 5, f"{size}, at {place}", 2.6, room=box.width - 2),
    ]
