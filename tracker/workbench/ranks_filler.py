"""What fillers of one size would do for a unit: how many may stand, and what one saves."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.answers import Doubt
from tracker.domain.answers_ranks import FillerAnswer
from tracker.domain.bases import Base
from tracker.domain.wishes import Filler
from tracker.ranking.fillers import fillers_allowed, least_models
from tracker.ranking.tiling import Tiling, tiling, tiling_warning
from tracker.workbench.answers import learn_pace
from tracker.workbench.desk import Desk
from tracker.workbench.ranks_size import RankedUnit, base_of, places_said, ranked_unit
from tracker.workbench.words import count_words


class _Saves(NamedTuple):
    """What one filler saves, as far as it is known."""

    hours: tuple[float, float, float] | None = None
    days: int | None = None
    doubts: tuple[Doubt, ...] = ()


def fillers(
    desk: Desk, unit: str, block: str = "40x40", *, army: str | None = None, as_of: date | None = None,
    seed: int = 0, draws: int = 500,
) -> FillerAnswer:  # fmt: skip
    """How many blocks of that size the unit may have under its minimum count, and what one of them saves.

    Blocks that stand already count. `DataError` for a block that does not fit, or sizes that are not said.
    """
    seen = ranked_unit(desk, unit, army)
    files, ranks, place = places_said(seen.unit)
    filler = base_of(block)
    laid, rules = tiling(filler, place), seen.notes.rules
    least = least_models(files * ranks, fixed=rules.least_models, percent=rules.least_percent)
    allowed = fillers_allowed(
        files, ranks, (laid.files, laid.ranks), least, blocks=seen.notes.blocks,
        may_turn=place.width_mm == place.depth_mm,
    )  # fmt: skip
    saves = _Saves()
    if allowed.most_fillers:
        saves = _saves(desk, seen, laid, as_of or desk.evening_day(), (seed, draws))
    return FillerAnswer(
        seen.unit.name, seen.army, files * ranks, (laid.files, laid.ranks), allowed.most_fillers,
        allowed.models_left, least, saves.hours, saves.days,
        doubts=(*_size_doubts(seen, filler, place), *saves.doubts),
    )  # fmt: skip


def _size_doubts(seen: RankedUnit, filler: Base, place: Base) -> tuple[Doubt, ...]:
    out = []
    if warning := tiling_warning(filler, place):
        out.append(Doubt("does-not-add-up", warning))
    if seen.notes.rules.least_models is None and seen.notes.rules.least_percent is None:
        text = "No minimum model count is set for it, so only the room behind the front rank counts."
        out.append(Doubt("no-minimum", text))
    return tuple(out)


def _saves(desk: Desk, seen: RankedUnit, laid: Tiling, day: date, luck: tuple[int, int]) -> _Saves:
    """What the first of them saves: it stands in for models only where no place is empty."""
    places = (seen.unit.files or 0) * (seen.unit.ranks or 0)
    empty = max(places - seen.taken, 0)
    if laid.places <= empty:
        text = f"{count_words(empty, 'place')} of it have no model: a filler there takes no work off you."
        return _Saves(doubts=(Doubt("empty-places", text),))
    from tracker.forecast.saved import saved_by
    from tracker.pace.doubts import MOVES_DATES, pace_doubts

    known = desk.records().as_of(day)
    pace = learn_pace(desk, known)
    wish = Filler(seen.unit.name, laid.places - empty, seen.army)
    saved = saved_by(known, pace, day, wish, seed=luck[0], draws=luck[1])
    about_minutes = tuple(doubt for doubt in pace_doubts(known, pace) if doubt.code in MOVES_DATES)
    return _Saves(saved.hours, saved.days, about_minutes + saved.doubts)
