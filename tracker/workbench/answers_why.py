"""The line that an explanation is asked for: which unit, which step, how many models of it."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers import PlannedLine
from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.progress import alive, progress_of
from tracker.domain.records import Records, Unit
from tracker.domain.text import same_name
from tracker.pace.answer import usual_models
from tracker.pace.pace import Pace
from tracker.workbench.answers_estimate import as_known
from tracker.workbench.naming import near_steps, on_route, shown


def asked_line(records: Records, unit: str, step: str, army: str | None, pace: Pace) -> PlannedLine:
    """The step on the models of the unit that still need it, or on all of it when none does.

    An open-ended unit says nothing of its size, so there it is this person's usual number of models.
    """
    found, of_army = _the_unit(records, unit, army)
    said = _the_step(records, found, step)
    (line,) = as_known(records, [PlannedLine(of_army, found.name, said)], ("army",))
    models, left = _models(records, found, said)
    # A step behind every model is explained as if the unit began it anew.
    line = line if left else line._replace(done_before=0)
    return line._replace(models=left or models or usual_models(pace, said))


def _the_unit(records: Records, name: str, army: str | None) -> tuple[Unit, str]:
    armies = {one.id: one.name for one in records.armies}
    found = [(unit, armies[unit.army_id]) for unit in records.units if same_name(unit.name, name)]
    if army is not None:
        found = [(unit, of) for unit, of in found if same_name(of, army)]
    if len(found) == 1:
        return found[0]
    if found:
        mend = f"Say --army {' or '.join(shown(of) for _, of in found)}"
        raise DataError(Problem("--why", f"{shown(name)} stands in more than one army", mend))
    raise DataError(_unknown_unit(records.units, name, army))


def _unknown_unit(units: Sequence[Unit], name: str, army: str | None) -> Problem:
    if army is not None and any(same_name(unit.name, name) for unit in units):
        return Problem("--army", f"{shown(name)} is not in {shown(army)}", "Name its own army, or none")
    otherwise = f"Add it: lastcoat add --unit {shown(name)} --models N"
    mend = did_you_mean(name, [unit.name for unit in units], otherwise)
    return Problem("--why", f"there is no unit {shown(name)}", mend)


def _the_step(records: Records, unit: Unit, said: str) -> str:
    """The step as it stands on the unit's route, or in the log of it."""
    logged = dict.fromkeys(line.step for line in records.lines if line.unit_id == unit.id)
    steps = tuple(dict.fromkeys([*unit.route, *logged]))
    step = on_route(steps, said)
    if step is None:
        what = f"{shown(said)} is no step of {shown(unit.name)}"
        raise DataError(Problem("--why", what, near_steps(steps, said)))
    return step


def _models(records: Records, unit: Unit, step: str) -> tuple[int, int]:
    """Models of the unit and how many still need the step; (0, 0) = nobody knows."""
    if unit.open_ended:
        return 0, 0
    models = alive(records.models, unit.id)
    progress = progress_of(records)
    return len(models), sum(not progress.is_done(model.id, step) for model in models)
