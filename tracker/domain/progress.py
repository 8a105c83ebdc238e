"""Progress per model and step: not yet, in hand, drying until, done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING, NamedTuple

from tracker.domain.problems import Problem
from tracker.domain.records import CellState, Line, Mark, Model, OwnStep, Records, Session, Unit
from tracker.domain.routes import up_to_finish
from tracker.domain.steps import wait_hours

if TYPE_CHECKING:  # the records of every log are loaded without them
    from tracker.domain.cures import Dried

EVENING_ENDS = time(22, 0)
"""When a step is taken as finished if nobody said: waits are counted from here."""


class Cell(NamedTuple):
    """Where one model stands with one step, and since when."""

    state: CellState
    on: date
    dry_at: datetime | None = None
    """When it was dry by the person's word; none = by the wait."""


class Progress(NamedTuple):
    """Cells by (model id, step name); what is missing is "not yet"."""

    cells: Mapping[tuple[int, str], Cell]
    own_waits: Mapping[str, float]
    """Waits in hours that the person set, by step name."""

    def is_done(self, model_id: int, step: str) -> bool:
        """Whether the step is behind this model (skipped counts as behind)."""
        cell = self.cells.get((model_id, step))
        return cell is not None and cell.state in ("done", "skipped")

    def in_hand(self, model_id: int, step: str) -> bool:
        """Whether the step is begun on this model and not finished."""
        cell = self.cells.get((model_id, step))
        return cell is not None and cell.state == "in hand"

    def dry_at(self, model_id: int, step: str) -> datetime | None:
        """When the wait after a done step is over (local time); None when the step is not done.

        A person's word on when it was dry wins over every wait, earlier or later.
        """
        cell = self.cells.get((model_id, step))
        if cell is None or cell.state != "done":
            return None
        if cell.dry_at is not None:
            return cell.dry_at
        hours = wait_hours(step, self.own_waits.get(step))
        return datetime.combine(cell.on, EVENING_ENDS) + timedelta(hours=hours)

    def waits_until(self, model_id: int, step: str) -> datetime | None:
        """As `dry_at`, and None too for a step that needs no wait: the next one may follow at once."""
        return self.dry_at(model_id, step) if wait_hours(step, self.own_waits.get(step)) else None

    def state(self, model_id: int, step: str, now: datetime) -> CellState:
        """The word for a cell at a moment: a done step is "drying" until its wait is over."""
        cell = self.cells.get((model_id, step))
        if cell is None:
            return "not yet"
        dry = self.waits_until(model_id, step)
        return "drying" if dry is not None and now < dry else cell.state

    def table_ready(self, model_id: int, steps: Sequence[str]) -> bool:
        """Whether every one of the steps is behind this model."""
        return all(self.is_done(model_id, step) for step in steps)


def fold(
    lines: Iterable[Line],
    marks: Iterable[Mark],
    sessions: Iterable[Session],
    steps: Iterable[OwnStep] = (),
    dried: Iterable[Dried] = (),
) -> Progress:
    """Progress from all lines and marks, in the order they were stored: the later one wins.

    A line that is not finished never takes a done step back; only a mark does.
    """
    day = {session.id: session.date for session in sessions}
    dry_at = {said.line_id: said.dry_at for said in dried}
    cells: dict[tuple[int, str], Cell] = {}
    by_place: list[tuple[tuple[int, int, int], Line | Mark]] = [((line.id, 0, 0), line) for line in lines]
    by_place += [((mark.after_line, 1, mark.id), mark) for mark in marks]
    for _, event in sorted(by_place, key=lambda pair: pair[0]):
        if isinstance(event, Mark):
            _put_mark(cells, event)
        else:
            _put_line(cells, event, day[event.session_id], dry_at.get(event.id))
    own = {s.name: s.wait_hours for s in steps if s.wait_hours is not None}
    return Progress(cells, own)


def _put_mark(cells: dict[tuple[int, str], Cell], mark: Mark) -> None:
    key = (mark.model_id, mark.step)
    if mark.state == "not yet":
        cells.pop(key, None)
    else:
        cells[key] = Cell(mark.state, mark.date)


def _put_line(cells: dict[tuple[int, str], Cell], line: Line, day: date, dry_at: datetime | None) -> None:
    for model_id in line.model_ids:
        key = (model_id, line.step)
        if line.finished:
            cells[key] = Cell("done", day, dry_at)
        elif cells.get(key, Cell("not yet", day)).state not in ("done", "skipped"):
            cells[key] = Cell("in hand", day)


def progress_of(records: Records) -> Progress:
    """Progress of everything in the records."""
    return fold(records.lines, records.marks, records.sessions, records.steps, records.dried)


class Candidate(NamedTuple):
    """A model as the choosing rule sees it, for one step."""

    id: int
    number: int
    name: str
    done: bool
    in_hand: bool


def choose_models(
    candidates: Sequence[Candidate], count: int, unit: str, named: Sequence[str] = ()
) -> tuple[int, ...] | Problem:
    """Which models a line moves on: the named ones, then those in hand, then the lowest numbers.

    Models that have the step behind them are never chosen. `count` beyond what is left is a problem.
    """
    open_ones = [c for c in candidates if not c.done]
    wanted = {name.casefold() for name in named}
    if count > len(open_ones):
        left = len(open_ones)
        return Problem(
            "models",
            f'{count} models said, but "{unit}" has {left} left for this step',
            f"Say {left} or fewer" if left else "Is it another step, or another unit?",
        )
    rank = sorted(open_ones, key=lambda c: (c.name.casefold() not in wanted, not c.in_hand, c.number))
    return tuple(sorted(c.id for c in rank[:count]))


def alive(models: Iterable[Model], unit_id: int) -> list[Model]:
    """The unit's models that have not left, by number."""
    return sorted((m for m in models if m.unit_id == unit_id and m.left_on is None), key=lambda m: m.number)


def finish_steps(unit: Unit) -> tuple[str, ...]:
    """The steps that make a model of this unit table-ready."""
    return up_to_finish(unit.route, unit.finish_line)
