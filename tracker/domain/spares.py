"""Models without a unit: kept, but no backlog; and what the state of one says of a route."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from tracker.domain.steps import CATALOGUE, find_step

_BARE, _BUILT, _PAINTED = "bare", "built", "painted"
_PRIMING, _VARNISH, _LAST_BUILD = "priming", "varnish", "sanding"
_PLACE = {name: place for place, name in enumerate(CATALOGUE)}


class Spare(NamedTuple):
    """A model without a unit."""

    number: int
    kind: str
    name: str
    note: str
    added_on: date
    part: str = ""
    base: str = ""
    """As the person wrote it; read it with `bases.parse_base`."""
    height_mm: float | None = None
    material: str = ""
    state: str = ""
    """One of `keeping.SPARE_STATES`; empty = nobody said."""
    place: str = ""
    tags: tuple[str, ...] = ()


def with_words(spares: Sequence[Spare], words: Sequence[str]) -> tuple[Spare, ...]:
    """Those of which every word stands somewhere: name, kind, part, base, state, place, tags, note."""
    wanted = [word.casefold() for word in words]
    return tuple(spare for spare in spares if all(word in _said(spare) for word in wanted)) if wanted else (
        tuple(spares)
    )  # fmt: skip


def _said(spare: Spare) -> str:
    height = "" if spare.height_mm is None else f"{spare.height_mm:g} mm"
    parts = (spare.name, spare.kind, spare.part, spare.base, height, spare.material, spare.state, spare.place)
    return "\n".join((*parts, *spare.tags, spare.note)).casefold()


def steps_of_state(route: Sequence[str], state: str) -> tuple[str, ...]:
    """The steps of a route that are behind a model of this state.

    Bare: none. Built: the building up to sanding. Primed and begun: all up to priming. Painted: also the
    colours and joining before the varnish; what is done on the base after priming stays open, since bases
    are painted to go with their unit. Common practice, no source.
    """
    if state in ("", _BARE):
        return ()
    if state == _BUILT:
        return tuple(step for step in _before(route, _PRIMING, closed=False) if _is_building(step))
    primed = _before(route, _PRIMING, closed=True)
    if state != _PAINTED:
        return primed
    coloured = _before(route, _VARNISH, closed=False)
    return tuple(step for step in route if step in primed or (step in coloured and _is_colour(step)))


def _before(route: Sequence[str], step: str, *, closed: bool) -> tuple[str, ...]:
    """The route before a step, with it if `closed`; a route without it is cut by the catalogue's order."""
    names = [name.casefold() for name in route]
    if step in names:
        return tuple(route[: names.index(step) + closed])
    return tuple(name for name in route if _PLACE.get(name.casefold(), len(_PLACE)) < _PLACE[step])


def _is_building(name: str) -> bool:
    step = find_step(name)
    return step is not None and step.family == "build" and _PLACE[step.name] <= _PLACE[_LAST_BUILD]


def _is_colour(name: str) -> bool:
    step = find_step(name)
    return step is not None and step.family in ("build", "colour")
