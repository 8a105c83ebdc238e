"""A sentence that leaves something out: what it does say, and what its names might mean.

"50 min" says only how long, "10 spears" leaves out the step; what is missing is another's to fill in.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date
from typing import NamedTuple

from tracker.domain.problems import Problem
from tracker.sheets.meaning import find_meaning, two_units
from tracker.sheets.names import FILLERS, UnitWords, Words, step_costs, unit_cost, words_of
from tracker.sheets.quantities import Text, take_total
from tracker.sheets.sentence import NOTE, Parts, Sentence, UnitName, join, take_apart, with_days_mended

_NEAR_MOST = 8


class ModelName(NamedTuple):
    """A model that has a name, and its unit."""

    unit: str
    army: str
    name: str


class Reading(NamedTuple):
    """What a sentence says; the unit and the step are empty where it leaves them out."""

    read: Sentence
    units: tuple[UnitName, ...] = ()
    """Units its words are near to, nearest first."""
    steps: tuple[str, ...] = ()
    """Steps its words may mean, when they are more than one."""
    names: tuple[str, ...] = ()
    """Models it names."""
    problem: Problem | None = None
    """Why its words mean nothing, or too much."""

    @property
    def bare(self) -> bool:
        """Whether it says quantities and no names."""
        return not (self.read.unit or self.read.step or self.steps or self.names or self.problem)


def read_partly(
    text: str,
    units: Sequence[UnitName],
    steps: Sequence[str],
    today: date,
    *,
    route_of: Callable[[str], Sequence[str]] | None = None,
    models: Sequence[ModelName] = (),
) -> Reading:
    """What a sentence says of a line, names left out allowed; arguments as in `read_sentence`."""
    parts = take_apart(text, units, steps, today, route_of=route_of)
    if isinstance(parts, Problem):
        return Reading(Sentence("", "", "", today), problem=parts)
    reading = _named(parts.rest, parts)
    if reading.problem is None:
        return reading
    mended = with_days_mended(text)
    if mended is not None:
        again = read_partly(mended, units, steps, today, route_of=route_of, models=models)
        if again.problem is None:
            return again
    for model, rest in _models_in(parts.rest, models):
        again = _named(rest, parts)
        if again.problem is None and again.read.unit in ("", model.unit):
            unit, army = model.unit, again.read.army or model.army
            read = again.read._replace(unit=unit, army=army, models=again.read.models or 1)
            return again._replace(read=read, names=(model.name,))
    return reading


def _named(rest: str, parts: Parts) -> Reading:
    """The reading of these words: whole, or a step alone, or a unit alone, or nothing."""
    meaning = find_meaning(rest, parts.known, parts.masked)
    near = _near(rest, parts, typing_errors=isinstance(meaning, Problem))
    words = tuple(word for word in words_of(rest) if word not in FILLERS)
    if not words and not parts.masked:
        return Reading(parts.read)
    if not isinstance(meaning, Problem):
        return Reading(join(meaning, parts.read), near)
    return _half(words, parts, near) or Reading(parts.read, near, problem=meaning)


def _half(words: Words, parts: Parts, near: tuple[UnitName, ...]) -> Reading | None:
    if parts.masked and not words:
        return _one_unit([(0, unit) for unit in parts.masked], parts.read, near)
    if parts.masked:
        return None
    for errors in (False, True):
        by_cost = sorted(step_costs(words, parts.known.phrases, typing_errors=errors))
        units = [(cost, unit) for unit in parts.known.units
                 if (cost := unit_cost(words, unit, typing_errors=errors)) is not None]  # fmt: skip
        if by_cost and by_cost[0][0] <= min((cost for cost, _ in units), default=by_cost[0][0]):
            steps = tuple(name for cost, name in by_cost if cost == by_cost[0][0])
            return Reading(parts.read._replace(step=steps[0] if len(steps) == 1 else ""), near, steps)
        if units:
            return _one_unit(units, parts.read, near)
    return None


def _one_unit(found: Sequence[tuple[int, UnitWords]], read: Sentence, near: tuple[UnitName, ...]) -> Reading:
    least = min(cost for cost, _ in found)
    best = [unit for cost, unit in found if cost == least]
    if len(best) > 1:
        return Reading(read, tuple(UnitName(u.unit, u.army) for u in best), problem=two_units(best))
    return Reading(read._replace(unit=best[0].unit, army=best[0].army), near)


def _near(rest: str, parts: Parts, *, typing_errors: bool) -> tuple[UnitName, ...]:
    """Units that any of the words may mean, nearest first."""
    words = [word for word in words_of(rest) if word not in FILLERS][:20]
    costs = [
        (cost, place)
        for place, unit in enumerate(parts.known.units)
        for word in words
        if (cost := unit_cost((word,), unit, typing_errors=typing_errors)) is not None
    ]
    ranked = [parts.known.units[place] for _, place in sorted(costs)]
    return tuple(dict.fromkeys(UnitName(u.unit, u.army) for u in (*parts.masked, *ranked)))[:_NEAR_MOST]


def _models_in(rest: str, models: Sequence[ModelName]) -> list[tuple[ModelName, str]]:
    """Models whose names stand in the words, longest names first, and the words without them."""
    out = []
    for model in sorted(models, key=lambda model: -len(model.name)):
        text = Text(rest)
        if text.take(re.compile(rf"(?<!\w){re.escape(model.name)}(?:['’]s)?(?!\w)", re.IGNORECASE)):
            out.append((model, text.rest))
    return out


class Evening(NamedTuple):
    """Several lines of one evening, as they were typed, and its total where one was said."""

    lines: tuple[str, ...]
    total_minutes: float | None = None
    problem: Problem | None = None


def split_evening(text: str) -> Evening:
    """The lines of an evening, between ";" or line ends; the total is taken out ("2 h in all")."""
    parts = [part for line in text.splitlines() for part in _split(line)]
    total: float | None = None
    lines: list[str] = []
    for part in parts:
        note = NOTE.search(part)
        head = Text(part[: note.start()] if note else part)
        said = take_total(head)
        if isinstance(said, Problem) or (said is not None and total is not None):
            twice = Problem("the total", "it is said twice", "Say it once")
            problem = said if isinstance(said, Problem) else twice
            return Evening(tuple(lines), total, problem)
        total = total if said is None else said
        kept = head.rest if said is not None else part[: note.start()] if note else part
        rest = kept + (part[note.start() :] if note else "")
        if rest.strip(" ,.\t"):
            lines.append(rest.strip())
    return Evening(tuple(lines), total)


def _split(line: str) -> list[str]:
    """Parts between semicolons; a note runs to the end of its line."""
    note = NOTE.search(line)
    if not note:
        return line.split(";")
    heads = line[: note.start() + 1].rstrip("; ").split(";")
    return [*heads[:-1], f"{heads[-1]} {line[note.start() :].lstrip(' ;')}"]
