"""The work that is left: how many models of which unit need which step, and from when on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import NamedTuple

from tracker.domain.progress import Progress, alive, finish_steps, progress_of
from tracker.domain.records import Line, Model, Records, Session, Unit
from tracker.domain.routes import comes_before


class WorkLine(NamedTuple):
    """One step still to do on some models of one unit that are alike."""

    unit_id: int
    step: str
    kind: str
    models: int
    in_hand: int
    """How many of them are begun."""
    spent_minutes: float
    """Minutes already put into the ones in hand."""
    done_before: int
    """Models of the unit that have this step behind them (practice)."""
    model_ids: tuple[int, ...]


class UnitWork(NamedTuple):
    """What one unit still needs, in route order."""

    unit: Unit
    models: int
    models_ready: int
    lines: tuple[WorkLine, ...]
    dry_at: Mapping[str, datetime]
    """For steps of the route that are done on some model: when the last of their waits is over."""
    before: Mapping[str, tuple[str, ...]]
    """Steps that must be behind a model before a step starts."""


def work_left(records: Records, progress: Progress | None = None) -> tuple[UnitWork, ...]:
    """What every unit still needs up to its finish line, in the order the person gave.

    Units with an order come first, by it; the others follow by the day they came in. Spares and
    models that left are no work.
    """
    progress = progress or progress_of(records)
    spent = spent_in_hand(records)
    models_of = _by_unit(records.models)
    return tuple(
        _unit_work(unit, models_of.get(unit.id, []), progress, spent)
        for unit in sorted(records.units, key=unit_order)
    )


def unit_order(unit: Unit) -> tuple[bool, int, date, int]:
    """Sort key of units: the person's order first, then age."""
    return (unit.order is None, unit.order or 0, unit.added_on, unit.id)


def _by_unit(models: Sequence[Model]) -> dict[int, list[Model]]:
    out: dict[int, list[Model]] = {}
    for model in models:
        if model.unit_id is not None and model.left_on is None:
            out.setdefault(model.unit_id, []).append(model)
    return out


def _unit_work(
    unit: Unit, models: list[Model], progress: Progress, spent: Mapping[tuple[int, str], float]
) -> UnitWork:
    models = alive(models, unit.id)
    steps = finish_steps(unit)
    lines: list[WorkLine] = []
    dry: dict[str, datetime] = {}
    for step in steps:
        open_by_kind: dict[str, list[Model]] = {}
        done = 0
        for model in models:
            if progress.is_done(model.id, step):
                done += 1
                at = progress.dry_at(model.id, step)
                if at is not None and at > dry.get(step, datetime.min):
                    dry[step] = at
            else:
                open_by_kind.setdefault(model.kind or unit.kind, []).append(model)
        for kind, open_models in open_by_kind.items():
            in_hand = sum(progress.in_hand(m.id, step) for m in open_models)
            lines.append(
                WorkLine(
                    unit.id, step, kind, len(open_models), in_hand,
                    spent.get((unit.id, step), 0.0) if in_hand else 0.0, done,
                    tuple(m.id for m in open_models),
                )
            )  # fmt: skip
    ready = sum(progress.table_ready(m.id, steps) for m in models)
    return UnitWork(unit, len(models), ready, tuple(lines), dry, comes_before(steps))


def spent_in_hand(records: Records) -> dict[tuple[int, str], float]:
    """Minutes put into steps that are still in hand, by (unit id, step).

    A line without minutes of its own counts an equal share of its evening's remaining minutes.
    """
    shares = minute_shares(records.lines, records.sessions)
    spent: dict[tuple[int, str], float] = {}
    for line in records.lines:
        key = (line.unit_id, line.step)
        if line.finished:
            spent.pop(key, None)
        else:
            spent[key] = spent.get(key, 0.0) + (shares.get(line.id) or 0.0)
    return spent


def minute_shares(lines: Sequence[Line], sessions: Sequence[Session]) -> dict[int, float | None]:
    """Minutes of each line by id: its own, or an equal share of what its evening leaves, or None."""
    total = {s.id: s.minutes for s in sessions}
    timed: dict[int, float] = {}
    untimed: dict[int, int] = {}
    for line in lines:
        if line.minutes is None:
            untimed[line.session_id] = untimed.get(line.session_id, 0) + 1
        else:
            timed[line.session_id] = timed.get(line.session_id, 0.0) + line.minutes
    out: dict[int, float | None] = {}
    for line in lines:
        whole = total.get(line.session_id)
        if line.minutes is not None:
            out[line.id] = line.minutes
        elif whole is None:
            out[line.id] = None
        else:
            rest = max(whole - timed.get(line.session_id, 0.0), 0.0)
            out[line.id] = rest / untimed[line.session_id]
    return out


def session_minutes(records: Records) -> dict[int, float | None]:
    """Each session's minutes by id: the total said, else the sum of its lines, else None."""
    summed: dict[int, float] = {}
    for line in records.lines:
        if line.minutes is not None:
            summed[line.session_id] = summed.get(line.session_id, 0.0) + line.minutes
    return {s.id: s.minutes if s.minutes is not None else summed.get(s.id) for s in records.sessions}
