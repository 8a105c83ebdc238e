"""A unit's ranks drawn at true scale: one unit of the drawing is one millimetre.

Seen from above, front at the top. Every mark has a shape or a word beside its colour: a claim is a ring
with "?", a clash found by hand a filled diamond with "!", a block is hatched, an empty place dotted.
"""

from __future__ import annotations

from collections.abc import Iterator

from tracker.domain.answers_ranks import Joint, Overhang, RankAnswer
from tracker.domain.bases import Base, parse_base
from tracker.domain.ranks import Block, Placed, place_name
from tracker.report.drawings.mm import LETTER_WIDE, STYLE, Box, line, n, polygon, rect, safe, text
from tracker.report.plain import clip
from tracker.report.ranks_drawing import Spot, joint_at, mark_text, spot_of
from tracker.report.ranks_size_words import mm_words
from tracker.report.ranks_words import block_words, looks_words, status_words, who

_EDGE_MM = 10.0


def unit_mm(answer: RankAnswer) -> tuple[float, float]:
    """Width and depth of the unit: places and the gaps between them."""
    box = spot_box(answer, Spot(1, 1, answer.files, answer.ranks))
    return box.width, box.depth


def spot_box(answer: RankAnswer, spot: Spot) -> Box:
    """Where a place or block lies, from the unit's front left corner."""
    (width, depth), gap = answer.cell_mm, answer.rules.gap_mm
    return Box(
        (spot.file - 1) * (width + gap), (spot.rank - 1) * (depth + gap),
        spot.files * width + (spot.files - 1) * gap, spot.ranks * depth + (spot.ranks - 1) * gap,
    )  # fmt: skip


def under_base(answer: RankAnswer, model_id: int) -> str:
    """What to write under a base: two letters of the unit and the model's number, as in "Sp 4".

    A single letter and a number would read as a place.
    """
    letters = "".join(sign for sign in answer.unit if sign.isalnum())[:2].capitalize()
    number = next((str(model.number) for model in answer.models if model.model_id == model_id), "")
    return f"{letters} {number}".strip() if number else ""


def ranks_svg(answer: RankAnswer) -> str:
    """The unit as an SVG file, its width and height given in mm."""
    width, depth = unit_mm(answer)
    reach = max([answer.front_mm, *(overhang.mm for overhang in answer.overhangs)])
    edge = _EDGE_MM + reach
    size = (width + 2 * edge, depth + 2 * edge)
    order = "the plan" if answer.is_plan else "as it stands"
    title = f"{clip(answer.unit, 80)}, {order}: {answer.files} wide, {answer.ranks} deep, at true scale"
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<svg xmlns="http://www.w3.org/2000/svg" class="ranks"'
        f' width="{n(size[0])}mm" height="{n(size[1])}mm"'
        f' viewBox="{n(-edge)} {n(-edge)} {n(size[0])} {n(size[1])}" role="img"'
        ' aria-labelledby="title desc" xml:lang="en">\n'
        f'<title id="title">{safe(title, 200)}</title>\n<desc id="desc">{safe(told(answer), 4000)}</desc>\n'
        f"<style>{STYLE}</style>\n"
        + rect(Box(-edge, -edge, *size), "on")
        + "\n".join(plan_marks(answer))
        + "\n</svg>\n"
    )


def told(answer: RankAnswer) -> str:
    """The drawing in words: how good it is, then who stands where."""
    ranks = []
    for rank in range(1, answer.ranks + 1):
        row = sorted((placed for placed in answer.placed if placed.rank == rank), key=lambda one: one.file)
        names = [f"{one.place} {who(answer, one.model_id)}{_turned(one)}" for one in row]
        if names:
            ranks.append(f"Rank {rank}: {', '.join(names)}.")
    blocks = [f"{block_words(block)} from {place_name(block.file, block.rank)}." for block in answer.blocks]
    return " ".join([status_words(answer), *ranks, *blocks])


def _turned(placed: Placed) -> str:
    return f" looking {looks_words(placed.turn)}" if placed.turn % 360 else ""


def plan_marks(answer: RankAnswer) -> list[str]:
    """The unit from its front left corner at (0, 0): bases, blocks, joints, what reaches past it."""
    parsed = parse_base(answer.base)
    base = parsed if isinstance(parsed, Base) else Base("rectangle", *answer.cell_mm)
    width, _ = unit_mm(answer)
    front = -max([0, *(one.mm for one in answer.overhangs if one.side == "front")]) - 2.5
    marks = [text(width / 2, front, "FRONT", 3.5, "strong"), line(0, 0, width, 0, "front")]
    models = {spot_of(answer, placed.place): placed for placed in answer.placed}
    blocks = {Spot(one.file, one.rank, one.files, one.ranks): one for one in answer.blocks}
    for spot, block in blocks.items():
        marks += _block(answer, spot, block, models.pop(spot, None))
    for spot in _single_spots(answer):
        box, placed = spot_box(answer, spot), models.get(spot)
        marks.append(_shape(box, base, "base" if placed else "empty"))
        marks += _model(answer, box, placed) if placed else [_corner(box, place_name(spot.file, spot.rank))]
    for joint in reversed(answer.joints):
        marks += _joint(answer, joint)
    for overhang in answer.overhangs:
        marks += _overhang(answer, overhang)
    return marks


def _single_spots(answer: RankAnswer) -> Iterator[Spot]:
    for rank in range(1, answer.ranks + 1):
        for file in range(1, answer.files + 1):
            if (spot := spot_of(answer, place_name(file, rank))) == Spot(file, rank):
                yield spot


