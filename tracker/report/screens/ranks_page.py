"""A unit's ranks on a screen: a compact drawing with a cursor, the joint in hand, and what to do next."""

from __future__ import annotations

import re
from typing import NamedTuple

from tracker.domain.answers_ranks import Joint, RankAnswer, RankedModel, SizeAnswer
from tracker.domain.problems import Problem
from tracker.domain.ranks import Placed, place_name
from tracker.report.plain import clip, count_words
from tracker.report.ranks_drawing import joint_at, mark_text, spot_of
from tracker.report.ranks_size_words import size_text
from tracker.report.ranks_words import (
    block_at,
    block_words,
    cure_lines,
    joint_words,
    looks_words,
    not_measured_words,
    place_of,
    status_words,
    swap_words,
    trust_words,
)
from tracker.report.screens.line import BLANK, Look, PageLine, doubted, head, sentences

ASK_MEASURE = "Its reach in mm at front right back left; past the edge 6, short of it -4 (or low/middle/high)"
ASK_CLASH = "{joint}: by how many mm do they clash? (Enter alone: they fit)"
ASK_HOLD = "Which place does it keep? B1, rank 2, front, back; nothing = free"
ASK_TURNS = "How may it be turned? front, half, any; nothing = as its unit"
ASK_FILLER = "A filler with its front left corner at {place}: how large? (like 40x40)"
ASK_RANKS = "Files x ranks and the base, like 5x4 20x20"
READING = "Reading the ranks."
PLANNING = "Planning."
FIRST = (
    "Hold a ruler to models that reach past their bases (r), or only try the real ones: n plans, and asks "
    "for the joints it is unsure of, one by one."
)
_SAID = re.compile(r"\s*(\d{1,4})\s*[x×*]\s*(\d{1,4})(?:\s+(?:on\s+)?(\S.*?))?\s*", re.IGNORECASE)
_ARROWS = {0: "↑", 90: "→", 180: "↓", 270: "←"}
_PITCH_LEAST, _PITCH_MOST = 6, 13
_MARK = 4
"""Columns between two places, for "12?"."""


class Spot(NamedTuple):
    """One place as the screen shows it."""

    text: str
    look: Look
    model_id: int | None = None


class RankRows(NamedTuple):
    """A unit laid out: places rank by rank, and the marks between them."""

    title: str
    spots: tuple[tuple[Spot, ...], ...] = ()
    beside: tuple[tuple[str, ...], ...] = ()
    """Per rank and file: the mark on the joint to the place on its left; empty = no clash."""
    behind: tuple[tuple[str, ...], ...] = ()
    """Per rank and file: the mark on the joint to the place in front of it."""
    pitch: int = _PITCH_MOST


def rank_rows(answer: RankAnswer, width: int) -> RankRows:
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
    return RankRows(title, spots, beside, behind, pitch)


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


def ranks_lines(
    answer: RankAnswer, hand: Joint | None, here: tuple[int, int], size: SizeAnswer | None, width: int
) -> list[PageLine]:
    """Below the drawing: the joint in hand, how good it is, the place under the cursor, what to do."""
    out = [PageLine(line, "head") for line in hand_lines(answer, hand, width)]
    out += sentences(status_words(answer), width)
    out += sentences(here_words(answer, here), width, "quiet")
    if size is not None:
        out += [BLANK, *(PageLine(line, "row") for line in size_text(size, width).splitlines())]
    if not any(model.measured for model in answer.models) and not answer.checks:
        out += [BLANK, *sentences(FIRST, width, "quiet")]
    out += _listed("Joints to dry-fit, worst first", [joint_words(answer, one) for one in answer.to_check])
    swaps = [swap_words(answer, one) for one in answer.swaps] if answer.is_plan else []
    out += _listed("From the order as it stands", [f"{n}. {words}" for n, words in enumerate(swaps, start=1)])
    out += _listed("Any one of these would free it", cure_lines(answer) if answer.is_plan else [])
    for words in (trust_words(answer), not_measured_words(answer)):
        if words:
            out += [BLANK, *sentences(words, width, "quiet")]
    out += doubted(answer.doubts, width)
    out += sentences("Corners were not checked. A claim of 1 to 2 mm is mostly none.", width, "quiet")
    return [line._replace(text=clip(line.text, width)) for line in out]


def _listed(title: str, lines: list[str]) -> list[PageLine]:
    return [BLANK, head(title), *(PageLine(f"  {line}", "row") for line in lines)] if lines else []


def hand_lines(answer: RankAnswer, hand: Joint | None, width: int) -> list[str]:
    """The joint to dry-fit now, and the keys for what hands find; else what to press next."""
    if hand is not None:
        words = f"Dry-fit {joint_words(answer, hand)}."
        plans = "" if answer.is_plan else "   n plan who should stand where"
        return [clip(words, width), f"f they fit   m so many mm   j another joint{plans}"]
    if not answer.is_plan:
        return ["n plans who should stand where."]
    return ["k keeps this plan as the order it stands in." if answer.swaps else "It stands as planned."]


def here_words(answer: RankAnswer, here: tuple[int, int]) -> str:
    """The place under the cursor in words."""
    place = place_name(*here)
    block = block_at(answer.blocks, *here)
    placed = next(
        (one for one in answer.placed if spot_of(answer, one.place) == spot_of(answer, place)), None
    )
    if placed is None:
        return f"{place}: {block_words(block)}." if block else f"{place}: empty."
    model = next(one for one in answer.models if one.model_id == placed.model_id)
    words = [f"{place}: model {model.number}" + (f", {model.name}" if model.name else "")]
    words.append(f"measured ({model.reach})" if model.measured else "not measured")
    words += [f"looks {looks_words(placed.turn)}"] if placed.turn else []
    words += [f"stem {placed.stem_mm} mm higher"] if placed.stem_mm else []
    words += ["keeps its place (*)"] if model.held else []
    return ", ".join(words) + "."


def ranks_title(answer: RankAnswer) -> str:
    """The name of the screen."""
    models = count_words(len(answer.models), "model")
    return f"{clip(answer.unit, 30)}: {answer.files} x {answer.ranks}, {models}"


class SaidRanks(NamedTuple):
    """Files, ranks and base from one line."""

    files: int
    ranks: int
    base: str | None


def read_ranks_line(text: str) -> SaidRanks | Problem:
    """As in "5x4 20x20" or "5x4"."""
    said = _SAID.fullmatch(text)
    if not said:
        return Problem("ranks", f'"{clip(text, 40)}" is not read', "Write it like 5x4 20x20")
    return SaidRanks(int(said[1]), int(said[2]), said[3])


def place_of_joint(joint: Joint) -> tuple[int, int]:
    """(file, rank) of the first of its two places."""
    return place_of(joint.first_place) or (1, 1)


def joint_place(joint: Joint) -> str:
    """As in "B1-C1"."""
    return f"{joint.first_place}-{joint.second_place}"
