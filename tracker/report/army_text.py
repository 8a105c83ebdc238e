"""The army as plain lines, one sentence for each thing, for a screen reader or a pipe; and as JSON."""

from __future__ import annotations

from typing import Any

from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.domain.standings import ArmyAnswer, UnitStanding
from tracker.report.little_history import ahead_words, may_name_a_day
from tracker.report.plain import at_level, chance_words, count_words, date_words, minutes_words, wrapped
from tracker.report.screens.army_page import View, sorted_units

Outlooks = dict[tuple[str, str], Outlook]


def army_text(answer: ArmyAnswer, forecast: ForecastAnswer | None, width: int, view: View = View()) -> str:  # noqa: B008
    """Every unit in the order of the view: models, steps and hours left, the range of dates, the goal."""
    outlooks = _outlooks(forecast)
    units = sorted_units(answer, forecast, view)
    if not units:
        return "No unit to show."
    out: list[str] = []
    for army in dict.fromkeys(unit.army for unit in answer.units):
        here = [unit for unit in units if unit.army == army]
        if not here:
            continue
        ready, models = sum(unit.models_ready for unit in here), sum(unit.models for unit in here)
        out += wrapped(f"{army}: {ready:,} of {count_words(models, 'model')} table-ready.", width)
        if army not in view.folded:
            for unit in here:
                words = _unit_words(unit, outlooks.get((army, unit.unit)), forecast)
                out += wrapped(words, width, "  ", "    ")
    if answer.spares:
        out += wrapped(f"{count_words(answer.spares, 'spare model')}: kept, and no backlog.", width)
    return "\n".join(out)


def _outlooks(forecast: ForecastAnswer | None) -> Outlooks:
    return {(one.army, one.unit): one for one in forecast.units} if forecast else {}


def _unit_words(unit: UnitStanding, outlook: Outlook | None, forecast: ForecastAnswer | None) -> str:
    said = f"{unit.unit}: {unit.models_ready:,} of {count_words(unit.models, 'model')} table-ready"
    left = [f"{step.step} {step.models:,}" for step in unit.steps if step.models]
    if not left:
        return f"{said}."
    said += f"; left: {', '.join(left)}"
    if outlook is not None and forecast is not None:
        low, middle, high = (at_level(outlook.minutes_left, level) for level in (10, 50, 90))
        said += f"; {minutes_words(middle)} to go ({minutes_words(low)} to {minutes_words(high)})"
        first, last = (at_level(outlook.ready, level) for level in (10, 90))
        if may_name_a_day(forecast):
            said += f"; table-ready {date_words(first)} to {date_words(last)}"
        else:
            said += f"; table-ready {ahead_words(first, last, forecast.as_of)}"
    if unit.goal_date is not None:
        goal = f" for {unit.goal}" if unit.goal else ""
        chance = outlook.chance_by_goal if outlook else None
        said += f"; wanted by {date_words(unit.goal_date)}{goal}"
        said += f", {chance_words(chance)}" if chance is not None else ""
    return f"{said}."


def army_json(answer: ArmyAnswer, forecast: ForecastAnswer | None, view: View = View()) -> dict[str, Any]:  # noqa: B008
    """Every unit in the order of the view; minutes and dates by the percent of the forecast."""
    from tracker.report.answers import outlook_json

    outlooks = _outlooks(forecast)
    units = []
    for unit in sorted_units(answer, forecast, view):
        outlook = outlooks.get((unit.army, unit.unit))
        units.append(
            {
                "army": unit.army,
                "unit": unit.unit,
                "kind": unit.kind,
                "models": unit.models,
                "models_ready": unit.models_ready,
                "models_left_by_step": {step.step: step.models for step in unit.steps},
                "goal": unit.goal,
                "goal_date": unit.goal_date.isoformat() if unit.goal_date else None,
                "outlook": outlook_json(outlook) if outlook else None,
            }
        )
    return {"as_of": answer.as_of.isoformat(), "units": units, "spares": answer.spares}
