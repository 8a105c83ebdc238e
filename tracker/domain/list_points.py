"""What the units of an army are worth in points: planned, built, table-ready; no forecast in it."""

from __future__ import annotations

from tracker.domain.answers_points import ArmyPoints, UnitPoints
from tracker.domain.progress import Progress, alive, finish_steps
from tracker.domain.records import Army, Records, Unit
from tracker.domain.steps import find_step
from tracker.domain.work import unit_order

SAME_POINTS = 1e-6
"""Points that differ by less are the same: shares of a unit that was split miss the last bit."""
_BUILT_WITH = "assembly"


def build_steps(unit: Unit) -> tuple[str, ...]:
    """The build steps of its route up to the assembly; all build steps where nothing is assembled.

    Steps of the person's own are no build steps: nobody can tell.
    """
    steps = [(step, known) for step in unit.route if (known := find_step(step))]
    names = [known.name for _, known in steps]
    up_to = names.index(_BUILT_WITH) + 1 if _BUILT_WITH in names else len(names)
    return tuple(step for step, known in steps[:up_to] if known.family == "build")


def points_of(known: Records, progress: Progress, army: Army) -> ArmyPoints:
    """The list of an army as it stands: units that have models, in the person's order."""
    units: list[UnitPoints] = []
    without: list[str] = []
    for unit in sorted(known.units, key=unit_order):
        models = alive(known.models, unit.id) if unit.army_id == army.id else []
        if not models:
            continue
        if not unit.points:
            without.append(unit.name)
            continue
        build, finish = build_steps(unit), finish_steps(unit)
        units.append(UnitPoints(
            unit.name, unit.points, len(models),
            sum(progress.table_ready(model.id, build) for model in models),
            sum(progress.table_ready(model.id, finish) for model in models),
        ))  # fmt: skip
    return ArmyPoints(army.name, tuple(units), tuple(without))


def with_target(one: ArmyPoints, target: float | None) -> ArmyPoints:
    """The list with its target, and how that stands before any forecast."""
    if target is None:
        return one
    if one.ready >= target - SAME_POINTS:
        return one._replace(target=target, state="met")
    is_open = one.planned >= target - SAME_POINTS
    return one._replace(target=target, state="open" if is_open else "never")
