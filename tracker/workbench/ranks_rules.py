"""How a unit is to be ranked: files, ranks, base, spare room, turns, minimum model count."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from tracker.domain.bases import parse_base
from tracker.domain.problems import DataError, Problem, UsageError, did_you_mean
from tracker.domain.ranks import FILES_MOST, TURNS, RankNotes, RankRules, place_name
from tracker.domain.records import Unit
from tracker.ranking.fillers import least_models
from tracker.ranking.holds import read_hold
from tracker.store.ranks import rank_notes, set_rule
from tracker.store.read import one_unit
from tracker.store.units import update_unit
from tracker.workbench.desk import Desk
from tracker.workbench.naming import shown, the_unit
from tracker.workbench.units_plan import Changed

GAP_MOST_MM = 50.0
HEIGHT_MOST_MM = 300
CUTS_MOST = 5
NO_LIMIT = -1


class RankWish(NamedTuple):
    """What should become of a unit's rules; None = as it is."""

    files: int | None = None
    ranks: int | None = None
    base: str | None = None
    cuts_mm: tuple[int, ...] | None = None
    """Heights where bands part; () = one band."""
    gap_mm: float | None = None
    margin_mm: float | None = None
    turns: str | None = None
    front_most_mm: int | None = None
    """-1 = no limit."""
    least_models: int | None = None
    """0 = no minimum."""
    least_percent: float | None = None
    """0 = no minimum."""


def set_ranks(desk: Desk, unit: str, wish: RankWish, *, army: str | None = None) -> Changed:
    """Say how a unit is to be ranked; its base before is remembered."""
    said = {field: value for field, value in wish._asdict().items() if value is not None}
    if not said:
        raise UsageError(Problem("ranks", "nothing is said", "Say --files, --ranks, --base or another"))
    _refuse_rules(wish)
    with desk.open() as store, store.change("ranks") as change:
        known = the_unit(store, unit, army)
        plan: dict[str, Any] = {field: said[field] for field in ("files", "ranks", "base") if field in said}
        if plan:
            update_unit(store, known.id, plan)
        before = rank_notes(store, known.id).rules
        after = _ruled(before, wish)
        now = one_unit(store, known.id)
        if now.files and now.ranks:
            least_models(now.files * now.ranks, fixed=after.least_models, percent=after.least_percent)
        if after != before:
            set_rule(store, known.id, after)
        words = ", ".join(
            f"{_FIELD_WORDS[field]} {_value_words(field, value)}" for field, value in said.items()
        )
        more = _outside(now, rank_notes(store, known.id)) if "files" in said or "ranks" in said else ""
        done = Changed(f"{known.name}: {words}", more)
        change.words = done.words()
    return done


def _outside(unit: Unit, notes: RankNotes) -> str:
    """What lies outside of a smaller unit, and how to mend that."""
    files, ranks = unit.files or 0, unit.ranks or 0
    if not files or not ranks:
        return ""
    out = [
        f"The {block.kind} at {place_name(block.file, block.rank)} lies outside now; it goes with: lastcoat "
        f"ranks clear {shown(unit.name)} --at {place_name(block.file, block.rank)}."
        for block in notes.blocks
        if block.file + block.files - 1 > files or block.rank + block.ranks - 1 > ranks
    ]
    held = [
        one for one in notes.models if one.place and isinstance(read_hold(one.place, files, ranks), Problem)
    ]
    if held:
        keep = "1 model keeps" if len(held) == 1 else f"{len(held)} models keep"
        free = f"lastcoat ranks hold {shown(unit.name)} MODEL free"
        out.append(f"{keep} a place outside of it; they are free again with: {free}.")
    return " ".join(out)


_FIELD_WORDS = {
    "files": "files", "ranks": "ranks", "base": "base", "cuts_mm": "bands part at", "gap_mm": "spare room",
    "margin_mm": "margin", "turns": "turns", "front_most_mm": "past the front at most",
    "least_models": "minimum models", "least_percent": "minimum models",
}  # fmt: skip


def _value_words(field: str, value: object) -> str:
    if field == "cuts_mm" and isinstance(value, tuple):
        return " and ".join(map(str, value)) + " mm" if value else "no height (one band)"
    if field == "front_most_mm":
        return "any" if value == NO_LIMIT else f"{value} mm"
    if field in ("gap_mm", "margin_mm"):
        return f"{value:g} mm"
    if field == "least_percent":
        return f"{value:g} % of the places" if value else "none"
    return "none" if value in ("", 0) else str(value)


def _refuse_rules(wish: RankWish) -> None:
    for name, many in (("files", wish.files), ("ranks", wish.ranks)):
        if many is not None and not 1 <= many <= FILES_MOST:
            raise DataError(Problem(f"--{name}", f"{many} {name} are no unit", f"Give 1 to {FILES_MOST}"))
    if wish.base and isinstance(problem := parse_base(wish.base), Problem):
        raise DataError(problem)
    if wish.turns is not None and wish.turns not in TURNS:
        mend = did_you_mean(wish.turns, list(TURNS), f"One of: {', '.join(TURNS)}")
        raise DataError(Problem("--turns", f"{shown(wish.turns)} is no way to turn", mend))
    for name, mm in (("gap", wish.gap_mm), ("margin", wish.margin_mm)):
        if mm is not None and not 0 <= mm <= GAP_MOST_MM:
            raise DataError(Problem(f"--{name}", f"{mm:g} mm cannot be", f"Give 0 to {GAP_MOST_MM:g} mm"))
    if wish.cuts_mm is not None:
        _refuse_cuts(wish.cuts_mm)


def _refuse_cuts(cuts: Sequence[int]) -> None:
    if (
        list(cuts) != sorted(set(cuts))
        or any(not 1 <= cut <= HEIGHT_MOST_MM for cut in cuts)
        or len(cuts) > CUTS_MOST
    ):
        what = f'"{",".join(map(str, cuts))}" are no rising heights'
        raise DataError(
            Problem("--bands", what, f'Say up to {CUTS_MOST} whole mm up to {HEIGHT_MOST_MM}, like "14,26"')
        )


def _ruled(before: RankRules, wish: RankWish) -> RankRules:
    said = {
        field: value
        for field, value in wish._asdict().items()
        if value is not None and field in RankRules._fields
    }
    for field in ("least_models", "least_percent"):
        if said.get(field) == 0:
            said[field] = None
    if said.get("front_most_mm") == NO_LIMIT:
        said["front_most_mm"] = None
    if "least_models" in said and "least_percent" not in said:
        said["least_percent"] = None
    if "least_percent" in said and "least_models" not in said:
        said["least_models"] = None
    return before._replace(**said)
