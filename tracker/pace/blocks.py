"""From the log to blocks: sets of lines whose joint minutes are known.

- a line with minutes of its own is a block of one;
- an evening's remaining minutes belong to its untimed lines together;
- a step that is not finished goes on in the next line of that unit and step: the evenings join up, and
  the block spans them;
- what is still in hand at the end is a block of which only a lower bound is known;
- progress without any minutes teaches nothing about the pace and makes no block.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from itertools import pairwise
from typing import NamedTuple

from tracker.domain.answers import PlannedLine
from tracker.domain.records import Line, Model, Records, Session
from tracker.pace.priors import log_minutes, unit_guess_log

WORTH_KNOWING_MINUTES = 0.05
TIED_MOST = 6
"""Steps in one block; a longer tangle of unfinished evenings is cut into runs of so many at most."""


class Block(NamedTuple):
    """Lines and their joint minutes; the earliest evening first among blocks."""

    lines: tuple[PlannedLine, ...]
    minutes: float
    evening: int = 0
    """Running number of the evening it ended in."""
    at_least: bool = False
    """Still in hand, or partly untold: it takes more than `minutes`."""


def blocks_of(records: Records) -> list[Block]:
    """All blocks of a log, by the evening in which they ended.

    A session's untimed lines that are parts of a longer step are tied to it: their block holds the
    longer step and the session's other untimed lines, with all their minutes together.
    """
    evenings = sorted(records.sessions, key=lambda s: (s.date, s.id))
    place = {s.id: i for i, s in enumerate(evenings)}
    session_of = {s.id: s for s in evenings}
    lines = sorted(
        (x for x in records.lines if x.session_id in place), key=lambda x: (place[x.session_id], x.id)
    )
    tasks = _tasks(lines)
    told = _described(records, lines)
    ties = _Ties(len(tasks))
    pools: dict[int, list[int]] = {}
    for number, task in enumerate(tasks):
        for line in task.lines:
            if line.minutes is None:
                pools.setdefault(line.session_id, []).append(number)
    for numbers in pools.values():
        for number in numbers[1:]:
            ties.join(numbers[0], number)
    return _assemble(tasks, ties, _minutes(tasks, pools, lines, session_of), told, place)


class _Task(NamedTuple):
    lines: tuple[Line, ...]
    open: bool
    """Still in hand: no later line finished it."""


def _tasks(lines: Iterable[Line]) -> list[_Task]:
    """Lines joined into steps begun and finished, in the order they ended; open ones last."""
    waiting: dict[tuple[int, str], list[Line]] = {}
    out: list[_Task] = []
    for line in lines:
        chain = waiting.setdefault((line.unit_id, line.step), [])
        chain.append(line)
        if line.finished and line.models > 0:
            out.append(_Task(tuple(chain), open=False))
            del waiting[line.unit_id, line.step]
    out.extend(_Task(tuple(chain), open=True) for chain in waiting.values())
    return out


class _Pool(NamedTuple):
    """What a session's untimed lines took together."""

    tasks: list[int]
    """Their tasks, one by line."""
    minutes: float


class _Minutes(NamedTuple):
    own: list[float]
    """By task: minutes told of its lines."""
    pools: list[_Pool]
    unknown: set[int]
    """Tasks some of whose minutes nobody knows."""


def _minutes(
    tasks: list[_Task],
    pools: dict[int, list[int]],
    lines: list[Line],
    session_of: dict[int, Session],
) -> _Minutes:
    """Minutes told of single lines and of sessions."""
    timed: dict[int, float] = {}
    for line in lines:
        if line.minutes is not None:
            timed[line.session_id] = timed.get(line.session_id, 0.0) + line.minutes
    own = [sum(x.minutes for x in task.lines if x.minutes is not None) for task in tasks]
    unknown: set[int] = set()
    told = []
    for session_id, numbers in pools.items():
        total = session_of[session_id].minutes
        rest = None if total is None else total - timed.get(session_id, 0.0)
        if rest is None or rest < WORTH_KNOWING_MINUTES:
            unknown.update(numbers)
        else:
            told.append(_Pool(numbers, rest))
    return _Minutes(own, told, unknown)


