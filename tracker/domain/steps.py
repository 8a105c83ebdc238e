"""The catalogue of build steps: what comes before, the usual wait, what is counted.

Order, waits and set-up minutes are common practice of the trade, no source: a product's label beats
every wait here. Hours are for about 20 degrees Celsius and dry air.
"""

from __future__ import annotations

from typing import Literal, NamedTuple

Counting = Literal["model", "part", "base", "unit", "batch"]
Family = Literal["build", "base", "colour", "finish"]


class Wait(NamedTuple):
    """Hours until the next step may start: quickest, usual, slowest."""

    low_hours: float
    usual_hours: float
    high_hours: float


NO_WAIT = Wait(0.0, 0.0, 0.0)


class Step(NamedTuple):
    """One build step of the catalogue."""

    name: str
    after: tuple[str, ...]
    """Steps that must be done before, where the route has them."""
    family: Family
    """Material weighs on build steps, the standard on colour steps."""
    counting: Counting = "model"
    wait: Wait = NO_WAIT
    set_up_minutes: float = 3.0
    mostly_set_up: bool = False
    gate: str = ""
    """What must be right outside the person's hands ("dry weather"); empty = nothing."""
    cautions: tuple[str, ...] = ()
    """Its hazards as `cautions.CAUTIONS` names them, the main one first."""
    words: tuple[str, ...] = ()
    """How people also say it."""


# fmt: off
_ALL = (
    Step("sorting", (), "build", "unit", set_up_minutes=5, words=("sort", "sorted")),
    Step("stripping", ("sorting",), "build", "batch", Wait(2, 24, 72), 15, True, "ventilation",
         ("strippers", "old paint"), ("strip", "stripped", "stripping paint")),
    Step("cleaning", ("sorting", "stripping"), "build", cautions=("blades",),
         words=("clean", "cleaned", "clipping", "clipped", "mould lines")),
    Step("washing", ("cleaning",), "build", "batch", Wait(1, 8, 12), 10, True,
         words=("rinse", "rinsed", "soap bath")),
    Step("straightening", ("cleaning",), "build", "part", Wait(0.1, 0.1, 0.1), 8,
         words=("straighten", "straightened")),
    Step("dry fit", ("cleaning", "straightening"), "build", "unit", set_up_minutes=2,
         words=("dry fitted", "dry fitting", "test fit")),
    Step("magnets", ("dry fit",), "build", "part", Wait(0.1, 0.5, 12), 5,
         cautions=("magnets", "super glue", "blades"),
         words=("magnet", "magnetised", "magnetising", "magnetise")),
    Step("pinning", ("dry fit",), "build", "part", Wait(0.1, 0.5, 12), 5,
         cautions=("blades", "super glue"),
         words=("pin", "pinned", "pins")),
    Step("conversion", ("dry fit",), "build", set_up_minutes=5, cautions=("blades", "dust"),
         words=("convert", "converted", "converting", "kitbash", "kitbashed")),
    Step("assembly", ("dry fit", "pinning", "magnets", "conversion"), "build",
         wait=Wait(0.1, 2, 24), cautions=("super glue", "cement", "epoxy"),
         words=("assemble", "assembled", "assembling", "built", "glued", "gluing")),
    Step("gap filling", ("assembly",), "build", wait=Wait(4, 16, 24), set_up_minutes=6,
         cautions=("epoxy",), words=("gap fill", "gaps filled", "filled", "filling", "putty", "puttied")),
    Step("sanding", ("gap filling",), "build", cautions=("dust",), words=("sand down", "sanded")),
    Step("base texture", ("assembly",), "base", "base", Wait(1, 8, 24), 6,
         words=("basing", "based", "textured", "texturing", "texture")),
    Step("sealing", ("base texture",), "base", "base", Wait(0.5, 2, 12), 4, words=("seal", "sealed")),
    Step("priming", ("washing", "sanding", "sealing"), "colour", "batch", Wait(0.5, 2, 24), 15, True,
         "dry weather", ("sprays",), ("prime", "primed", "undercoat", "undercoated")),
    Step("base colours", ("priming",), "colour", wait=Wait(0.1, 0.3, 1),
         words=("base coat", "base coated", "base coats", "basecoat", "basecoated", "base colour",
                "blocked in")),
    Step("one-coat colours", ("priming",), "colour", wait=Wait(0.3, 0.5, 2),
         words=("one-coat", "one coat", "one-coated")),
    Step("shade", ("base colours",), "colour", wait=Wait(0.3, 0.5, 2),
         words=("shaded", "shading", "wash", "washed")),
    Step("layering", ("shade",), "colour", wait=Wait(0.2, 0.2, 0.2),
         words=("layer", "layers", "layered", "tidied")),
    Step("highlights", ("layering", "shade", "one-coat colours"), "colour", wait=Wait(0.2, 0.2, 0.2),
         words=("highlight", "highlighted", "highlighting", "edged", "drybrush", "drybrushed")),
    Step("details", ("layering",), "colour", wait=Wait(0.2, 0.2, 0.2),
         words=("detail", "detailed", "faces", "eyes")),
    Step("freehand", ("highlights",), "colour", wait=Wait(0.3, 0.3, 0.3), set_up_minutes=5,
         words=("freehands", "pattern")),
    Step("gloss coat", ("highlights",), "finish", "batch", Wait(1, 4, 24), 10, True, "dry weather",
         ("sprays",), ("gloss", "glossed")),
    Step("decals", ("gloss coat",), "colour", "part", Wait(2, 6, 24), 6,
         words=("decal", "transfer", "transfers")),
    Step("weathering", ("highlights",), "colour", wait=Wait(12, 24, 72), set_up_minutes=8,
         gate="ventilation", cautions=("solvents",), words=("weathered", "weather", "rust", "dirt")),
    Step("base painting", ("priming", "base texture"), "base", "base", Wait(0.2, 0.2, 0.2), 5,
         words=("bases painted", "painted bases", "base rim", "rims", "rim")),
    Step("joining", ("details",), "build", "part", Wait(0.5, 2, 12), cautions=("super glue", "cement"),
         words=("joined", "join", "sub-assemblies joined")),
    Step("varnish", ("freehand", "decals", "weathering", "base painting", "joining", "highlights",
                     "details", "one-coat colours"),
         "finish", "batch", Wait(1, 4, 24), 15, True, "dry weather", ("sprays",),
         ("varnished", "varnishing", "matt coat", "sealed coat")),
    Step("tufts", ("varnish",), "base", "base", Wait(1, 2, 12),
         words=("tuft", "tufted", "flock", "flocked", "grass")),
    Step("ranking up", ("tufts",), "finish", "unit", set_up_minutes=10,
         words=("ranked up", "ranked", "rank up", "numbered")),
    Step("photo", ("ranking up",), "finish", "unit", set_up_minutes=5,
         words=("photos", "photographed", "boxed")),
)
# fmt: on

CATALOGUE: dict[str, Step] = {step.name: step for step in _ALL}


def find_step(name: str) -> Step | None:
    """The catalogue step of that name, capitals and blanks at the ends aside."""
    return CATALOGUE.get(name.strip().casefold())


def wait_hours(step: str, own_hours: float | None = None) -> float:
    """Usual hours until the next step may start; the person's own word wins."""
    if own_hours is not None:
        return own_hours
    known = find_step(step)
    return known.wait.usual_hours if known else 0.0
