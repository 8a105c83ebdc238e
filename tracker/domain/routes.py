"""Routes: which steps a unit goes through, in which order, and what must come before what."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.steps import CATALOGUE, find_step

_BY_STANDARD: dict[str, tuple[str, ...]] = {
    "quick": (
        "cleaning", "assembly", "base texture", "priming", "one-coat colours", "base painting",
        "varnish",
    ),
    "table-top": (
        "cleaning", "assembly", "base texture", "priming", "base colours", "shade", "layering",
        "highlights", "details", "base painting", "varnish", "tufts",
    ),
    "good": (
        "cleaning", "dry fit", "assembly", "gap filling", "sanding", "base texture", "sealing",
        "priming", "base colours", "shade", "layering", "highlights", "details", "freehand",
        "base painting", "varnish", "tufts",
    ),
    "display": (
        "cleaning", "dry fit", "conversion", "assembly", "gap filling", "sanding", "base texture",
        "sealing", "priming", "base colours", "shade", "layering", "highlights", "details",
        "freehand", "weathering", "base painting", "varnish", "tufts",
    ),
}  # fmt: skip

_EXTRA: dict[str, tuple[str, ...]] = {
    "monster": ("dry fit", "pinning", "gap filling", "sanding"),
    "large infantry": ("gap filling",),
    "war machine": ("dry fit",),
    "vehicle": ("dry fit", "gap filling", "sanding", "weathering"),
    "character": ("freehand",),
}
_LEFT_OUT: dict[str, tuple[str, ...]] = {
    "vehicle": ("base texture", "sealing", "base painting", "tufts"),
    "scenery": ("details", "tufts", "base painting", "layering"),
}
_MATERIAL_EXTRA: dict[str, tuple[str, ...]] = {
    "resin": ("washing",),
    "printed": ("washing",),
    "metal": ("pinning",),
}


def usual_route(
    kind: str, standard: str, material: str = "plastic", *, ranked: bool = False
) -> tuple[str, ...]:
    """The usual steps for a kind, standard and material, in the catalogue's order.

    A kind or standard of the person's own gets the route of table-top infantry, which is the plain
    case. A unit with files and ranks ends with ranking up. Common practice, no source.
    """
    wanted = set(_BY_STANDARD.get(standard, _BY_STANDARD["table-top"]))
    if standard != "quick":
        wanted.update(_EXTRA.get(kind, ()))
        wanted.update(_MATERIAL_EXTRA.get(material, ()))
    wanted.difference_update(_LEFT_OUT.get(kind, ()))
    if ranked:
        wanted.add("ranking up")
    return tuple(name for name in CATALOGUE if name in wanted)


def comes_before(route: Sequence[str]) -> dict[str, tuple[str, ...]]:
    """For each step of a route, the steps of the same route that must be done before it starts.

    Catalogue steps follow their catalogue predecessors; where one of those is not on the route its
    own predecessors take its place. Only steps that stand earlier on the route count, so a person
    who bases last or first gets what they asked for. A step of the person's own follows the step
    before it, and so does a catalogue step whose predecessors are all missing but which does not
    open the route.
    """
    place = {name.casefold(): i for i, name in enumerate(route)}
    out: dict[str, tuple[str, ...]] = {}
    for i, name in enumerate(route):
        before = sorted({place[key] for key in _ancestors(name, place) if place[key] < i})
        if not before and i:
            before = [i - 1]
        out[name] = tuple(route[j] for j in before)
    return out


def _ancestors(name: str, on_route: dict[str, int]) -> set[str]:
    """Nearest catalogue predecessors that are on the route, looking through those that are not."""
    step = find_step(name)
    found: set[str] = set()
    waiting = list(step.after) if step else []
    seen: set[str] = set()
    while waiting:
        key = waiting.pop()
        if key in seen:
            continue
        seen.add(key)
        if key in on_route:
            found.add(key)
        else:
            waiting.extend(CATALOGUE[key].after)
    return found


def up_to_finish(route: Sequence[str], finish_line: str) -> tuple[str, ...]:
    """The steps a model needs to be table-ready: the route up to and with its finish line."""
    folded = [name.casefold() for name in route]
    wanted = finish_line.strip().casefold()
    if not wanted or wanted not in folded:
        return tuple(route)
    return tuple(route[: folded.index(wanted) + 1])
