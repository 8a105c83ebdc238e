"""Cuts as changes of records, which sizes each may have, and the work that would stay behind."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.answers_goals import Cut, RearSkip
from tracker.domain.progress import Progress, alive, finish_steps
from tracker.domain.records import STANDARDS, Goal, Model, Records, Unit
from tracker.domain.wished import unit_named, wished
from tracker.domain.wished_models import skip
from tracker.domain.wishes import AtStandard, FewerModels, Filler, Without
from tracker.domain.work import minute_shares

SKIPPABLE = ("highlights", "freehand", "details", "layering")
"""Colour steps that the rear ranks can go without: common practice, no source."""
_RANKED_KINDS = ("infantry", "cavalry", "large infantry")
_FILLER_LEAST = 2
"""Scenery in place of a single model saves little: it takes work of its own."""


def cut_records(known: Records, cuts: Sequence[Cut], progress: Progress, day: date) -> Records:
    """The records with every cut made; `DataError` for what cannot be."""
    for cut in cuts:
        if isinstance(cut, RearSkip):
            unit = unit_named(known, cut.unit, cut.army)
            known = skip(
                known, [(model.id, cut.step) for model in _rear(known, unit, cut.step, progress)], day
            )
        else:
            known = wished(known, [cut], day)
    return known


def ladders(known: Records, unit: Unit, army: str, goal: Goal, progress: Progress) -> list[list[Cut]]:
    """What could be cut of a unit for a goal: each list goes from the least to the most.

    A goal of so many models is not helped by models that are not there, and one of points takes the unit as
    it was listed; so fewer models are offered for a goal of units only, and scenery not where models count.
    """
    there, out = len(alive(known.models, unit.id)), list[list[Cut]]()
    least = max(goal.least_models or unit.files or 1, 1)
    if goal.models is None and goal.points is None:
        out.append([FewerModels(unit.name, n, army) for n in range(1, there - least + 1)])
    if goal.models is None and unit.kind in _RANKED_KINDS:
        most = there - max(least, (there + 1) // 2)
        out.append([Filler(unit.name, n, army) for n in range(_FILLER_LEAST, most + 1)])
    if unit.standard in STANDARDS:
        quicker = STANDARDS[: STANDARDS.index(unit.standard)][::-1]
        out.append([AtStandard(unit.name, standard, army) for standard in quicker])
    for step in finish_steps(unit):
        rear = len(_rear(known, unit, step, progress)) if step in SKIPPABLE else 0
        out.append([RearSkip(unit.name, step, rear, army)] if rear else [])
    out.append([Without(unit.name, army)])
    return [ladder for ladder in out if ladder]


def _rear(known: Records, unit: Unit, step: str, progress: Progress) -> list[Model]:
    """Models behind the front rank that have not begun a step; none where it is not known who they are."""
    if not unit.files:
        return []
    behind = alive(known.models, unit.id)[unit.files :]
    return [
        model
        for model in behind
        if not progress.is_done(model.id, step) and not progress.in_hand(model.id, step)
    ]


def minutes_left_behind(known: Records, plan: Records) -> float:
    """Minutes that were put into models which are in `known` and have left in `plan`.

    A line's minutes are shared equally by the models it moved on; lines that moved none are left out.
    """
    stay = {model.id for model in plan.models if model.left_on is None}
    gone = {model.id for model in known.models if model.left_on is None} - stay
    shares = minute_shares(known.lines, known.sessions)
    return sum(
        (shares.get(line.id) or 0.0) * sum(number in gone for number in line.model_ids) / len(line.model_ids)
        for line in known.lines
        if line.model_ids
    )
