"""A unit's ranks laid out for a screen: places rank by rank, and the marks of what clashes between them."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.answers_ranks import Joint, RankAnswer, RankedModel
from tracker.domain.ranks import Placed
from tracker.report.plain import clip
from tracker.report.ranks_drawing import joint_at, mark_text
from tracker.report.ranks_words import block_at, block_words
from tracker.report.screens.line import Look

_ARROWS = {0: "↑", 90: "→", 180: "↓", 270: "←"}
_PITCH_LEAST, _PITCH_MOST = 6, 13
_MARK = 4
"""Columns between two places, for "12?‹"."""


class Spot(NamedTuple):
    """One place as the screen shows it."""

    text: str
    look: Look
    model_id: int | None = None


class RankRows(NamedTuple):
    """A unit laid out: places rank by rank, and the marks between them."""

    title: str
    lead: str = ""
    """What to do now, above the drawing."""
    spots: tuple[tuple[Spot, ...], ...] = ()
    beside: tuple[tuple[str, ...], ...] = ()
    """Per rank and file: the mark on the joint to the place on its left; empty = no clash."""
    behind: tuple[tuple[str, ...], ...] = ()
    """Per rank and file: the mark on the joint to the place in front of it."""
    hand: tuple[int, int, bool] | None = None
    """(file, rank) whose mark is the joint in hand, and whether it is one of `beside`; none = no joint is."""
    pitch: int = _PITCH_MOST


def rank_rows(answer: RankAnswer, width: int, hand: Joint | None = None, lead: str = "") -> RankRows:
    """The unit for so many columns; where it is wider, the screen moves sideways with the cursor."""
    pitch = min(max((width - 4) // answer.files - _MARK, _PITCH_LEAST), _PITCH_MOST)
    at = {(one.file, one.rank): one for one in answer.placed}
    models = {model.model_id: model for model in answer.models}
    marks = _marks(answer)
    files, ranks = range(1, answer.files + 1), range(1, answer.ranks + 1)
    spots = tuple(
        tuple(_spot(answer, at.get((file, rank)), models, (file, rank), pitch) for file in files)
        for rank in ranks
    )
    beside, behind = (
        tuple(tuple(marks.get((file, rank, side), "") for file in files) for rank in ranks)
        for side in (True, False)
    )
    title = "FRONT, the plan, not taken yet" if answer.is_plan and answer.swaps else "FRONT"
    at_hand = joint_at(answer, hand) if hand else None
    in_hand = (*at_hand, hand.beside) if at_hand and hand else None
    return RankRows(title, lead, spots, beside, behind, in_hand, pitch)


def _marks(answer: RankAnswer) -> dict[tuple[int, int, bool], str]:
    out: dict[tuple[int, int, bool], str] = {}
    for joint in answer.joints:  # worst first: of two on one edge the worse is shown
        where = joint_at(answer, joint)
        if where is not None:
            out.setdefault((*where, joint.beside), mark_text(joint))
    return out


def _spot(
    answer: RankAnswer, placed: Placed | None, models: dict[int, RankedModel], at: tuple[int, int], pitch: int
) -> Spot:
    block = block_at(answer.blocks, *at)
    if block is not None and (block.kind != "large model" or placed is None):
        is_first = (block.file, block.rank) == at
        return Spot(clip(block_words(block) if is_first else "·" * 3, pitch), "quiet", block.model_id)
    if placed is None:
        return Spot("·", "quiet")
    model = models[placed.model_id]
    turn = _ARROWS[placed.turn % 360]
    sign = "*" if model.held else ""
    words = clip(f"{model.number}{sign} {turn} {model.name}".rstrip(), pitch)
    return Spot(words, "row" if model.measured else "quiet", model.model_id)


def mark_look(mark: str) -> Look:
    """A clash found by hand stands out more than a claim."""
    return "late" if mark.endswith("!") else "chart"
