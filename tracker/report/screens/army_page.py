"""The army in words: a unit to a line, with what is left and when it is table-ready."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import NamedTuple

from tracker.domain.answers import ForecastAnswer, Outlook
from tracker.domain.standings import ArmyAnswer, UnitStanding
from tracker.report.little_history import may_name_a_day
from tracker.report.plain import FAR_OFF, at_level, cells, clip, count_words, date_words, left_words, pad
from tracker.report.screens.line import BLANK, Look, PageLine, head, sentences
from tracker.report.screens.tonight_page import line_key

SORTS = ("your order", "name", "work left", "ready date", "goal")
_BLOCKS = "·▁▂▃▄▅▆▇█"
_NAME_MOST, _NAME_LEAST = 30, 12
_WIDE = 118
_FIXED = 55
"""Columns of a row besides the name and the steps, on a narrow screen."""
_NEAR_DAYS = 120
_RANGE = 18
Outlooks = Mapping[tuple[str, str], Outlook]


class View(NamedTuple):
    """How the person wants to see the army."""

    sort: int = 0
    wanted: str = ""
    """Letters that the name of a unit must hold."""
    folded: frozenset[str] = frozenset()
    """Armies of which only the heading is shown."""
    columns: tuple[str, ...] = ("models", "hours", "ready", "chance")


def army_lines(
    answer: ArmyAnswer,
    forecast: ForecastAnswer | None,
    width: int,
    view: View = View(),  # noqa: B008
) -> list[PageLine]:
    """Every unit of every army."""
    outlooks = _outlooks(forecast)
    units = sorted_units(answer, forecast, view)
    out = [PageLine(clip(_says(answer, units, view), width), "quiet"), BLANK]
    names = min(max([cells(clip(unit.unit, _NAME_MOST)) for unit in units] or [4]), _NAME_MOST)
    signs = max([len(unit.steps) for unit in units] or [0])
    names = max(min(names, width - _FIXED - signs), _NAME_LEAST)
    armies = dict.fromkeys(unit.army for unit in answer.units)
    has_middle = forecast is None or may_name_a_day(forecast)
    table = _Table(outlooks, view.columns, answer.as_of, names, width, has_middle)
    for army in armies:
        here = [unit for unit in units if unit.army == army]
        if here:
            out += _army(army, here, table, folded=army in view.folded)
    if answer.spares:
        out += sentences(
            f"{count_words(answer.spares, 'spare model')}: kept, and no backlog.", width, "quiet"
        )
    legend = "Each sign of Steps is one step: · done … █ all models still need it."
    return [*out, PageLine(clip(legend, width), "quiet")]


def sorted_units(answer: ArmyAnswer, forecast: ForecastAnswer | None, view: View) -> list[UnitStanding]:
    """The units that the view wants, as it sorts them."""
    wanted = view.wanted.casefold()
    units = [unit for unit in answer.units if wanted in unit.unit.casefold()]
    return sorted(units, key=_SORT_KEYS[view.sort](_outlooks(forecast)))


def _outlooks(forecast: ForecastAnswer | None) -> Outlooks:
    return {(one.army, one.unit): one for one in forecast.units} if forecast else {}


def _says(answer: ArmyAnswer, units: Sequence[UnitStanding], view: View) -> str:
    words = f"Sorted by {SORTS[view.sort]}"
    if view.wanted:
        words += f', only names with "{clip(view.wanted, 20)}" ({len(units)} of {len(answer.units)})'
    return words


class _Table(NamedTuple):
    """What the rows of all armies share."""

    outlooks: Outlooks
    columns: tuple[str, ...]
    today: date
    names: int
    width: int
    has_middle: bool


def _army(army: str, units: Sequence[UnitStanding], table: _Table, *, folded: bool) -> list[PageLine]:
    models, ready = sum(unit.models for unit in units), sum(unit.models_ready for unit in units)
    sign = "▸" if folded else "▾"
    said = f"{sign} {clip(army, _NAME_MOST)}: {ready:,} of {count_words(models, 'model')} table-ready"
    out = [PageLine(clip(said, table.width), "head", line_key(army, ""))]
    if folded:
        return out
    titles = [_TITLES[column](table.width) for column in table.columns]
    title = "  ".join([f"  {pad('Unit', table.names)}", *titles, "Steps"])
    out.append(PageLine(clip(title, table.width), "quiet"))
    for unit in units:
        text = _row(unit, table.outlooks.get((army, unit.unit)), table)
        look: Look = "good" if unit.models_ready >= unit.models else "row"
        out.append(PageLine(clip(text, table.width), look, line_key(army, unit.unit)))
    return [*out, BLANK]


def _date_titles(width: int) -> str:
    if width >= _WIDE:
        return f"{'From':>11}  {'Middle':>11}  {'To':>11}"
    return pad("From .. to", _RANGE, right=True)


_TITLES: Mapping[str, Callable[[int], str]] = {
    "models": lambda _: f"{'Ready':>8}",
    "hours": lambda _: f"{'Left':>9}",
    "ready": _date_titles,
    "chance": lambda _: f"{'Goal':>4}",
}


def _row(unit: UnitStanding, outlook: Outlook | None, table: _Table) -> str:
    name = f"  {pad(clip(unit.unit, table.names), table.names)}"
    if unit.models_ready >= unit.models:
        return f"{name}  {unit.models_ready:>2} of {unit.models:>2}  table-ready"
    chance = outlook.chance_by_goal if outlook else None
    cell = {
        "models": f"{unit.models_ready:>2} of {unit.models:>2}",
        "hours": pad(left_words(outlook) if outlook else "", 9, right=True),
        "ready": _dates(outlook, table),
        "chance": f"{'' if chance is None else _percent(chance):>4}",
    }
    text = "  ".join([name, *(cell[column] for column in table.columns)]) + "  "
    return text + _steps(unit, max(table.width - cells(text), 4))


def _percent(chance: float) -> str:
    """Never a false certainty."""
    return "<1%" if chance < 0.01 else ">99%" if chance > 0.99 else f"{round(100 * chance)}%"


def _dates(outlook: Outlook | None, table: _Table) -> str:
    if outlook is None:
        return " " * (37 if table.width >= _WIDE else _RANGE)
    low, middle, high = (at_level(outlook.ready, level) for level in (10, 50, 90))
    if table.width >= _WIDE:
        said = date_words(middle) if table.has_middle else ""
        return "  ".join(f"{words:>11}" for words in (date_words(low), said, date_words(high)))
    return pad(f"{_short(low, table.today)} .. {_short(high, table.today)}", _RANGE, right=True)


def _short(day: date | None, today: date) -> str:
    """Short enough for a narrow screen: the day while it is near, then the month."""
    if day is None:
        return FAR_OFF
    words = date_words(day).split()
    return f"{words[0]} {words[1]}" if (day - today).days <= _NEAR_DAYS else f"{words[1]} '{words[2][2:]}"


def _steps(unit: UnitStanding, room: int) -> str:
    signs = []
    for step in unit.steps:
        share = 8 * step.models / unit.models
        signs.append(_BLOCKS[max(round(share), 1) if step.models else 0])
    return "".join(signs) if len(signs) <= room else "…" + "".join(signs[1 - room :])


def unit_lines(unit: UnitStanding, width: int) -> list[PageLine]:
    """The steps of one unit with the models that still need them, for the room beside the list."""
    rows = [f"{step.step}: {count_words(step.models, 'model')}" for step in unit.steps if step.models]
    return [head(clip(unit.unit, width)), *(PageLine(clip(row, width)) for row in rows)]


def _by_order(_: Outlooks) -> Callable[[UnitStanding], tuple[object, ...]]:
    return lambda _unit: ()


def _by_name(_: Outlooks) -> Callable[[UnitStanding], tuple[object, ...]]:
    return lambda unit: (unit.unit.casefold(),)


def _by_work(outlooks: Outlooks) -> Callable[[UnitStanding], tuple[object, ...]]:
    def key(unit: UnitStanding) -> tuple[object, ...]:
        outlook = outlooks.get((unit.army, unit.unit))
        return (-at_level(outlook.minutes_left, 50) if outlook else 0.0,)

    return key


def _by_date(outlooks: Outlooks) -> Callable[[UnitStanding], tuple[object, ...]]:
    def key(unit: UnitStanding) -> tuple[object, ...]:
        outlook = outlooks.get((unit.army, unit.unit))
        day = at_level(outlook.ready, 50) if outlook else None
        return (unit.models_ready >= unit.models, day or date.max)

    return key


def _by_goal(_: Outlooks) -> Callable[[UnitStanding], tuple[object, ...]]:
    return lambda unit: (unit.models_ready >= unit.models, unit.goal_date or date.max)


_SORT_KEYS = (_by_order, _by_name, _by_work, _by_date, _by_goal)
