"""Units with other models than they have, as they would be: changes from records to records."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.problems import DataError, Problem
from tracker.domain.progress import alive, progress_of
from tracker.domain.records import Mark, Model, Records, Unit
from tracker.domain.routes import usual_route
from tracker.domain.text import printable

WHERE = "what if"
_LEFT = "left out"


def without(known: Records, unit: Unit, day: date) -> Records:
    """The unit leaves as a whole."""
    return _leave(known, [model.id for model in alive(known.models, unit.id)], day)


def to_models(known: Records, unit: Unit, models: int, day: date) -> Records:
    """The unit with so many models: the least begun leave, or new ones come."""
    there = alive(known.models, unit.id)
    if models < 1:
        raise refused(f"{models} models are no unit", "Leave the whole unit out, or say 1 or more")
    if models <= len(there):
        return _leave(known, least_begun(known, there)[: len(there) - models], day)
    more = [Model(0, unit.id, there[-1].number + n, added_on=day) for n in range(1, models - len(there) + 1)]
    return join(known, more)


def fewer_models(known: Records, unit: Unit, fewer: int, day: date) -> Records:
    """The unit with so many models fewer."""
    there = len(alive(known.models, unit.id))
    if not 0 < fewer < there:
        what = f'{fewer} models fewer cannot be, "{printable(unit.name)}" has {there}'
        raise refused(what, f"Say 1 to {there - 1}" if there > 1 else "Leave the whole unit out")
    return to_models(known, unit, there - fewer, day)


def least_begun(known: Records, models: Sequence[Model]) -> list[int]:
    """Ids of models, those with the fewest steps behind them first, of these the last numbers."""
    steps: dict[int, int] = {}
    for (model_id, _), cell in progress_of(known).cells.items():
        steps[model_id] = steps.get(model_id, 0) + (2 if cell.state in ("done", "skipped") else 1)
    return [model.id for model in sorted(models, key=lambda one: (steps.get(one.id, 0), -one.number))]


def _leave(known: Records, model_ids: Sequence[int], day: date) -> Records:
    gone = set(model_ids)
    models = (
        model._replace(left_on=day, left_how=_LEFT) if model.id in gone else model for model in known.models
    )
    return known._replace(models=tuple(models))


def join(known: Records, models: Sequence[Model]) -> Records:
    """The records with models added; their ids are given here."""
    first = max((model.id for model in known.models), default=0) + 1
    numbered = (model._replace(id=first + i) for i, model in enumerate(models))
    return known._replace(models=(*known.models, *numbered))


def with_filler(known: Records, unit: Unit, instead_of: int, day: date) -> Records:
    """Scenery in place of so many models, as one model that skips the steps scenery does not take."""
    known = fewer_models(known, unit, instead_of, day)
    last = max(model.number for model in known.models if model.unit_id == unit.id)
    known = join(known, [Model(0, unit.id, last + 1, "filler", "scenery", added_on=day)])
    route = usual_route("scenery", unit.standard, unit.material)
    skipped = [step for step in unit.route if step not in route]
    return skip(known, [(known.models[-1].id, step) for step in skipped], day)


def skip(known: Records, cells: Sequence[tuple[int, str]], day: date) -> Records:
    """The records with (model id, step) cells skipped."""
    last_line = max((line.id for line in known.lines), default=0)
    first = max((mark.id for mark in known.marks), default=0) + 1
    marks = (
        Mark(first + i, model_id, step, "skipped", day, last_line) for i, (model_id, step) in enumerate(cells)
    )
    return known._replace(marks=(*known.marks, *marks))


def refused(what: str, mend: str) -> DataError:
    """A wish that cannot come true."""
    return DataError(Problem(WHERE, what, mend))
