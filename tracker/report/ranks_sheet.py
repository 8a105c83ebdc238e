"""A unit's ranks as a page that prints at true scale: it lies on the tray's floor, under the models.

The drawings come from `drawings.sheets`; here stand the words beside them.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from tracker.domain.answers_ranks import RankAnswer, SizeAnswer
from tracker.domain.ranks import place_name
from tracker.report.drawings.mm import STYLE, n
from tracker.report.drawings.ranks import under_base
from tracker.report.drawings.sheets import (
    BAR_MM,
    HEAD_MM,
    OVERLAP_MM,
    PAPER_EDGE_MM,
    Paper,
    bar,
    best_leaf,
    floor_of,
    piece_sheets,
    pieces_below,
    plan_sheets,
    too_large,
)
from tracker.report.plain import clip, count_words
from tracker.report.ranks_drawing import spot_of
from tracker.report.ranks_size_words import mm_words
from tracker.report.ranks_words import (
    block_words,
    joint_words,
    looks_words,
    numbers_words,
    status_words,
    swap_words,
)

_TEMPLATE = Path(__file__).with_name("ranks_sheet.html")


class Row(NamedTuple):
    """A place, and who stands there."""

    place: str
    under: str
    who: str
    looks: str


def ranks_sheet(answer: RankAnswer, size: SizeAnswer, paper: Paper = "a4") -> str:
    """The sheets as one HTML page without a script or a request; print it at 100 %."""
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    floor, leaf = floor_of(answer, size), best_leaf(answer, size, paper)
    plans, below = plan_sheets(answer, floor, leaf), pieces_below(answer, floor, leaf)
    pieces = [] if below else piece_sheets(answer, leaf)
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    template = environment.from_string(_TEMPLATE.read_text(encoding="utf-8"))
    # Only our own style sheet and drawings are taken as they are; the drawings escape every name in them.
    return template.render(
        unit=clip(answer.unit, 60),
        order="the plan" if answer.is_plan else "as it stands",
        paper_mm=[n(side) for side in leaf.paper_mm],
        edge_mm=n(PAPER_EDGE_MM),
        leaf_mm=[n(leaf.width_mm), n(leaf.paper_mm[1] - 2 * PAPER_EDGE_MM - 1)],
        head_mm=n(HEAD_MM),
        bar_mm=n(BAR_MM),
        style=Markup(STYLE),  # noqa: S704
        bar=Markup(bar()),  # noqa: S704
        plans=[Markup(svg) for svg in plans],  # noqa: S704
        pieces=[Markup(svg) for svg in pieces],  # noqa: S704
        below=Markup(below),  # noqa: S704
        overlap=n(OVERLAP_MM),
        floor_words=f"{mm_words(floor.width)} by {mm_words(floor.depth)}",
        walls=mm_words(size.tray.wall_mm),
        status=status_words(answer),
        rows=_rows(answer),
        bench=_bench(answer),
        joints=[joint_words(answer, joint) for joint in answer.to_check],
        swaps=[swap_words(answer, swap) for swap in answer.swaps],
        too_large=too_large(answer, leaf),
    )


def _rows(answer: RankAnswer) -> list[Row]:
    """Rank by rank from the front, each from the left."""
    out, seen = [], set()
    placed_at = {spot_of(answer, placed.place): placed for placed in answer.placed}
    blocks = {(block.file, block.rank): block for block in answer.blocks}
    numbers = {model.model_id: (model.number, clip(model.name, 40)) for model in answer.models}
    for rank in range(1, answer.ranks + 1):
        for file in range(1, answer.files + 1):
            spot = spot_of(answer, place_name(file, rank))
            if spot is None or spot in seen:
                continue
            seen.add(spot)
            placed, block = placed_at.get(spot), blocks.get((spot.file, spot.rank))
            if placed is not None:
                number, name = numbers.get(placed.model_id, ("", ""))
                stem = f", stem +{placed.stem_mm} mm" if placed.stem_mm else ""
                under = under_base(answer, placed.model_id)
                out.append(
                    Row(placed.place, under, f"{number} {name}".strip(), looks_words(placed.turn) + stem)
                )
            else:
                out.append(Row(place_name(file, rank), "", block_words(block) if block else "nobody", ""))
    return out


def _bench(answer: RankAnswer) -> str:
    numbers = [model.number for model in answer.models if model.model_id in answer.bench]
    return (
        f"{count_words(len(numbers), 'model')} beside the unit: {numbers_words(numbers)}." if numbers else ""
    )
