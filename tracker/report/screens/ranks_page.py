"""A unit's ranks on a screen in words: the joint in hand, the place under the cursor, what to do next."""

from __future__ import annotations

import re
from typing import NamedTuple

from tracker.domain.answers_ranks import Joint, RankAnswer, SizeAnswer
from tracker.domain.problems import Problem
from tracker.domain.ranks import TURNS, place_name
from tracker.report.plain import cells, clip, count_words
from tracker.report.ranks_drawing import spot_of
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
from tracker.report.screens.line import BLANK, PageLine, doubted, head, sentences

ASK_MEASURE = "Its reach in mm at front right back left; past the edge 6, short of it -4 (or low/middle/high)"
ASK_CLASH = "{joint}: by how many mm do they clash? (Enter alone: they fit)"
ASK_JOINT = "Which joint, and what did you find? B1-C1 fits, or the mm: B1-C1 3"
ASK_HOLD = "Which place does it keep? Enter: this one; or rank 2, front, back"
ASK_FILLER = "A filler with its front left corner at {place}: how large? (like 40x40)"
ASK_RANKS = "Files x ranks and the base, like 5x4 20x20"
READING = "Reading the ranks."
PLANNING = "Planning."
ANEW = "Working it out anew with what you found."
NO_JOINT = "No joint is in hand. c says of any joint what you found."
NO_PLAN = "This is the order as it stands: n plans another."
NOT_IN_A_PLAN = "Places are changed in the order as it stands: k keeps the plan, or n leaves it."
FIRST = (
    "Hold a ruler to models that reach past their bases (r), and let it plan (n). Or only try the real ones: "
    "say which joints clash (c), and it plans around them."
)
_HOW = " f fits, m mm"
_AFTER = "n plans who should stand where   j another joint first"
_AFTER_PLAN = "k keeps the plan once they stand like this   j another joint first"
_SAID = re.compile(r"\s*(\d{1,4})\s*[x×*]\s*(\d{1,4})(?:\s+(?:on\s+)?(\S.*?))?\s*", re.IGNORECASE)


def ranks_lines(
    answer: RankAnswer, hand: Joint | None, here: tuple[int, int], size: SizeAnswer | None, width: int
) -> list[PageLine]:
    """Below the drawing: how good it is, the place under the cursor, what there is to do."""
    out: list[PageLine] = []
    out += sentences(status_words(answer), width)
    out += sentences(here_words(answer, here), width, "quiet")
    if hand is not None:
        out.append(PageLine(_AFTER_PLAN if answer.is_plan else _AFTER, "quiet"))
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


def lead_words(answer: RankAnswer, hand: Joint | None, width: int) -> str:
    """The joint to dry-fit now, with the keys for what hands find where they fit; else what to press next."""
    if hand is not None:
        words = f"Dry-fit {joint_words(answer, hand)} by the ruler."
        return words + _HOW if cells(words + _HOW) <= width else clip(words, width)
    if not answer.is_plan:
        return "n plans who should stand where."
    return "k keeps this plan as the order it stands in." if answer.swaps else "It stands as planned."


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
    words += [f"may turn: {model.turns}"] if model.turns else []
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


def joint_here(answer: RankAnswer, here: tuple[int, int]) -> str:
    """The joint right of the place under the cursor, or behind it, as it is typed; empty without any."""
    (file, rank), place = here, place_name(*here)
    if file < answer.files:
        return f"{place}-{place_name(file + 1, rank)} "
    return f"{place}-{place_name(file, rank + 1)} " if rank < answer.ranks else ""


def said_joints(text: str) -> list[str]:
    """Joints and what was found at each, by turns, of "B1-C1 3 mm C1-C2 fits"."""
    return re.sub(r"(?<=\d)\s*mm\b", "", text).split()


def next_turns(turns: str) -> str:
    """The way to turn after this one; empty = as its unit."""
    ways = [*TURNS, ""]
    return ways[(ways.index(turns) + 1) % len(ways)]


def place_of_joint(joint: Joint) -> tuple[int, int]:
    """(file, rank) of the first of its two places."""
    return place_of(joint.first_place) or (1, 1)


def joint_place(joint: Joint) -> str:
    """As in "B1-C1"."""
    return f"{joint.first_place}-{joint.second_place}"
