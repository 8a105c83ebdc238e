"""What hands found at joints: fits, or so many mm; kept with the pair of models for good."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from tracker.domain.answers_ranks import Joint
from tracker.domain.bases import parse_base
from tracker.domain.problems import DataError, Problem, UsageError
from tracker.domain.ranks import Check, Placed, canonical, place_name
from tracker.domain.text import tidy
from tracker.ranking.holds import read_place
from tracker.ranking.score import edge_to_edge_mm, joint_between
from tracker.ranking.solve import First
from tracker.store.journal import Store
from tracker.store.ranks import set_check
from tracker.store.read import one_unit
from tracker.workbench.desk import Desk
from tracker.workbench.models import said_models
from tracker.workbench.naming import KnownUnit, shown, the_unit
from tracker.workbench.ranks import plan_ranks, ranks
from tracker.workbench.units_plan import Changed
from tracker.workbench.words import count_words

CLASH_MOST_MM = 100.0
_NUMBER = re.compile(r"\d{1,4}(?:[.,]\d{1,2})?")
_Place = tuple[int, int]
"""(file, rank)."""


def check_places(
    desk: Desk, unit: str, found: Sequence[str], *, army: str | None = None, seed: int = 0,
    first: First = "worst", as_it_stands: bool = False,
) -> Changed:  # fmt: skip
    """Keep dry fits by the places of the plan, or of the order as it stands: "B1-C1", "fits" and so on."""
    if len(found) % 2 or not found:
        raise UsageError(Problem("check", "a joint and what you found go together", "Say: B1-C1 fits"))
    pairs = [(read_joint(joint), said) for joint, said in zip(found[::2], found[1::2], strict=True)]
    for _, said in pairs:
        read_clash(said)
    answer = (
        ranks(desk, unit, army=army)
        if as_it_stands
        else plan_ranks(desk, unit, army=army, seed=seed, first=first)
    )
    at = {(one.file, one.rank): one for one in answer.placed}
    for block in answer.blocks:
        if (block.file, block.rank) in at:
            for file in range(block.file, block.file + block.files):
                for rank in range(block.rank, block.rank + block.ranks):
                    at.setdefault((file, rank), at[block.file, block.rank]._replace(file=file, rank=rank))
    named = {(joint.first_place, joint.second_place): joint for joint in answer.joints}
    return check_joints(desk, unit, [(_joint(at, named, pair), said) for pair, said in pairs], army=army)


def read_joint(text: str) -> tuple[_Place, _Place]:
    """Two (file, rank) from "B1-C1"; a `DataError` where it is none."""
    places = [read_place(part) for part in text.split("-")]
    good = [place for place in places if not isinstance(place, Problem)]
    if len(places) != 2 or len(good) != 2:
        raise DataError(Problem("check", f"{shown(text)} is no joint", 'Write two places like "B1-C1"'))
    return good[0], good[1]


def _joint(
    at: Mapping[_Place, Placed], named: Mapping[tuple[str, str], Joint], pair: tuple[_Place, _Place]
) -> Joint:
    """The joint that the answer lists by these places, across another base too; else of two neighbours."""
    one_name, other_name = (place_name(*place) for place in pair)
    listed = named.get((one_name, other_name)) or named.get((other_name, one_name))
    if listed is not None:
        return listed
    names = f"{one_name}-{other_name}"
    one, other = at.get(pair[0]), at.get(pair[1])
    if one is None or other is None:
        raise DataError(Problem("check", f"no two models stand at {names}", "See lastcoat ranks plan"))
    joint = joint_between(one, other)
    if joint is None or one.model_id == other.model_id:
        raise DataError(Problem("check", f"{names} do not meet edge to edge", "See lastcoat ranks plan"))
    return joint


def check_joint(desk: Desk, unit: str, joint: Joint, said: str, *, army: str | None = None) -> Changed:
    """Keep what a dry fit of two neighbours showed: "fits", or the mm by which they clash."""
    return check_joints(desk, unit, [(joint, said)], army=army)


def check_joints(
    desk: Desk, unit: str, found: Sequence[tuple[Joint, str]], *, army: str | None = None
) -> Changed:
    """Keep what dry fits of several joints showed, all of them or none."""
    read = [(joint, read_clash(said)) for joint, said in found]
    with desk.open() as store, store.change("ranks") as change:
        known = the_unit(store, unit, army)
        base = one_unit(store, known.id).base
        size = parse_base(base)
        for joint, mm in read:
            edge_mm = mm if isinstance(size, Problem) else edge_to_edge_mm(joint, mm, size)
            check = Check(
                joint.first, joint.first_edge, joint.second, joint.second_edge, edge_mm,
                joint.first_stem_mm, joint.second_stem_mm, desk.evening_day(), base,
            )  # fmt: skip
            set_check(store, canonical(check))
        done = Changed(f"{known.name}: {_found_words(store, known, read)}")
        change.words = done.words()
    return done


def _found_words(store: Store, known: KnownUnit, found: Sequence[tuple[Joint, float]]) -> str:
    if len(found) > 3:
        fits = sum(mm == 0 for _, mm in found)
        return f"{count_words(len(found), 'joint')} checked, {fits} fit"
    number = dict(said_models(store, known.id, known.name, "all"))
    return "; ".join(
        f"{number.get(joint.first)}'s {joint.first_edge} on {number.get(joint.second)}'s {joint.second_edge} "
        + ("fits" if mm == 0 else f"clashes by {mm:g} mm")
        for joint, mm in found
    )


def read_clash(text: str) -> float:
    """The mm of "fits", "0", "1.5", "1,5 mm"; a `DataError` for anything else."""
    word = tidy(text).casefold().removesuffix("mm").strip()
    if word in ("fits", "fit", "ok"):
        return 0.0
    mm = float(word.replace(",", ".")) if _NUMBER.fullmatch(word) else -1.0
    if not 0 <= mm <= CLASH_MOST_MM:
        what = f"{shown(text)} is nothing a dry fit can show"
        raise DataError(Problem("check", what, f'Say "fits", or the mm up to {CLASH_MOST_MM:g}'))
    return mm
