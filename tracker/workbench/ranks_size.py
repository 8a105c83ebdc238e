"""How much room a unit takes, and what lies on a tray. Nothing of it is stored."""

from __future__ import annotations

from typing import NamedTuple

from tracker.domain.answers_ranks import FitAnswer, SizeAnswer
from tracker.domain.bases import Base, parse_base, parse_tray, written
from tracker.domain.problems import DataError, Problem, UsageError
from tracker.domain.progress import alive
from tracker.domain.ranks import RankNotes, RankRules
from tracker.domain.records import Model, Records, Unit
from tracker.ranking.fillers import least_models
from tracker.ranking.footprint import Formation, formed, mixed, staggered
from tracker.ranking.tiling import uneven_rows
from tracker.ranking.trays import WALL_MM, on_tray, tray_for
from tracker.store.ranks import bases_before, rank_notes
from tracker.store.read import unit_records
from tracker.workbench.desk import Desk
from tracker.workbench.naming import shown, the_unit
from tracker.workbench.words import count_words


class _Said(NamedTuple):
    """What is said of the sizes; None or empty = as the unit has it."""

    files: int | None
    ranks: int | None
    base: str
    models: int | None
    gap_mm: float
    rows: str


class RankedUnit(NamedTuple):
    """A unit as its sizes see it."""

    army: str
    unit: Unit
    notes: RankNotes
    standing: int
    """Models that stand in it, held by larger bases or not; fillers are none."""
    earlier_bases: tuple[tuple[str, str], ...] = ()

    @property
    def taken(self) -> int:
        """Places its models and larger bases take."""
        blocks = self.notes.blocks
        held = sum(block.models for block in blocks)
        return self.standing - held + sum(block.files * block.ranks for block in blocks)


def size(
    desk: Desk, unit: str | None = None, *, army: str | None = None, files: int | None = None,
    ranks: int | None = None, base: str = "", models: int | None = None, gap_mm: float = 0.0,
    wall_mm: float = WALL_MM, rows: str = "",
) -> SizeAnswer:  # fmt: skip
    """Footprint and tray of a unit, of files by ranks of a base, or of rows of mixed bases.

    What is said stands before what the unit has. `DataError` for sizes that cannot be, `UsageError` when
    nothing says what is meant.
    """
    if unit is not None:
        seen = ranked_unit(desk, unit, army)
        return _of_unit(seen, _Said(files, ranks, base, models, gap_mm, rows), wall_mm)
    if rows:
        formation = mixed(rows, gap_mm)
        return _answer(rows, formation, "", wall_mm, uneven_rows(formation))
    if files is None or not base or (ranks is None and models is None):
        mend = "Name a unit, or say --files 5 --ranks 4 --base 20x20"
        raise UsageError(Problem("size", "it is not said of what", mend))
    one = base_of(base)
    formation = formed(one, files, ranks, models, gap_mm)
    what = f"{formation.files} x {formation.ranks} of {written(one)}"
    return _answer(what, formation, written(one), wall_mm)


def fits_on(desk: Desk, tray: str = "210x90", base: str = "20x20") -> FitAnswer:  # noqa: ARG001 - verbs have one
    """Files by ranks of a base that lie on a tray of that inside size."""
    inside = parse_tray(tray)
    if isinstance(inside, Problem):
        raise DataError(inside)
    return on_tray(inside, base_of(base))


def base_of(text: str) -> Base:
    """The base in the person's words; a `DataError` for what is none."""
    base = parse_base(text)
    if isinstance(base, Problem):
        raise DataError(base)
    return base


def ranked_unit(desk: Desk, unit: str, army: str | None) -> RankedUnit:
    """The unit with what is stored of its ranks."""
    with desk.open() as store:
        known = the_unit(store, unit, army)
        records, notes = unit_records(store, known.id), rank_notes(store, known.id)
        earlier = tuple((base, day.isoformat()) for base, day in bases_before(store, known.id))
    it = records.units[0]
    return RankedUnit(known.army, it, notes, len(standing_models(records, it, notes)), earlier)


def standing_models(records: Records, unit: Unit, notes: RankNotes) -> tuple[Model, ...]:
    """Models that want a place: those of the unit, less scenery of its blocks or left from one."""
    scenery = {block.model_id for block in notes.blocks if block.kind != "large model"}
    return tuple(
        model
        for model in alive(records.models, unit.id)
        if model.id not in scenery and (model.kind != "scenery" or unit.kind == "scenery")
    )


