"""Points in words and as JSON: what a list is worth, what is built and ready, when its target is reached."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers import LEVELS, Dates
from tracker.domain.answers_points import ArmyPoints, PointsAnswer, Soonest, UnitPoints
from tracker.report.answers import Json
from tracker.report.goal_words import pick_json
from tracker.report.little_history import ahead_words, may_name_a_day
from tracker.report.plain import (
    COLUMNS,
    Column,
    at_level,
    clip,
    date_words,
    doubt_lines,
    table,
    wrapped,
)

NO_UNITS = "Nothing is on the desk yet. Put a unit on it: lastcoat add --unit Spears --models 20 --points 120"
NO_POINTS = "None of its units has points. Say them: lastcoat unit set Spears --points 120"
NO_TARGET = "The list has no target. Set one: lastcoat points --target 1000"
_NAME_MOST = 40
_NAMES_MOST = 8


def points_words(points: float) -> str:
    """Points to a tenth, without a tenth that is none: "1,200", "37.5"."""
    text = f"{points + 0.0:,.1f}"
    return text.removesuffix(".0")


def points_text(answer: PointsAnswer, width: int = COLUMNS) -> str:
    """Army by army: the sums, the target, when it is reached, and a table of its units."""
    if not answer.armies:
        return "\n".join(wrapped(NO_UNITS, width))
    out = [f"Points, as of {date_words(answer.as_of)}"]
    for one in answer.armies:
        out += ["", *points_lines(one, answer, width)]
        out += ["", *unit_table(one.units, width)] if one.units else []
    if any(one.reached for one in answer.armies):
        out += ["", *wrapped("Each range holds 8 times in 10. Only whole units count.", width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def points_lines(one: ArmyPoints, answer: PointsAnswer, width: int) -> list[str]:
    """The list of an army in sentences."""
    named = may_name_a_day(answer)
    first, *more = point_sentences(one, answer.as_of, may_name=named)
    lines = wrapped(first, width, more="  ")
    return lines + [line for words in more for line in wrapped(words, width, start="  ", more="  ")]


def point_sentences(one: ArmyPoints, today: date, *, may_name: bool = True, key: str = "") -> list[str]:
    """The sums, the target, the days, and which units reach it; `key` sets a target where there are keys."""
    name = clip(one.army, _NAME_MOST)
    if not one.units:
        return [f"{name}: {NO_POINTS[0].lower()}{NO_POINTS[1:]}"]
    out = [f"{name}: {sum_words(one)}", *_target_words(one, today, may_name=may_name, key=key)]
    if one.without_points:
        out.append(f"Without points, so in no sum: {names_words(one.without_points)}.")
    return out


def sum_words(one: ArmyPoints) -> str:
    """As in "planned 1,200 points, built 480, table-ready 150 in whole units (210 by models)."."""
    planned, built = points_words(one.planned), points_words(one.built)
    ready, by_models = points_words(one.ready), points_words(one.ready_by_models)
    apart = f" ({by_models} by models)" if by_models != ready else ""
    return f"planned {planned} points, built {built}, table-ready {ready} in whole units{apart}."


def _target_words(one: ArmyPoints, today: date, *, may_name: bool, key: str) -> list[str]:
    if one.target is None:
        return [f"The list has no target. {key} sets one." if key else NO_TARGET]
    target = points_words(one.target)
    if one.state == "met":
        return [f"The target of {target} points is on the table."]
    if one.state == "never":
        short = points_words(one.target - one.planned)
        way = key or "lastcoat points --target N"
        return [
            f"The target is {target} points; all its units with points are {short} short of it.",
            f"No day can be told. A smaller target is as good an answer: {way}",
        ]
    out = [f"The target is {target} points; {points_words(one.missing)} are missing."]
    out.append(f"Reached {reached_words(one.reached, today, may_name=may_name)}.")
    if one.on_the_way:
        out.append(f"In the order as it stands these come first: {names_words(one.on_the_way)}.")
    out += _soonest_words(one.soonest, today, may_name=may_name) + _by_goal_words(one)
    return out


def reached_words(days: Dates, today: date, *, may_name: bool) -> str:
    """As in "from 3 Apr 2027 to 20 Jun 2027, middle 1 May 2027"."""
    low, middle, high = (at_level(days, level) for level in (10, 50, 90))
    if not may_name or low is None:
        return "further ahead than the forecast looks" if low is None else ahead_words(low, high, today)
    return f"from {date_words(low)} to {date_words(high)}, middle {date_words(middle)}"


def _soonest_words(soonest: Soonest | None, today: date, *, may_name: bool) -> list[str]:
    if soonest is None:
        return []
    best = "The least work" if soonest.exact else "The least work that was found"
    when = reached_words(soonest.reached, today, may_name=may_name)
    return [f"{best}: {names_words(soonest.units)}; before all else they reach it {when}."]


def _by_goal_words(one: ArmyPoints) -> list[str]:
    if one.by_goal is None:
        return []
    goal, found = one.by_goal
    name = "" if goal == found.date.isoformat() else f"{clip(goal, _NAME_MOST)}, "
    if not found.points:
        return [f"By {name}{date_words(found.date)} none of its units can be counted on 8 times in 10."]
    units = names_words([picked.unit for picked in found.picked])
    first = f" if these come first: {units}" if units else ""
    return [f"By {name}{date_words(found.date)}, {points_words(found.points)} points 8 times in 10{first}."]


def names_words(names: Sequence[str]) -> str:
    """Names, not more than fit a sentence."""
    out = ", ".join(clip(name, _NAME_MOST) for name in names[:_NAMES_MOST])
    rest = len(names) - _NAMES_MOST
    return f"{out} and {rest} more" if rest > 0 else out


def unit_table(units: Sequence[UnitPoints], width: int) -> list[str]:
    """A row for every unit with points."""
    columns = (
        Column("Unit", gives=True), Column("Points", right=True), Column("Models", right=True),
        Column("Built", right=True), Column("Ready", right=True),
    )  # fmt: skip
    rows = [
        (
            one.unit,
            points_words(one.points),
            f"{one.models:,}",
            f"{one.models_built:,}",
            f"{one.models_ready:,}",
        )
        for one in units
    ]
    return table(columns, rows, width)


def points_json(answer: PointsAnswer) -> Json:
    """Every list; dates by level, null beyond the horizon; state "never" = all units fall short."""
    return {
        "as_of": answer.as_of.isoformat(),
        "seed": answer.seed,
        "draws": answer.draws,
        "doubts": [{"code": doubt.code, "text": doubt.text} for doubt in answer.doubts],
        "armies": [_army_json(one) for one in answer.armies],
    }


def _army_json(one: ArmyPoints) -> Json:
    soonest = one.soonest
    return {
        "army": one.army,
        "planned": _two(one.planned),
        "built": _two(one.built),
        "ready": _two(one.ready),
        "ready_by_models": _two(one.ready_by_models),
        "target": one.target,
        "missing": None if one.target is None else _two(one.missing),
        "state": one.state,
        "reached": _dates_json(one.reached),
        "on_the_way": list(one.on_the_way),
        "least_work": None if soonest is None else {
            "units": list(soonest.units),
            "reached": _dates_json(soonest.reached),
            "best_for_sure": soonest.exact,
        },
        "by_goal": None if one.by_goal is None else {"goal": one.by_goal[0], **pick_json(one.by_goal[1])},
        "units": [unit._asdict() for unit in one.units],
        "without_points": list(one.without_points),
    }  # fmt: skip


def _dates_json(days: Dates) -> Json | None:
    if not days:
        return None
    return {str(level): day.isoformat() if day else None for level, day in zip(LEVELS, days, strict=True)}


def _two(points: float) -> float:
    return round(points, 2) + 0.0