class _Ties:
    """Disjoint sets: which tasks share minutes that nobody told apart."""

    def __init__(self, size: int) -> None:
        self._up = list(range(size))

    def find(self, i: int) -> int:
        while self._up[i] != i:
            self._up[i] = self._up[self._up[i]]
            i = self._up[i]
        return i

    def join(self, i: int, j: int) -> None:
        a, b = self.find(i), self.find(j)
        self._up[max(a, b)] = min(a, b)


def _assemble(
    tasks: list[_Task],
    ties: _Ties,
    minutes: _Minutes,
    told: dict[int, PlannedLine],
    place: dict[int, int],
) -> list[Block]:
    members: dict[int, list[int]] = {}
    for number in range(len(tasks)):
        members.setdefault(ties.find(number), []).append(number)
    lines = [_as_one(task, told) for task in tasks]
    spent = _allotted(tasks, lines, minutes)
    out = []
    for numbers in members.values():
        if sum(spent[i] for i in numbers) < WORTH_KNOWING_MINUTES:
            continue
        for run in _runs(numbers):
            ended = max(place[tasks[i].lines[-1].session_id] for i in run)
            bound = any(tasks[i].open or i in minutes.unknown for i in run)
            total = sum(spent[i] for i in run)
            out.append(Block(tuple(lines[i] for i in run), total, ended, bound))
    return sorted(out, key=lambda block: block.evening)


def _allotted(tasks: list[_Task], lines: list[PlannedLine], minutes: _Minutes) -> list[float]:
    """Minutes by task: its own, and of each session's rest the share that the trade expects of its lines.

    Whole blocks add up to what was told whatever the shares. Only where a tangle is cut do they matter,
    for the evenings that lie on both sides of the cut.
    """
    each = [math.exp(log_minutes(line)) / len(task.lines) for task, line in zip(tasks, lines, strict=True)]
    out = list(minutes.own)
    for pool in minutes.pools:
        whole = sum(each[i] for i in pool.tasks)
        for i in pool.tasks:
            out[i] += pool.minutes * each[i] / whole
    return out


def _runs(numbers: list[int]) -> list[list[int]]:
    """Tied tasks, in the order they ended, in runs of about equal length.

    A run and not single tasks: shares taken from the trade would tell the fit that every task takes just
    what the trade says, and its ranges would be too narrow.
    """
    count = -(-len(numbers) // TIED_MOST)
    ends = [len(numbers) * i // count for i in range(count + 1)]
    return [numbers[first:last] for first, last in pairwise(ends)]


def _as_one(task: _Task, told: dict[int, PlannedLine]) -> PlannedLine:
    """The whole step as one line: the models that came out of it, the guess made at its start."""
    last = told[task.lines[-1].id]
    models = task.lines[-1].models or max(line.models for line in task.lines)
    guess = next((x.guess_minutes for x in task.lines if x.guess_minutes), None)
    return last._replace(models=models, guess_minutes=guess)


def _described(records: Records, lines: list[Line]) -> dict[int, PlannedLine]:
    """Each line with what its unit tells of it, by line id; practice counted as the log goes on."""
    armies = {a.id: a.name for a in records.armies}
    units = {u.id: u for u in records.units}
    models = {m.id: m for m in records.models}
    sizes = Counter(m.unit_id for m in records.models)
    guessed = {u.id: unit_guess_log(u, sizes[u.id]) for u in records.units}
    done: dict[tuple[int, str], int] = {}
    out: dict[int, PlannedLine] = {}
    for line in lines:
        unit = units[line.unit_id]
        key = (line.unit_id, line.step)
        out[line.id] = PlannedLine(
            armies.get(unit.army_id, ""), unit.name, line.step, line.models, line.guess_minutes,
            _kind(line, models, unit.kind), unit.material, unit.standard, done.get(key, 0),
            unit_guess_log=guessed[unit.id],
        )  # fmt: skip
        # A unit that grows with its lines is no lot of like models that one gets used to.
        if line.finished and not unit.open_ended:
            done[key] = done.get(key, 0) + line.models
    return out


def _kind(line: Line, models: dict[int, Model], usual: str) -> str:
    """The kind a line's models share when it is not their unit's (a character in a unit)."""
    kinds = {models[i].kind for i in line.model_ids if i in models}
    return kinds.pop() or usual if len(kinds) == 1 else usual
