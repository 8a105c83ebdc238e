"""The work that waits for a paint: models left of the route steps it stands in, and their minutes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tracker.domain.answers_recipes import StepNeed, UnitNeed
from tracker.domain.progress import finish_steps
from tracker.domain.recipe_words import PRIMING, firsts, paints_of, steps_meant
from tracker.domain.records import Records, Unit
from tracker.domain.work import UnitWork, work_left
from tracker.forecast.outlook import Pace, minute_quantiles, to_planned
from tracker.store.units import name_key
from tracker.workbench.paints import Live, live_versions, paint_keys
from tracker.workbench.recipes_known import Shelf


class Luck(NamedTuple):
    """Where the draws begin, and how many there are."""

    seed: int
    draws: int


class NeedFound(NamedTuple):
    """What needs one paint."""

    units: tuple[UnitNeed, ...]
    minutes: tuple[float, ...] | None
    not_known: tuple[str, ...]


class _Wait(NamedTuple):
    """A unit that waits, with the places of its lines of work that do."""

    work: UnitWork
    lives: tuple[Live, ...]
    areas: tuple[str, ...]
    steps: tuple[StepNeed, ...]
    places: tuple[int, ...]


def needs_of(shelf: Shelf, known: Records, key: str, pace: Callable[[], Pace], luck: Luck) -> NeedFound:
    """The units that still need a paint, by its folded name, in the order they are worked.

    Minutes: one joint draw of the pace over the lines of all of them, shape (draws, lines); a unit's are
    the quantiles of the sum of its lines in each draw, those of all the quantiles of the sum of everything.
    """
    lives = [live for live in live_versions(shelf) if live.units and key in paint_keys(shelf, live)]
    waits = [wait for work in work_left(known) if (wait := _wait(shelf, known, work, lives, key))]
    armies = {army.id: army.name for army in known.armies}
    minutes = _minutes(waits, known, pace, luck)
    units = tuple(
        UnitNeed(
            armies[wait.work.unit.army_id], wait.work.unit.name,
            tuple((live.recipe.name, live.version.number) for live in wait.lives), wait.areas, wait.steps,
            None if drawn is None else minute_quantiles(drawn),
        )
        for wait, drawn in zip(waits, minutes, strict=True)
    )  # fmt: skip
    told = [drawn for drawn in minutes if drawn is not None]
    total = minute_quantiles(np.sum(told, axis=0, dtype=np.float32)) if told else None
    unknown = tuple(one.unit for one in units if any(not need.step for need in one.steps))
    return NeedFound(units, total, unknown)


def _wait(shelf: Shelf, known: Records, work: UnitWork, lives: Sequence[Live], key: str) -> _Wait | None:
    mine = tuple(live for live in lives if work.unit.id in live.units)
    areas: list[str] = []
    meant: list[str | None] = []
    for live in mine:
        for area, candidates in _stands_in(shelf, live, key):
            step = _on_route(known, work.unit, candidates)
            if step is None or any(line.step == step for line in work.lines):
                areas.append(area)
                meant.append(step)
    named = set(meant)
    needs = [
        StepNeed(step, sum(line.models for line in work.lines if line.step == step))
        for step in finish_steps(work.unit) if step in named
    ]  # fmt: skip
    if None in named and work.models > work.models_ready:
        needs.append(StepNeed("", work.models - work.models_ready))
    if not needs:
        return None
    places = tuple(i for i, line in enumerate(work.lines) if line.step in named)
    return _Wait(work, mine, tuple(dict.fromkeys(area for area in areas if area)), tuple(needs), places)


def _stands_in(shelf: Shelf, live: Live, key: str) -> list[tuple[str, tuple[str, ...]]]:
    """(area, catalogue steps it may belong to) for every step of the version that names the paint."""
    steps = shelf.steps.get(live.version.id, ())
    first = firsts(steps)
    out = [
        (step.area, steps_meant(step, is_first=step.place in first))
        for step in steps
        if key in map(name_key, paints_of(step.paint))
    ]
    if key in map(name_key, paints_of(live.version.primer)):
        out.append(("", PRIMING))
    return out


def _on_route(known: Records, unit: Unit, candidates: Sequence[str]) -> str | None:
    """The first of the catalogue steps that the route has, by its name there; None = none of them."""
    stands_for = {own.name.casefold(): own.catalogue.casefold() for own in known.steps if own.catalogue}
    for wanted in candidates:
        for step in unit.route:
            if wanted in (step.casefold(), stands_for.get(step.casefold())):
                return step
    return None


def _minutes(
    waits: Sequence[_Wait], known: Records, pace: Callable[[], Pace], luck: Luck
) -> list[NDArray[np.float32] | None]:
    """Drawn minutes of each unit, shape (draws,); None where no line of it is known."""
    planned = []
    for wait in waits:
        lines = to_planned(wait.work, known)
        planned.append([lines[i] for i in wait.places])
    flat = [line for lines in planned for line in lines]
    if not flat:
        return [None for _ in waits]
    drawn = np.asarray(pace().draw(flat, np.random.default_rng(luck.seed), luck.draws), dtype=np.float32)
    ends = np.cumsum([len(lines) for lines in planned])
    parts = np.split(drawn, ends[:-1], axis=1)
    return [part.sum(axis=1) if part.shape[1] else None for part in parts]
