"""A unit's ranks in words: who, which joint, how good the plan is, what to swap, what would free it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from tracker.domain.answers_ranks import Joint, RankAnswer, Swap
from tracker.domain.ranks import Block
from tracker.domain.text import printable
from tracker.report.plain import clip, count_words
from tracker.report.ranks_size_words import mm_words

NAME_MOST, TYPED_MOST = 24, 60
_BLOCKERS_MOST = 6
"""Naming more of them tells nothing."""
_LOOKS = {0: "front", 90: "right", 180: "back", 270: "left"}
_TOWARDS = _LOOKS | {0: "to the front"}
_PLACE = re.compile(r"([A-Z]+)([1-9][0-9]*)")
_BARE, _QUOTED = re.compile(r"\w[\w-]*"), re.compile(r"[\w .,'()&-]+")


def looks_words(turn: int) -> str:
    """Where a model turned by so many degrees clockwise looks: "front", "right", "back", "left"."""
    return _LOOKS[turn % 360]


def typed(name: str) -> str:
    """A name as it is typed after a command; "UNIT" for one that a shell would take apart."""
    if len(name) > TYPED_MOST:
        return "UNIT"
    if _BARE.fullmatch(name):
        return name
    is_plain = _QUOTED.fullmatch(name) and printable(name) == name and not name.startswith("-")
    return f'"{name}"' if is_plain else "UNIT"


def place_of(name: str) -> tuple[int, int] | None:
    """File and rank of a place by its name, as in "B1" = (2, 1); none for what is no place."""
    found = _PLACE.fullmatch(name)
    if not found:
        return None
    file = 0
    for letter in found[1]:
        file = 26 * file + ord(letter) - ord("A") + 1
    return file, int(found[2])


def block_at(blocks: Iterable[Block], file: int, rank: int) -> Block | None:
    """The block that covers a place."""
    for block in blocks:
        if 0 <= file - block.file < block.files and 0 <= rank - block.rank < block.ranks:
            return block
    return None


def block_words(block: Block) -> str:
    """A block by its name, or by what it is."""
    return clip(block.name, NAME_MOST) or block.kind


def who(answer: RankAnswer, model_id: int, place: str = "") -> str:
    """A model as "4 Ostred" or "7"; a block by its name; what is neither, by its place."""
    for model in answer.models:
        if model.model_id == model_id:
            return f"{model.number} {clip(model.name, NAME_MOST)}".rstrip()
    for block in answer.blocks:
        if block.model_id == model_id:
            return block_words(block)
    at = place_of(place)
    block_there = block_at(answer.blocks, *at) if at else None
    return block_words(block_there) if block_there else place or "a model"


def joint_name(joint: Joint) -> str:
    """As it is typed: "B1-C1"."""
    return f"{joint.first_place}-{joint.second_place}"


def joint_words(answer: RankAnswer, joint: Joint) -> str:
    """As in "B1-C1: 4 Ostred's right against 7's left, 3 mm"; the sides are each model's own."""
    first = _side(answer, joint.first, joint.first_place, joint.first_edge, joint.first_stem_mm)
    second = _side(answer, joint.second, joint.second_place, joint.second_edge, joint.second_stem_mm)
    checked = ", checked by hand" if joint.checked else ""
    return f"{joint_name(joint)}: {first} against {second}, {mm_words(joint.mm)}{checked}"


def _side(answer: RankAnswer, model_id: int, place: str, edge: str, stem_mm: int) -> str:
    stem = f" (stem +{stem_mm} mm)" if stem_mm else ""
    return f"{who(answer, model_id, place)}'s {edge}{stem}"


def status_words(answer: RankAnswer) -> str:
    """How the unit stands, or how good the plan is, in one or two plain sentences."""
    known = [model for model in answer.models if model.measured]
    if not answer.joints:
        if not known and not answer.checks:
            return (
                f"Nothing is measured yet, so nothing is known of {count_words(answer.all_joints, 'joint')}."
            )
        return (
            f"No clash at any of {count_words(answer.all_joints, 'joint')}, by what was measured and checked."
        )
    start = "The plan" if answer.is_plan else "As it stands"
    worst, total = max(joint.mm for joint in answer.joints), sum(joint.mm for joint in answer.joints)
    size = (
        mm_words(worst)
        if len(answer.joints) == 1
        else f"{mm_words(worst)} at the worst, {mm_words(total)} in all"
    )
    said = f"{start}: of {count_words(answer.all_joints, 'joint')} {_clash_words(answer)}; {size}."
    return said + _proof_words(answer)


