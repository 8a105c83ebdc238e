"""A unit's ranks for the terminal: the drawing, how good it is, what to dry-fit, swap, mend and type next."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers_ranks import Joint, RankAnswer
from tracker.domain.ranks import place_name
from tracker.report.plain import COLUMNS, Column, clip, count_words, doubt_lines, table, wrapped
from tracker.report.ranks_drawing import drawing, fits, mark_text, spot_of
from tracker.report.ranks_words import (
    block_words,
    blocker_words,
    cure_lines,
    joint_name,
    joint_words,
    looks_words,
    not_measured_words,
    numbers_words,
    status_words,
    swap_words,
    trust_words,
    typed,
    who,
)

JOINTS_MOST, SWAPS_MOST = 8, 12
_CLAIMS = (
    "Claims are the ruler's, not the models': 1 to 2 mm is mostly none, 3 to 5 mm real about half the time."
    " Corners were not checked."
)


def ranks_text(answer: RankAnswer, width: int = COLUMNS, *, plain: bool = False) -> str:
    """The unit drawn, or as a table where it does not fit; then all there is to say, the next step last."""
    is_drawn = width >= COLUMNS and fits(answer, width)
    out = [*wrapped(_head(answer), width), ""]
    out += drawing(answer, width, plain=plain) if is_drawn else _as_table(answer, width)
    out += [*_legend(answer, width, plain=plain, is_drawn=is_drawn), ""]
    out += [*wrapped(status_words(answer), width), *_sentence(trust_words(answer), width)]
    out += _joints(answer, width) + _swaps(answer, width) + _cures(answer, width)
    out += _sentence(not_measured_words(answer), width) + _beside_lines(answer, width)
    out += doubt_lines(answer.doubts, width)
    return "\n".join([*out, "", *wrapped(next_words(answer), width, "Next: ", "      ")])


def _head(answer: RankAnswer) -> str:
    order = "the plan" if answer.is_plan else "as it stands"
    formed = f"{answer.files} wide, {answer.ranks} deep on {clip(answer.base, 30)}"
    return f"{clip(answer.unit, 40)}, {order}: {formed}"


def _sentence(words: str, width: int) -> list[str]:
    return wrapped(words, width) if words else []


def _legend(answer: RankAnswer, width: int, *, plain: bool, is_drawn: bool) -> list[str]:
    """What the signs mean, as far as there are any."""
    parts = []
    if any(joint.checked for joint in answer.joints):
        parts.append('"!" they clash, as you found by hand')
    if answer.to_check:
        parts.append('"?" the ruler says so: check by hand')
    if is_drawn and answer.placed:
        parts.append(f"{'^' if plain else '↑'} looks to the front")
    if is_drawn and answer.overhangs:
        parts.append("numbers outside the frame: mm past the unit's edge")
    elif answer.front_mm > 0:
        parts.append(f"up to {answer.front_mm} mm reach past the front edge")
    said = "; ".join(parts)
    return wrapped(f"{said[0].upper()}{said[1:]}.", width) if said else []


def _as_table(answer: RankAnswer, width: int) -> list[str]:
    """Front rank first, each place with its joints in doubt."""
    columns = (Column("Place"), Column("Model", gives=True), Column("Looks"), Column("Joints", gives=True))
    rows, has_stems = [], any(placed.stem_mm for placed in answer.placed)
    placed_at = {spot_of(answer, placed.place): placed for placed in answer.placed}
    blocks = {(block.file, block.rank): block for block in answer.blocks}
    for rank in range(1, answer.ranks + 1):
        for file in range(1, answer.files + 1):
            place = place_name(file, rank)
            spot = spot_of(answer, place)
            if spot is None or (spot.file, spot.rank) != (file, rank):
                continue  # a block stands in the row of its front left place
            placed, block = placed_at.get(spot), blocks.get((file, rank))
            last = place_name(file + spot.files - 1, rank + spot.ranks - 1)
            where = place if last == place else f"{place} to {last}"
            name = who(answer, placed.model_id) if placed else block_words(block) if block else "nobody"
            looks = looks_words(placed.turn) if placed else ""
            stem = [f"+{placed.stem_mm} mm" if placed and placed.stem_mm else ""] * has_stems
            rows.append((where, name, looks, *stem, _joints_of(answer, place)))
    stems = [Column("Stem", right=True)] * has_stems
    return table((*columns[:3], *stems, columns[3]), rows, width)


def _joints_of(answer: RankAnswer, place: str) -> str:
    said = []
    for joint in answer.joints:
        spots = [spot_of(answer, name) for name in (joint.first_place, joint.second_place)]
        here = spot_of(answer, place)
        if here in spots:
            other = joint.second_place if here == spots[0] else joint.first_place
            said.append(f"{other} {mark_text(joint)}")
    return ", ".join(said)


def _joints(answer: RankAnswer, width: int) -> list[str]:
    sure = [joint for joint in answer.joints if joint.checked]
    out = _joint_list(answer, answer.to_check, "Dry-fit these, worst first:", width)
    out += _joint_list(answer, sure, "Found by hand to clash:", width)
    return out + (["", *wrapped(_CLAIMS, width)] if answer.to_check else _corners(width))


def _corners(width: int) -> list[str]:
    return wrapped("Corners were not checked.", width)


def _joint_list(answer: RankAnswer, joints: Sequence[Joint], head: str, width: int) -> list[str]:
    if not joints:
        return []
    out = ["", *wrapped(head, width)]
    for joint in joints[:JOINTS_MOST]:
        words = joint_words(answer, joint).removesuffix(", checked by hand")
        out += wrapped(words, width, "  ", "    ")
    more = len(joints) - JOINTS_MOST
    return [*out, f"  and {more} more"] if more > 0 else out


def _swaps(answer: RankAnswer, width: int) -> list[str]:
    if not answer.swaps:
        is_there = answer.is_plan and bool(answer.placed)
        return ["", *wrapped("Your present order is this plan: nothing to move.", width)] if is_there else []
    out = ["", *wrapped(f"From your present order, {count_words(len(answer.swaps), 'thing')} to do:", width)]
    for number, swap in enumerate(answer.swaps[:SWAPS_MOST], start=1):
        out += wrapped(f"{swap_words(answer, swap)}.", width, f"  {number:>2}. ", "      ")
    more = len(answer.swaps) - SWAPS_MOST
    return [*out, f"      and {more} more"] if more > 0 else out


def _cures(answer: RankAnswer, width: int) -> list[str]:
    lines, blocked = cure_lines(answer), blocker_words(answer)
    head = "Any one of these would free it, if the claims are right:"
    out = ["", *wrapped(head, width)] if lines else []
    out += [line for cure in lines for line in wrapped(cure, width, "  - ", "    ")]
    return out + (["", *wrapped(blocked, width)] if blocked else [])


def _beside_lines(answer: RankAnswer, width: int) -> list[str]:
    """Models without a place, by number."""
    bench = set(answer.bench)
    numbers = [model.number for model in answer.models if model.model_id in bench]
    return wrapped(f"Beside the unit, without a place: {numbers_words(numbers)}.", width) if numbers else []


def next_words(answer: RankAnswer) -> str:
    """One thing to type next."""
    unit = typed(answer.unit)
    if answer.models and not any(model.measured for model in answer.models) and not answer.checks:
        return f'lastcoat ranks measure {unit} {answer.models[0].number} "6 -4 0 2" (front right back left)'
    if answer.to_check:
        stands = "" if answer.is_plan else " --as-it-stands"
        return (
            f"lastcoat ranks check {unit} {joint_name(answer.to_check[0])} fits{stands} (or the mm you find)"
        )
    if not answer.is_plan and answer.joints:
        return f"lastcoat ranks plan {unit}"
    if answer.swaps:
        return f"lastcoat ranks plan {unit} --take (once they stand like this)"
    return f"lastcoat ranks sheet {unit} ranks.html (true scale, with numbers for the undersides)"
