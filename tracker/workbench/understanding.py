"""From a typed evening to the lines that would be stored: what is not said comes from last time."""

from __future__ import annotations

import os
from collections.abc import Mapping

from tracker.domain.problems import DataError, Problem
from tracker.domain.steps import CATALOGUE
from tracker.domain.text import tidy
from tracker.sheets.partly import Evening, ModelName, Reading, read_partly, split_evening
from tracker.sheets.sentence import UnitName
from tracker.store.drafts import read_draft, write_draft
from tracker.store.journal import Store
from tracker.store.models import named_models
from tracker.store.units import all_routes, all_unit_names, own_steps
from tracker.workbench.desk import Desk
from tracker.workbench.evening import put_evening_minutes
from tracker.workbench.evening_now import evening_now
from tracker.workbench.heard import Choice, LoggedEvening, Understood, UnitChoice
from tracker.workbench.last_time import LastTime
from tracker.workbench.lines import put_lines
from tracker.workbench.meant import line_of
from tracker.workbench.naming import good_text

_NO_UNIT = Problem("the entry", "there is no unit yet", "Add one: lastcoat add --unit Spears --models 20")
_NOTHING = Problem("the entry", "nothing is said", 'Say it like "washed 10 spears, 50 min"')


def understand(
    desk: Desk, text: str, choices: Mapping[int, Choice] | None = None, *, other_units: bool = True
) -> Understood:
    """What would be stored of these lines (";" or a line end between them); nothing is stored.

    `choices` corrects lines by their place, 0 first. What is wrong stands in `problems`. Without
    `other_units` only near units are offered beside the one that is meant, which is quicker.
    """
    good_text("the entry", text)
    if not os.path.lexists(desk.path):
        return Understood(text, desk.evening_day(), desk.today(), unclear=_NO_UNIT)
    with desk.open() as store, store.snapshot():
        last = LastTime(store, desk, other_units=other_units)
        return _understood(last, desk, text, dict(choices or {}))


def turned(desk: Desk, heard: Understood, by: int, what: str = "step", place: int = -1) -> Understood:
    """The same evening with the next (`by` 1) or the one before (-1) of a line's units or steps.

    `place` says which line; by default the last one.
    """
    if not heard.lines:
        return heard
    place = place % len(heard.lines)
    line, choices = heard.lines[place], dict(heard.choices)
    if what == "unit":
        names = line.units
        if names:
            now = UnitChoice(line.army, line.unit)
            at = names.index(now) if now in names else -1 if by > 0 else 0
            choices[place] = Choice(names[(at + by) % len(names)])
    elif line.steps:
        at = line.steps.index(line.step) if line.step in line.steps else -1 if by > 0 else 0
        choices[place] = choices.get(place, Choice())._replace(step=line.steps[(at + by) % len(line.steps)])
    return understand(desk, heard.text, choices)


def log_understood(desk: Desk, heard: Understood) -> LoggedEvening:
    """Store what was understood as one change; a `DataError` and nothing stored if a part cannot be.

    The draft goes in the same moment, when it is what is stored.
    """
    if heard.problems:
        raise DataError(heard.problems)
    if not heard.lines and heard.total_minutes is None:
        raise DataError(_NOTHING)
    with desk.open() as store, store.change("log") as change:
        logged = put_lines(store, desk, [line.entry() for line in heard.lines])
        total = None
        if heard.total_minutes is not None:
            total = put_evening_minutes(store, desk, heard.total_minutes, heard.day)
        done = LoggedEvening(logged, total)
        change.words = done.words()
        if tidy(read_draft(store)) == tidy(heard.text):
            write_draft(store, "")
    return done


def _understood(last: LastTime, desk: Desk, text: str, choices: dict[int, Choice]) -> Understood:
    store = last.store
    day, today = evening_now(store, desk), desk.today()
    evening = split_evening(text)
    last.total_said = evening.total_minutes is not None
    heard = Understood(
        text, day, today, total_minutes=evening.total_minutes, choices=tuple(choices.items()),
        unclear=evening.problem,
    )  # fmt: skip
    if evening.problem or not (evening.lines or evening.total_minutes):
        return heard
    said = _readings(store, desk, evening)
    if not last.units:
        return heard._replace(unclear=_NO_UNIT)
    day = next((one.read.day for _, one in said if one.read.day_said), day)
    said = [(typed, one if one.read.day_said else one._replace(read=one.read._replace(day=day)))
            for typed, one in said]  # fmt: skip
    lines = []
    for place, (typed, one) in enumerate(said):
        lines.append(line_of(store, last, typed, one, choice=choices.get(place, Choice()), today=today))
        if place + 1 < len(said):
            last.worked_on(lines[-1])
    days = {line.day for line in lines}
    if evening.total_minutes is not None and len(days) > 1:
        heard = heard._replace(
            unclear=Problem("the total", "the lines are of several days", "Say one evening")
        )
    return heard._replace(lines=tuple(lines), day=day)


def _readings(store: Store, desk: Desk, evening: Evening) -> list[tuple[str, Reading]]:
    """Each line as it was typed and what it says; one that says only quantities goes with the one before."""
    known = all_unit_names(store)
    routes = all_routes(store)
    by_name = {name.casefold(): routes.get(number, ()) for number, _, name in reversed(known)}
    steps = list(dict.fromkeys((*CATALOGUE, *own_steps(store).values())))
    units = [UnitName(name, army) for _, army, name in known]
    models = [ModelName(*row) for row in named_models(store)]
    today = evening_now(store, desk)

    def read(text: str) -> Reading:
        return read_partly(
            text, units, steps, today, route_of=lambda unit: by_name.get(unit.casefold(), ()), models=models
        )

    out: list[tuple[str, Reading]] = []
    for typed in evening.lines:
        one = read(typed)
        if out and one.bare:
            joined = f"{out[-1][0]}, {typed}"
            both = read(joined)
            if both.problem is None:
                out[-1] = (joined, both)
                continue
        out.append((typed, one))
    return out
