"""Goals in words and as JSON: how each stands, what cut would keep it, what to pick for a day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers import LEVELS, Doubt
from tracker.domain.answers_goals import (
    GOOD_CHANCE,
    Cut,
    CutsAnswer,
    CutStanding,
    GoalsAnswer,
    GoalStanding,
    PickAnswer,
    Picked,
    RearSkip,
)
from tracker.domain.records import Goal
from tracker.domain.wishes import InOrder
from tracker.report.answers import Json
from tracker.report.goal_rows import goal_asks, goal_title
from tracker.report.little_history import ahead_words, may_name_a_day
from tracker.report.plain import (
    COLUMNS,
    Column,
    at_level,
    chance_words,
    clip,
    count_words,
    date_words,
    doubt_lines,
    minutes_words,
    table,
    wrapped,
)
from tracker.report.wish_words import wish_json, wish_words

NO_GOAL = 'No goal is set. Set one: lastcoat goal add "Spring game" 2027-03-13 --unit "Spears"'
_NAME_MOST = 40
_OTHERS_MOST = 5
"""Cuts that are not enough, shown so that one sees how far they go."""
_SAFE = "8 times in 10"


def goals_text(answer: GoalsAnswer, width: int = COLUMNS) -> str:
    """Every goal as a short paragraph."""
    if not answer.goals:
        return "\n".join(wrapped(NO_GOAL, width))
    out = [f"Goals, as of {date_words(answer.as_of)}", ""]
    named = may_name_a_day(answer)
    for standing in answer.goals:
        for line in goal_sentences(standing, answer.as_of, may_name=named):
            out += wrapped(line, width, start="" if line[0] != " " else "  ", more="  ")
    if any(
        one.chance is not None and not one.is_met and one.goal.date >= answer.as_of for one in answer.goals
    ):
        out += [
            "",
            *wrapped("Each range holds 8 times in 10. The last day to begin keeps the goal as often.", width),
        ]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def goal_sentences(standing: GoalStanding, today: date, *, may_name: bool = True) -> list[str]:
    """The goal, its chance, its days, and when to begin; indented lines belong to the first."""
    goal = standing.goal
    head = f"{goal_title(goal, standing.units)}, {date_words(goal.date)}: {goal_asks(goal, standing.units)}."
    if standing.is_met:
        return [head, " It is all on the table already."]
    if standing.chance is None:
        return [head, " None of its units is there any more."]
    if goal.date < today:
        return [head, " Its day is past; what was open then can go on without it."]
    out = [
        head,
        f" Chance: {chance_words(standing.chance)}. {_met_words(standing, today, may_name=may_name)}",
    ]
    return [*out, f" {_begin_words(standing, today)}"]


def _met_words(standing: GoalStanding, today: date, *, may_name: bool) -> str:
    low, middle, high = (at_level(standing.met, level) for level in (10, 50, 90))
    if not may_name:
        return f"Met {ahead_words(low, high, today)}."
    if low is None:
        return "Met further ahead than the forecast looks."
    return f"Met from {date_words(low)} to {date_words(high)}, middle {date_words(middle)}."


def _begin_words(standing: GoalStanding, today: date) -> str:
    if standing.start_by is None:
        name = clip(standing.goal.name, _NAME_MOST)
        return f'What would make it likely: lastcoat goal cut "{name}". A later day is as good an answer.'
    then = "today" if standing.start_by == today else f"by {date_words(standing.start_by)}"
    first = " and put before other work" if standing.waits else ""
    time = "" if standing.start_by == today else "; there is time until then"
    return f"Begun {then}{first} it is kept {_SAFE}{time}."


def cuts_text(answer: CutsAnswer, width: int = COLUMNS) -> str:
    """The cuts that are enough, the least work given up first; else how far they go, and several together."""
    goal = answer.goal
    title = goal_title(goal, answer.units)
    out = wrapped(f"{title}, {date_words(goal.date)}: {goal_asks(goal, answer.units)}.", width, more="  ")
    if answer.is_met or answer.chance is None:
        says = "It is all on the table already." if answer.is_met else "None of its units is there any more."
        return "\n".join([*out, says])
    out += wrapped(f"Chance as it is: {chance_words(answer.chance)}.", width)
    if answer.chance >= GOOD_CHANCE:
        return "\n".join(
            [*out, *wrapped("Nothing needs to be cut.", width), *doubt_lines(answer.doubts, width)]
        )
    out += wrapped(_sure_words(answer), width) if answer.sure else []
    enough = [cut for cut in answer.cuts if cut.is_enough]
    if enough:
        out += ["", *wrapped(f"Each of these alone keeps it {_SAFE}, the least work given up first:", width)]
        out += ["", *_cut_table(enough, width)]
    else:
        out += ["", *_short_of_it(answer, width)]
    out += [
        "",
        *wrapped("All are played with the same luck. A later day helps as well. Nothing is stored.", width),
    ]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _sure_words(answer: CutsAnswer) -> str:
    """How much smaller the goal would have to be as things stand."""
    sure, points = answer.sure or 0.0, answer.goal.points is not None
    many = (
        f"{sure:,g} points are"
        if points
        else f"{count_words(int(sure), 'model')} {'is' if sure == 1 else 'are'}"
    )
    return f"At least {many} ready by then {_SAFE}: a smaller goal is as good an answer."


def _short_of_it(answer: CutsAnswer, width: int) -> list[str]:
    if not answer.cuts:
        return wrapped("No cut would help; another day would.", width)
    out = wrapped("No single cut is enough. This is how far they go:", width)
    out += ["", *_cut_table(answer.cuts[:_OTHERS_MOST], width)]
    if not answer.together:
        return out
    says = (
        "Together these are enough:"
        if answer.together[0].is_enough
        else "Even together they are not enough; another day would be kinder:"
    )
    return [*out, "", *wrapped(says, width), "", *_cut_table(answer.together, width)]


def _cut_table(cuts: Sequence[CutStanding], width: int) -> list[str]:
    columns = (
        Column("Cut", gives=True),
        Column("Saves", right=True),
        Column("Chance", right=True),
        Column("Gain", right=True),
    )
    rows = []
    for cut in cuts:
        first, *more = [cut_words(one) for one in cut.cuts]
        saves = minutes_words(max(cut.saved_minutes, 0.0))
        rows.append((first, saves, chance_words(cut.chance), _gain_words(cut)))
        rows += [(f"  and {one}", "", "", "") for one in more]
    return table(columns, rows, width)


def cut_words(cut: Cut) -> str:
    """One cut: "Spears with 4 models fewer", "no freehand on 15 models of Spears in the rear ranks"."""
    if isinstance(cut, RearSkip):
        models = count_words(cut.models, "model")
        return f"no {clip(cut.step, _NAME_MOST)} on {models} in the rear of {clip(cut.unit, _NAME_MOST)}"
    if isinstance(cut, InOrder):
        return f"{' and '.join(clip(unit, _NAME_MOST) for unit, _ in cut.units)} before all else"
    return wish_words(cut)


def _gain_words(cut: CutStanding) -> str:
    """As in "+27 to +33": what luck leaves open of the gain."""
    low, high = (round(100 * bound) for bound in cut.gain)
    return f"{low:+d}" if low == high else f"{low:+d} to {high:+d}"


def pick_text(answer: PickAnswer, width: int = COLUMNS) -> str:
    """What to pick for a day, what that is worth, and what stays for later."""
    out = wrapped(f"Most points by {date_words(answer.date)}, kept {_SAFE}", width)
    if answer.picked:
        out += ["", *_pick_table(answer.picked, width), ""]
        out += wrapped(
            f"{_points(answer.picked)} points, chance {chance_words(answer.chance)}, if these come first and "
            "nothing beside them. Time to dry is not counted in.",
            width,
        )
    else:
        out += wrapped("No unit with points can be counted on by then; that is worth knowing too.", width)
    if answer.ready:
        out += wrapped(
            f"Ready already: {_names(answer.ready)} ({_points(answer.ready)} points).", width, more="  "
        )
    if answer.left_out and answer.picked:
        out += wrapped(f"For later: {_names(answer.left_out)}.", width, more="  ")
    if answer.without_points:
        names = ", ".join(clip(name, _NAME_MOST) for name in answer.without_points)
        out += wrapped(f"Without points, so not weighed: {names}.", width, more="  ")
    if not answer.exact:
        out += wrapped("It is the best choice that was found; a better one may exist.", width)
    out += wrapped("Nothing is stored.", width)
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _pick_table(picked: Sequence[Picked], width: int) -> list[str]:
    columns = (Column("Unit", gives=True), Column("Points", right=True), Column("Work left", right=True))
    return table(
        columns, [(one.unit, f"{one.points:,g}", minutes_words(one.minutes)) for one in picked], width
    )


def _points(units: Sequence[Picked]) -> str:
    return f"{sum(one.points for one in units):,g}"


def _names(units: Sequence[Picked]) -> str:
    return ", ".join(clip(one.unit, _NAME_MOST) for one in units)


def goals_json(answer: GoalsAnswer) -> Json:
    """Every goal; dates of `met` by level, null beyond the horizon."""
    return {
        **_head_json(answer.as_of, answer.seed, answer.draws, answer.doubts),
        "goals": [
            _goal_json(one.goal, one.units)
            | {
                "is_met": one.is_met,
                "chance": None if one.chance is None else round(one.chance, 4),
                "met": {
                    str(level): None if day is None else day.isoformat()
                    for level, day in zip(LEVELS, one.met, strict=False)
                },
                "begin_by": None if one.start_by is None else one.start_by.isoformat(),
                "waits_for_other_work": one.waits,
            }
            for one in answer.goals
        ],
    }


def cuts_json(answer: CutsAnswer) -> Json:
    """Single cuts, then several together."""
    return {
        **_head_json(answer.as_of, answer.seed, answer.draws, answer.doubts),
        "goal": _goal_json(answer.goal, answer.units),
        "is_met": answer.is_met,
        "chance": None if answer.chance is None else round(answer.chance, 4),
        "sure_amount": None if answer.sure is None else round(answer.sure, 2),
        "cuts": [_cut_json(cut) for cut in answer.cuts],
        "together": [_cut_json(cut) for cut in answer.together],
    }


def pick_json(answer: PickAnswer) -> Json:
    """The choice, what stays for later, and what counts anyway."""
    return {
        **_head_json(answer.as_of, answer.seed, answer.draws, answer.doubts),
        "date": answer.date.isoformat(),
        "points": round(answer.points, 2),
        "chance": round(answer.chance, 4),
        "best_for_sure": answer.exact,
        "picked": [_picked_json(one) for one in answer.picked],
        "for_later": [_picked_json(one) for one in answer.left_out],
        "ready": [_picked_json(one) for one in answer.ready],
        "without_points": list(answer.without_points),
    }


def _head_json(as_of: date, seed: int, draws: int, doubts: Sequence[Doubt]) -> Json:
    said = [{"code": doubt.code, "text": doubt.text} for doubt in doubts]
    return {"as_of": as_of.isoformat(), "seed": seed, "draws": draws, "doubts": said}


def _goal_json(goal: Goal, units: Sequence[str]) -> Json:
    return {
        "name": goal.name,
        "date": goal.date.isoformat(),
        "units": list(units),
        "models": goal.models,
        "points": goal.points,
        "least_models": goal.least_models,
    }


def _cut_json(cut: CutStanding) -> Json:
    return {
        "cuts": [_one_cut_json(one) for one in cut.cuts],
        "is_enough": cut.is_enough,
        "chance": round(cut.chance, 4),
        "saved_minutes": round(cut.saved_minutes, 2),
        "given_up_minutes": round(cut.given_up_minutes, 2),
        "gain": {"low": round(cut.gain[0], 4), "high": round(cut.gain[1], 4)},
    }


def _one_cut_json(cut: Cut) -> Json:
    if isinstance(cut, RearSkip):
        return {"wish": "rear-skip", "words": cut_words(cut), **cut._asdict()}
    return wish_json(cut)


def _picked_json(one: Picked) -> Json:
    return {"army": one.army, "unit": one.unit, "points": one.points, "minutes": round(one.minutes, 2)}