def places_said(unit: Unit) -> tuple[int, int, Base]:
    """Files, ranks and base of a unit; a `DataError` where they are not said."""
    name = shown(unit.name)
    if not unit.files or not unit.ranks:
        mend = f"Say them: lastcoat ranks set {name} --files 5 --ranks 4"
        raise DataError(Problem("ranks", f"{name} has no files and ranks", mend))
    if not unit.base:
        mend = f"Say it: lastcoat ranks set {name} --base 20x20"
        raise DataError(Problem("base", f"{name} has no base", mend))
    return unit.files, unit.ranks, base_of(unit.base)


def _of_unit(seen: RankedUnit, said: _Said, wall_mm: float) -> SizeAnswer:
    unit, rules = seen.unit, seen.notes.rules
    said = said._replace(base=said.base or unit.base, gap_mm=said.gap_mm or rules.gap_mm)
    if said.rows:
        formation = mixed(said.rows, said.gap_mm)
        answer = _answer(unit.name, formation, said.rows, wall_mm, uneven_rows(formation))
    else:
        formation, warnings = _ranked(seen, said)
        answer = _answer(unit.name, formation, said.base, wall_mm, warnings)
        answer = answer._replace(models=seen.standing if said.models is None else said.models)
    return _with_least(answer._replace(earlier_bases=seen.earlier_bases), rules)


def _with_least(answer: SizeAnswer, rules: RankRules) -> SizeAnswer:
    """The minimum count that was set; more than there are places is worth a warning here, no refusal."""
    if rules.least_models is None and rules.least_percent is None:
        return answer
    places = answer.files * answer.ranks
    least = max(least_models(places, percent=rules.least_percent), rules.least_models or 0)
    if least > places:
        said = f"The minimum of {count_words(least, 'model')} is more than {count_words(places, 'place')}."
        answer = answer._replace(warnings=(*answer.warnings, said))
    return answer._replace(min_models=least)


def _ranked(seen: RankedUnit, said: _Said) -> tuple[Formation, tuple[str, ...]]:
    """The unit's places, the last rank short where its models leave it so; else a warning."""
    if not said.base:
        mend = f"Say it: lastcoat ranks set {shown(seen.unit.name)} --base 20x20"
        raise DataError(Problem("base", f"{shown(seen.unit.name)} has no base", mend))
    base = base_of(said.base)
    taken = seen.taken if said.models is None else said.models
    files, ranks = _files_and_ranks(seen.unit, said, taken)
    whole = formed(base, files, ranks, None if ranks is not None else max(taken, 1), said.gap_mm)
    places = files * whole.ranks
    if places - files < taken <= places:
        return formed(base, files, whole.ranks, taken, said.gap_mm), ()
    if taken > places:
        more = count_words(taken - places, "model")
        return whole, (f"{count_words(places, 'place')} are too few: {more} would have none.",)
    return whole, (f"{places - taken} of {count_words(places, 'place')} stay empty.",)


def _files_and_ranks(unit: Unit, said: _Said, taken: int) -> tuple[int, int | None]:
    """Who says only files, or only ranks, gets as many of the other as the models need."""
    if said.files is not None:
        return said.files, said.ranks
    if said.ranks is not None:
        return (max(-(-taken // said.ranks), 1) if said.ranks > 0 else 1), said.ranks
    if unit.files and unit.ranks:
        return unit.files, unit.ranks
    mend = f"Say them: lastcoat ranks set {shown(unit.name)} --files 5 --ranks 4"
    raise DataError(Problem("ranks", f"{shown(unit.name)} has no files and ranks", mend))


def _answer(
    what: str, formation: Formation, base: str, wall_mm: float, warnings: tuple[str, ...] = ()
) -> SizeAnswer:
    bare, rounds = formation.footprint, staggered(formation)
    return SizeAnswer(
        what, formation.files, formation.ranks, base, formation.models, formation.last_rank,
        (bare.width_mm, bare.depth_mm), tray_for(formation, wall_mm), warnings=warnings,
        staggered_mm=None if rounds is None else (rounds.width_mm, rounds.depth_mm),
    )  # fmt: skip
