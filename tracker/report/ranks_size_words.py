"""Footprints, trays and what fillers save, in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers_ranks import FillerAnswer, FitAnswer, SizeAnswer
from tracker.domain.bases import MM_PER_INCH
from tracker.report.plain import (
    COLUMNS,
    Column,
    clip,
    count_words,
    date_words,
    doubt_lines,
    minutes_words,
    table,
    wrapped,
)

_Span = tuple[tuple[float, float], tuple[float, float]]
_NAME_MOST = 40


def mm_words(mm: float) -> str:
    """Millimetres to a tenth, no needless zero: "3 mm", "1.5 mm"."""
    return f"{number_words(mm)} mm"


def number_words(mm: float) -> str:
    """The same without its unit."""
    return f"{mm + 0.0:.1f}".removesuffix(".0")


def size_text(answer: SizeAnswer, width: int = COLUMNS) -> str:
    """Footprint and tray in mm and inches, the minimum count, what does not tile, the bases before."""
    columns = (Column(""), Column("mm"), Column("inches"))
    rows = [
        ("Footprint", *_both((answer.footprint_mm, answer.footprint_mm))),
        *_staggered(answer),
        ("Tray inside", *_both(answer.tray.inside_mm)),
        ("Tray outside", *_both(answer.tray.outside_mm)),
    ]
    out = [*wrapped(_formation(answer), width), "", *table(columns, rows, width), ""]
    out += wrapped(
        f"Width by depth. The tray has walls of {mm_words(answer.tray.wall_mm)}, a little play, and room for"
        " the texture and paint that thicken bases: measure a painted row before you cut.",
        width,
    )  # fmt: skip
    if answer.min_models is not None:
        out += wrapped(f"The minimum you set: {count_words(answer.min_models, 'model')}.", width)
    if answer.earlier_bases:
        out += wrapped(f"Bases before: {_earlier(answer.earlier_bases)}.", width, more="  ")
    for warning in answer.warnings:
        out += wrapped(warning, width, "Mind: ", "      ")
    return "\n".join(out)


def _formation(answer: SizeAnswer) -> str:
    what = clip(answer.what, _NAME_MOST)
    short = f" ({answer.last_rank} in the last rank)" if 0 < answer.last_rank < answer.files else ""
    formed = f"{answer.files} wide, {answer.ranks} deep"
    base = f" on {clip(answer.base, _NAME_MOST)}" if answer.base and answer.base not in answer.what else ""
    return f"{what}: {formed}{base}, {count_words(answer.models, 'model')}{short}."


def _staggered(answer: SizeAnswer) -> list[tuple[str, str, str]]:
    """Round bases may lie in each other's hollows."""
    room = answer.staggered_mm
    return [] if room is None else [("Staggered", *_both((room, room)))]


def _both(span: _Span) -> tuple[str, str]:
    (low_width, low_depth), (high_width, high_depth) = span
    mm = f"{_span(low_width, high_width, 1)} x {_span(low_depth, high_depth, 1)}"
    width = _span(low_width / MM_PER_INCH, high_width / MM_PER_INCH, 2)
    return mm, f"{width} x {_span(low_depth / MM_PER_INCH, high_depth / MM_PER_INCH, 2)}"


def _span(low: float, high: float, digits: int) -> str:
    first, last = (f"{value:.{digits}f}".removesuffix(".0") for value in (low, high))
    return first if first == last else f"{first}-{last}"


def _earlier(bases: Sequence[tuple[str, str]]) -> str:
    return ", ".join(
        f"{clip(base, _NAME_MOST)} until {date_words(date.fromisoformat(day))}" for base, day in bases
    )


def fit_text(answer: FitAnswer, width: int = COLUMNS) -> str:
    """How many bases lie on a tray, and what is left over."""
    tray = " x ".join(number_words(side) for side in answer.tray_mm)
    base = clip(answer.base, _NAME_MOST)
    if not answer.files or not answer.ranks:
        return "\n".join(wrapped(f"Not one base of {base} lies on {tray} mm.", width))
    models = count_words(answer.files * answer.ranks, "base")
    said = f"{tray} mm holds {models} of {base}: {answer.files} wide, {answer.ranks} deep"
    said += ", each laid across" if answer.turned else ""
    spare = [f"{mm_words(mm)} in {way}" for mm, way in zip(answer.spare_mm, ("width", "depth"), strict=True)]
    return "\n".join(
        wrapped(
            f"{said}. Left over: {spare[0]}, {spare[1]}."
            " Texture and paint thicken each base a little: leave 1 to 2 mm.",
            width,
        )
    )


def fillers_text(answer: FillerAnswer, width: int = COLUMNS) -> str:
    """How many fillers the minimum count allows, what is left to build and paint, and what one saves."""
    files, ranks = answer.block
    head = f"{clip(answer.unit, _NAME_MOST)} has {count_words(answer.cells, 'place')}; one filler takes"
    out = wrapped(f"{head} {files * ranks}: {files} wide, {ranks} deep.", width)
    minimum = f"the minimum you set ({count_words(answer.min_models, 'model')})" if answer.min_models else ""
    if not answer.most_fillers:
        above = f", above {minimum}" if minimum else ""
        out += wrapped(f"There is no room for one behind a front rank of models{above}.", width)
    else:
        many, models = count_words(answer.most_fillers, "filler"), count_words(answer.models_then, "model")
        kept = f", with {minimum} kept" if minimum else ""
        out += wrapped(
            f"At most {many} behind a front rank of models; {models} to build and paint then{kept}.", width
        )
    out += wrapped(_saved_words(answer), width)
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _saved_words(answer: FillerAnswer) -> str:
    if answer.saved_hours is None:
        return "What one saves in hours is not known yet."
    low, middle, high = answer.saved_hours
    verb = "saves" if middle >= 0 else "costs"
    said = f"One filler {verb} about {_hours(abs(middle))}, its own steps counted"
    said += f" (from {_signed(low)} to {_signed(high)}, 8 times in 10)"
    if answer.saved_days is None:
        return f"{said}."
    if answer.saved_days == 0:
        return f"{said}; the middle of the table-ready dates stays."
    way = "sooner" if answer.saved_days > 0 else "later"
    return f"{said}; table-ready {count_words(abs(answer.saved_days), 'day')} {way} in the middle."


def _hours(hours: float) -> str:
    return minutes_words(60 * hours)


def _signed(hours: float) -> str:
    """Hours saved; a loss says that it is one."""
    return f"{_hours(-hours)} lost" if hours < 0 else _hours(hours)
