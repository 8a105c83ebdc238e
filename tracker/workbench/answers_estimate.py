"""Planned lines: what the log knows of their units is filled in before the pace is asked."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.answers import PlannedLine
from tracker.domain.progress import alive, progress_of
from tracker.domain.records import Records, Unit
from tracker.pace.priors import unit_guess_log


def as_known(records: Records, lines: Sequence[PlannedLine], said: Sequence[str]) -> list[PlannedLine]:
    """The lines with kind, material, standard and practice of the units that are known.

    A line names its army only where the sheet does; without it a unit of that name in any army is
    meant if there is exactly one.
    """
    units = _units_by_name(records)
    progress = progress_of(records)
    out = []
    for line in lines:
        unit = _unit_of(units, line, by_army="army" in said)
        if unit is None:
            out.append(line)
            continue
        army = next(army.name for army in records.armies if army.id == unit.army_id)
        lent = {name: getattr(unit, name) for name in ("kind", "material", "standard") if name not in said}
        models = () if unit.open_ended else alive(records.models, unit.id)
        done = sum(progress.is_done(model.id, line.step) for model in models)
        guess = unit_guess_log(unit, sum(model.unit_id == unit.id for model in records.models))
        known = line._replace(army=army, unit=unit.name, done_before=done, unit_guess_log=guess, **lent)
        out.append(known)
    return out


def _units_by_name(records: Records) -> dict[str, list[tuple[str, Unit]]]:
    armies = {army.id: army.name for army in records.armies}
    out: dict[str, list[tuple[str, Unit]]] = {}
    for unit in records.units:
        out.setdefault(unit.name.casefold(), []).append((armies[unit.army_id].casefold(), unit))
    return out


def _unit_of(units: dict[str, list[tuple[str, Unit]]], line: PlannedLine, *, by_army: bool) -> Unit | None:
    found = units.get(line.unit.casefold(), [])
    in_army = [unit for army, unit in found if army == line.army.casefold()]
    if in_army:
        return in_army[0]
    return found[0][1] if len(found) == 1 and not by_army else None
