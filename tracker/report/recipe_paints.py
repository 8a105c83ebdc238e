"""Paints in words: which there are, which ran out, and the work that waits for one."""

from __future__ import annotations

from tracker.domain.answers import Minutes
from tracker.domain.answers_recipes import NeedsAnswer, PaintKnown, PaintNeed, PaintsAnswer, UnitNeed
from tracker.report.plain import (
    COLUMNS,
    Column,
    at_level,
    clip,
    count_words,
    date_words,
    doubt_lines,
    span_words,
    table,
    wrapped,
)

NO_PAINT = 'No recipe names a paint yet. Write one: lastcoat recipe add "Red cloaks" "cloth: dark red, wash"'
NONE_OUT = 'No paint is out. Name one to see what needs it: lastcoat paint needs "dark red"'
NOT_KNOWN = "I don't know yet"
_NAME_MOST = 40
_SOME_MOST = 4


def paints_text(answer: PaintsAnswer, width: int = COLUMNS) -> str:
    """Every paint in a line: recipes, units, and whether it is out."""
    if not answer.paints:
        return "\n".join(wrapped(NO_PAINT, width))
    columns = (
        Column("Paint", gives=True), Column("Recipes", right=True), Column("Units", right=True),
        Column("Out", gives=True),
    )  # fmt: skip
    rows = [
        (paint.name, str(len(paint.recipes)), str(len(paint.units)), out_words(paint))
        for paint in answer.paints
    ]
    return "\n".join(table(columns, rows, width))


def out_words(paint: PaintKnown) -> str:
    """As in "since 3 Mar 2026; mid red in its place"."""
    if paint.out_on is None:
        return ""
    since = f"; {paint.substitute} in its place" if paint.substitute else ""
    return f"since {date_words(paint.out_on)}{since}"


def needs_text(answer: NeedsAnswer, width: int = COLUMNS) -> str:
    """For each paint the units that still need it, and about how much work that is."""
    if not answer.needs:
        return "\n".join(wrapped(NONE_OUT, width))
    out: list[str] = []
    for need in answer.needs:
        out += [*([""] if out else []), *_need_lines(need, width)]
    if any(need.minutes for need in answer.needs):
        words = "Minutes are those of the whole steps, other paints in them too; a range holds 8 times in 10."
        out += ["", *wrapped(words, width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _need_lines(need: PaintNeed, width: int) -> list[str]:
    name = clip(need.paint, _NAME_MOST)
    since = f", out since {date_words(need.out_on)}" if need.out_on else ""
    instead = f"; {clip(need.substitute, _NAME_MOST)} in its place" if need.substitute else ""
    if not need.units:
        return wrapped(f"{name}{since}{instead}: no unit still needs it.", width, more="  ")
    many = count_words(len(need.units), "unit still needs it", "units still need it")
    out = wrapped(f"{name}{since}{instead}: {many}.", width, more="  ")
    for unit in need.units:
        out += wrapped(_unit_words(unit), width, start="  ", more="    ")
    if len(need.units) > 1:
        left_out = f", without {', '.join(map(_short, need.not_known))}" if need.not_known else ""
        out += wrapped(f"All together: {_minutes_words(need.minutes)}{left_out}.", width, "  ", "    ")
    return out


def _unit_words(unit: UnitNeed) -> str:
    steps = ", ".join(
        f"{clip(need.step, _NAME_MOST) if need.step else 'a step that its route does not show'} on "
        f"{count_words(need.models, 'model')}"
        for need in unit.steps
    )
    recipes = ", ".join(f"{_short(name)} version {number}" for name, number in unit.recipes[:_SOME_MOST])
    areas = f" ({', '.join(map(_short, unit.areas[:_SOME_MOST]))})" if unit.areas else ""
    return f"{_short(unit.unit)}: {steps}; {_minutes_words(unit.minutes)}. {recipes}{areas}."


def _short(name: str) -> str:
    return clip(name, _NAME_MOST)


def _minutes_words(minutes: Minutes | None) -> str:
    if minutes is None:
        return NOT_KNOWN
    return span_words(at_level(minutes, 10), at_level(minutes, 90))
