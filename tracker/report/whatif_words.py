"""What if, in words and as JSON: two plans side by side."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from tracker.domain.answers import Outlook
from tracker.domain.answers_whatif import Beside, GoalBeside, WhatIfAnswer
from tracker.domain.wishes import MoreEvenings
from tracker.report.answers import Json, outlook_json
from tracker.report.little_history import may_name_a_day
from tracker.report.plain import (
    COLUMNS,
    Column,
    at_level,
    chance_words,
    clip,
    count_words,
    date_words,
    doubt_lines,
    left_words,
    table,
    wrapped,
)
from tracker.report.wish_words import wish_json, wishes_words

_NOTE = "From .. to holds 8 times in 10. Both plans are played with the same luck. Nothing of it is stored."
_NAME_MOST = 40


def whatif_text(answer: WhatIfAnswer, width: int = COLUMNS) -> str:
    """What the wishes would do: the units they move, both plans below each other, and the goals."""
    out = [*wrapped(f"What if: {wishes_words(answer.wishes)}", width, more="  "), ""]
    out += [*beside_lines(answer, width), *wrapped(_NOTE, width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def beside_lines(answer: WhatIfAnswer, width: int = COLUMNS) -> list[str]:
    """The table, what does not move, evenings a week, and the goals."""
    moved = [one for one in answer.units if is_moved(one)]
    still = [one.unit for one in answer.units if not is_moved(one) and _is_open(one)]
    open_units = Counter(one.army for one in answer.units if _is_open(one))
    armies = [one for one in answer.armies if is_moved(one) and open_units[one.army] > 1]
    has_middle = may_name_a_day(answer)
    shown = [*_table([*moved, *armies], width, has_middle=has_middle), ""]
    out = shown if moved else wrapped("No date moves.", width)
    if still and moved:
        names = ", ".join(clip(name, _NAME_MOST) for name in still)
        out += wrapped(f"Not moved: {names}.", width, more="  ")
    if any(isinstance(wish, MoreEvenings) for wish in answer.wishes):
        out += wrapped(evenings_words(answer), width)
    return out + [line for goal in answer.goals for line in wrapped(goal_words(goal), width, more="  ")]


def is_moved(one: Beside) -> bool:
    """Whether the plans differ in a unit's dates or work."""
    if one.before is None or one.after is None:
        return True
    return one.before[2:6] != one.after[2:6] or one.before.ready != one.after.ready


def _is_open(one: Beside) -> bool:
    return any(plan is not None and plan.models_ready < plan.models for plan in (one.before, one.after))


def _table(rows: Sequence[Beside], width: int, *, has_middle: bool) -> list[str]:
    dates = ("From", "Middle", "To") if has_middle else ("From", "To")
    columns = [
        Column("Unit", gives=True),
        *(Column(title, right=True) for title in ("Work left", *dates)),
    ]
    cells = []
    for one in rows:
        name = one.unit or f"All of {one.army}"
        moved = shift_words(one)
        cells.append((name, *_outlook_cells(one.before, "new")))
        cells.append(
            (f"  what if: {moved}" if moved else "  what if", *_outlook_cells(one.after, "left out"))
        )
    shown = cells if has_middle else [(*row[:3], row[4]) for row in cells]
    return table(columns, shown, width)


def _outlook_cells(plan: Outlook | None, missing: str) -> tuple[str, str, str, str]:
    if plan is None:
        return missing, "", "", ""
    low, middle, high = (date_words(at_level(plan.ready, level)) for level in (10, 50, 90))
    return left_words(plan), low, middle, high


def shift_words(one: Beside) -> str:
    """By how much the middle moves: "12 days later", or a word where days cannot be told."""
    if one.before is None or one.after is None:
        return ""
    days = one.shift_days
    if days is None:
        then, now = (at_level(plan.ready, 50) for plan in (one.before, one.after))
        return "" if then == now else "much earlier" if now else "much later"
    if days == 0:
        return "same day"
    return f"{count_words(abs(days), 'day')} {'later' if days > 0 else 'earlier'}"


def evenings_words(answer: WhatIfAnswer) -> str:
    """How many evenings there would be."""
    then, now = answer.evenings_a_week
    return (
        f"Evenings a week in the coming half year, breaks counted in: {then:.1f} as it is, {now:.1f} what if."
    )


def goal_words(goal: GoalBeside) -> str:
    """The chance of a goal under both plans."""
    units = " and ".join(clip(unit, _NAME_MOST) for unit in goal.units)
    name = f" ({clip(goal.name, _NAME_MOST)})" if goal.name else ""
    said = f"Goal: {units} by {date_words(goal.date)}{name}:"
    if goal.before is None or goal.after is None:
        there = goal.before if goal.after is None else goal.after
        side = "as it is; none of it is left what if" if goal.after is None else "what if"
        return f"{said} {chance_words(there or 0.0)} {side}."
    if chance_words(goal.before) == chance_words(goal.after):
        return f"{said} {chance_words(goal.before)} in both."
    return f"{said} {chance_words(goal.before)} as it is, {chance_words(goal.after)} what if."


def whatif_json(answer: WhatIfAnswer) -> Json:
    """Both plans of every unit and army, the shift of the middle in days, and the chance of every goal."""
    then, now = answer.evenings_a_week
    return {
        "as_of": answer.as_of.isoformat(),
        "seed": answer.seed,
        "draws": answer.draws,
        "doubts": [{"code": doubt.code, "text": doubt.text} for doubt in answer.doubts],
        "what_if": [wish_json(wish) for wish in answer.wishes],
        "evenings_a_week": {"as_it_is": round(then, 4), "what_if": round(now, 4)},
        "units": [_beside_json(one) for one in answer.units],
        "armies": [_beside_json(one) for one in answer.armies],
        "goals": [
            {
                "name": goal.name,
                "date": goal.date.isoformat(),
                "units": list(goal.units),
                "as_it_is": None if goal.before is None else round(goal.before, 4),
                "what_if": None if goal.after is None else round(goal.after, 4),
            }
            for goal in answer.goals
        ],
    }


def _beside_json(one: Beside) -> Json:
    return {
        "army": one.army,
        "unit": one.unit,
        "moves_days": one.shift_days,
        "as_it_is": None if one.before is None else outlook_json(one.before),
        "what_if": None if one.after is None else outlook_json(one.after),
    }