def _shape(box: Box, base: Base, kind: str) -> str:
    if base.shape == "rectangle":
        return rect(box, kind)
    radii = f'rx="{n(box.width / 2)}" ry="{n(box.depth / 2)}"'
    return (
        f'<ellipse cx="{n(box.x + box.width / 2)}" cy="{n(box.y + box.depth / 2)}" {radii} class="{kind}"/>'
    )


def _corner(box: Box, words: str) -> str:
    """A small word in the front left corner."""
    high = _small(box)
    return text(box.x + high * 0.5, box.y + high * 1.3, words, high, "quiet", anchor="start")


def _small(box: Box) -> float:
    return min(max(min(box.width, box.depth) * 0.14, 1.4), 4.0)


def _model(answer: RankAnswer, box: Box, placed: Placed) -> list[str]:
    """Its place, what stands under its base, its name, and a wedge at its own front edge."""
    middle, centre, high = box.x + box.width / 2, box.y + box.depth / 2, _small(box)
    number = under_base(answer, placed.model_id) or "?"
    tall = min(min(box.width, box.depth) * 0.34, box.width * 0.8 / (LETTER_WIDE * len(number)))
    name = next((model.name for model in answer.models if model.model_id == placed.model_id), "")
    letters = int(box.width * 0.9 / (LETTER_WIDE * high))
    stem = f" +{placed.stem_mm}" if placed.stem_mm else ""
    marks = [
        _corner(box, placed.place + stem),
        text(middle, centre + tall * 0.45, number, tall, "strong"),
        polygon(_wedge(box, placed.turn, high), "looks"),
    ]
    if name and letters >= 3:
        marks.append(text(middle, box.y + box.depth - high * 1.1, clip(name, letters), high))
    return marks


def _wedge(box: Box, turn: int, size: float) -> list[tuple[float, float]]:
    """A triangle just inside the edge that the model looks over, pointing outwards."""
    middle, centre, inset = box.x + box.width / 2, box.y + box.depth / 2, 0.4
    tips = {
        0: (middle, box.y + inset, 0, 1),
        90: (box.x + box.width - inset, centre, -1, 0),
        180: (middle, box.y + box.depth - inset, 0, -1),
        270: (box.x + inset, centre, 1, 0),
    }
    x, y, right, down = tips[turn % 360]
    foot_x, foot_y = x + right * size, y + down * size
    return [
        (x, y),
        (foot_x + down * size, foot_y + right * size),
        (foot_x - down * size, foot_y - right * size),
    ]


def _block(answer: RankAnswer, spot: Spot, block: Block, placed: Placed | None) -> list[str]:
    box = spot_box(answer, spot)
    marks = [rect(box, "block"), *_hatched(box), _corner(box, place_name(spot.file, spot.rank))]
    if placed is not None:
        return marks + _model(answer, box, placed)
    name, high = block_words(block), _small(box)
    size = f"{n(round(box.width, 1))} x {n(round(box.depth, 1))} mm"
    return [
        *marks,
        text(box.x + box.width / 2, box.y + box.depth / 2, name, high, "name", room=box.width),
        text(box.x + box.width / 2, box.y + box.depth / 2 + high * 1.5, size, high, "name quiet"),
    ]


def _hatched(box: Box, step: float = 4.0) -> list[str]:
    """Slanting lines over a rectangle, cut at its edges."""
    out, at = [], step
    while at < box.width + box.depth:
        start = (box.x + max(0.0, at - box.depth), box.y + min(at, box.depth))
        end = (box.x + min(at, box.width), box.y + max(0.0, at - box.width))
        out.append(line(*start, *end, "hatch"))
        at += step
    return out


def _joint(answer: RankAnswer, joint: Joint) -> list[str]:
    """A mark on the edge where two meet: a diamond where it was checked, else a dashed ring."""
    at = joint_at(answer, joint)
    first, second = spot_of(answer, joint.first_place), spot_of(answer, joint.second_place)
    if at is None or first is None or second is None:
        return []
    box, gap = spot_box(answer, Spot(*at)), answer.rules.gap_mm / 2
    # Off the middle of the edge, where the wedges stand.
    x = box.x - gap if joint.beside else box.x + box.width * 0.78
    y = box.y + box.depth * 0.32 if joint.beside else box.y - gap
    size = min(max(min(box.width, box.depth) * 0.1, 1.2), 3.0)
    words = text(x, y + size * 0.4, mark_text(joint), size * 1.1, "strong on" if joint.checked else "strong")
    if joint.checked:
        far = size * 1.6
        return [polygon([(x, y - far), (x + far, y), (x, y + far), (x - far, y)], "clash"), words]
    return [f'<circle cx="{n(x)}" cy="{n(y)}" r="{n(size * 1.2)}" class="claim"/>', words]


def _overhang(answer: RankAnswer, overhang: Overhang) -> list[str]:
    """A line as long as what reaches past the edge, and its length."""
    spot = spot_of(answer, overhang.place)
    if spot is None:
        return []
    box, past = spot_box(answer, spot), overhang.mm
    x, y = box.x + box.width * 0.75, box.y + box.depth * 0.75
    left, right, back = box.x, box.x + box.width, box.y + box.depth
    words, high, kind = mm_words(past), 2.2, "name"
    if overhang.side == "front":
        return [line(x, 0, x, -past, "past"), text(x + 0.7, -0.8, words, high, kind, anchor="start")]
    if overhang.side == "back":
        return [
            line(x, back, x, back + past, "past"),
            text(x + 0.7, back + high, words, high, kind, anchor="start"),
        ]
    edge, way, anchor = (left, -1, "end") if overhang.side == "left" else (right, 1, "start")
    return [
        line(edge, y, edge + way * past, y, "past"),
        text(edge + way * 0.7, y - 0.7, words, high, kind, anchor=anchor),
    ]
