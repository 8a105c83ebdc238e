"""What can be worked on now: steps whose predecessors are behind some models and dry."""

from __future__ import annotations

from datetime import datetime
from typing import NamedTuple

from tracker.domain.progress import Progress, progress_of
from tracker.domain.records import Records
from tracker.domain.steps import find_step
from tracker.domain.work import UnitWork, WorkLine, work_left


class ReadyLine(NamedTuple):
    """A step that can be taken up, or that waits for something to dry."""

    army: str
    unit: str
    step: str
    models: int
    in_hand: int
    """How many of them are begun."""
    material: str = "plastic"
    gate: str = ""
    """What must be right outside the person's hands ("dry weather"); empty = nothing."""
    until: datetime | None = None
    """When the first of its models is dry; None = ready now."""
    unit_id: int = 0
    kind: str = ""
    model_ids: tuple[int, ...] = ()
    """The models it is about, ones in hand first."""
    models_left: int = 0
    """Models of this kind in the unit that still need the step."""
    lead_free: bool = False
    """Whether its metal is known to hold no lead."""


class ReadyAnswer(NamedTuple):
    """What is ready, units in the person's order and steps in route order; and what is drying."""

    now: datetime
    ready: tuple[ReadyLine, ...]
    drying: tuple[ReadyLine, ...]
    models_left: int
    """Models that are not table-ready yet."""
    has_units: bool
    """Whether anything was ever planned."""


def ready_lines(
    records: Records, now: datetime, known: tuple[Progress, tuple[UnitWork, ...]] | None = None
) -> ReadyAnswer:
    """What can be worked on at a moment (local time); `known` is progress and work where they are at hand."""
    progress, work = known or _known(records)
    armies = {army.id: army.name for army in records.armies}
    no_lead = {said.unit_id for said in records.lead_free}
    ready: list[ReadyLine] = []
    drying: list[ReadyLine] = []
    for unit_work in work:
        for line in unit_work.lines:
            found = _ready(unit_work, line, progress, now, armies[unit_work.unit.army_id])
            if found is not None:
                found = found._replace(lead_free=True) if found.unit_id in no_lead else found
                (ready if found.until is None else drying).append(found)
    left = sum(unit.models - unit.models_ready for unit in work)
    return ReadyAnswer(now, tuple(ready), tuple(drying), left, bool(records.units))


def _known(records: Records) -> tuple[Progress, tuple[UnitWork, ...]]:
    progress = progress_of(records)
    return progress, work_left(records, progress)


def _ready(
    unit_work: UnitWork, line: WorkLine, progress: Progress, now: datetime, army: str
) -> ReadyLine | None:
    """The line with the models that can take its step now, else with those that wait for the clock."""
    before = unit_work.before[line.step]
    could = [m for m in line.model_ids if all(progress.is_done(m, step) for step in before)]
    dry_at = {m: _dry_at(m, before, progress) for m in could}
    now_dry = [m for m in could if (at := dry_at[m]) is None or at <= now]
    chosen = now_dry or could
    if not chosen:
        return None
    known = find_step(line.step)
    return ReadyLine(
        army,
        unit_work.unit.name,
        line.step,
        len(chosen),
        sum(progress.in_hand(m, line.step) for m in chosen),
        unit_work.unit.material,
        known.gate if known else "",
        None if now_dry else min(at for m in chosen if (at := dry_at[m]) is not None),
        unit_work.unit.id,
        line.kind,
        tuple(sorted(chosen, key=lambda m: not progress.in_hand(m, line.step))),
        line.models,
    )


def _dry_at(model_id: int, before: tuple[str, ...], progress: Progress) -> datetime | None:
    waits = [at for step in before if (at := progress.waits_until(model_id, step)) is not None]
    return max(waits) if waits else None