def _clash_words(answer: RankAnswer) -> str:
    claimed = len(answer.to_check)
    sure = len(answer.joints) - claimed
    by_hand = f"{sure} {'clashes' if sure == 1 else 'clash'}, as you found by hand"
    by_ruler = f"{claimed} may clash, by the ruler"
    return ", and ".join([by_hand] * bool(sure) + [by_ruler] * bool(claimed))


def _proof_words(answer: RankAnswer) -> str:
    least = mm_words(answer.at_least_mm)
    if not answer.is_plan:
        return f" By these figures no order has less than {least} in all." if answer.at_least_mm > 0 else ""
    if answer.status == "no clash":
        return ""  # what is left of claims that nobody checked
    if answer.status == "proved best":
        return " By these figures no order is better."
    if answer.status == "at least" and answer.at_least_mm > 0:
        return f" It is the best found; by these figures no order has less than {least} in all."
    return " It is the best found; there may be a better one."


def trust_words(answer: RankAnswer) -> str:
    """What it means that claims nobody checked count less; empty where they count in full."""
    if answer.trust >= 1:
        return ""
    return (
        f"This plan counts claims that nobody checked at {100 * answer.trust:.0f} % of their mm: all that it"
        " flagged before was checked, and some of it does clash."
    )


def swap_words(answer: RankAnswer, swap: Swap) -> str:
    """One thing to do, as in "4 Ostred (B1) and 7 (C2) change places"."""
    name = who(answer, swap.model_id, swap.place)
    if swap.act == "turn":
        return f"{name} at {swap.place}: turn it, to look {_TOWARDS[swap.turn % 360]}"
    if swap.act == "stem":
        stem = f"stem {swap.stem_mm} mm higher than as measured" if swap.stem_mm else "stem as measured"
        return f"{name} at {swap.place}: {stem}"
    if swap.act == "swap" and swap.other_id is not None:
        other = who(answer, swap.other_id, swap.to_place)
        if not (swap.place and swap.to_place):
            inside, outside = (name, other) if swap.place else (other, name)
            return f"{outside}, from beside the unit, takes {swap.place or swap.to_place} from {inside}"
        return f"{name} ({swap.place}) and {other} ({swap.to_place}) change places"
    start = f"from {swap.place}" if swap.place else "from beside the unit"
    return f"{name} {start} {f'to {swap.to_place}' if swap.to_place else 'out, beside the unit'}"


def cure_lines(answer: RankAnswer) -> list[str]:
    """What would free the unit, each in one sentence; empty without cures."""
    cures, unit = answer.cures, typed(answer.unit)
    if cures is None:
        return []
    out = []
    if cures.gap_mm > 0:
        out.append(f"A gap of {mm_words(cures.gap_mm)} at every joint.")
    if cures.wider_mm > 0 or cures.deeper_mm > 0:
        grows = [f"{mm_words(cures.wider_mm)} wider"] * (cures.wider_mm > 0)
        grows += [f"{mm_words(cures.deeper_mm)} deeper"] * (cures.deeper_mm > 0)
        slid = f"; {mm_words(cures.slid_wider_mm)} wider if each rank may slide by itself"
        out.append(f"A tray {' and '.join(grows)}{slid if cures.slid_wider_mm < cures.wider_mm else ''}.")
    if cures.calm_models:
        names = _and([who(answer, model_id) for model_id in cures.calm_ids])
        said = f", in place of {names}" if names else ""
        out.append(f"{count_words(cures.calm_models, 'low filler')} of one place each{said}.")
    if cures.turns_help:
        out.append(f"Turns, if the models may look aside: lastcoat ranks set {unit} --turns any")
    if cures.stem_mm is not None:
        out.append(f"One more height of stem: {cures.stem_mm} mm above the one measured.")
    return out


def blocker_words(answer: RankAnswer) -> str:
    """Which models have too few calm neighbours, by the proof; empty without any, or where most are named."""
    if answer.cures is None or not 0 < len(answer.cures.blockers) <= _BLOCKERS_MOST:
        return ""
    names = _and([who(answer, model_id) for model_id in answer.cures.blockers])
    return f"In the way: {names}. Too few of the others reach little enough to stand beside them."


def _and(names: Sequence[str]) -> str:
    return " and ".join([*([", ".join(names[:-1])] if len(names) > 1 else []), *names[-1:]])


def not_measured_words(answer: RankAnswer) -> str:
    """Which models no ruler was held to; empty where all were measured."""
    missing = [model.number for model in answer.models if not model.measured]
    return f"Not measured, so nothing is claimed of them: {numbers_words(missing)}." if missing else ""


def numbers_words(numbers: Iterable[int]) -> str:
    """Numbers of models, runs drawn together: "3, 5-8"."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(f"{first}" if first == last else f"{first}-{last}" for first, last in runs)
