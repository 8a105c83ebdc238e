"""Which hazards a step, a material, a unit or a person's own words bring with them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from tracker.domain.cautions import CAUTIONS, LEAD, Caution
from tracker.domain.steps import CATALOGUE, find_step

MATERIAL_CAUTIONS: dict[str, tuple[str, ...]] = {
    "plastic": (),
    "metal": (LEAD,),
    "mixed": (LEAD,),
    "resin": ("dust",),
    "printed": ("uncured prints", "dust"),
}
"""The materials that roster sheets know; of metal nobody knows what is in it until it is said."""

# What people write on recipes and on steps of their own; common practice, no source. The longer word is
# looked for first: white glue is no super glue. A word without hazards is there to be passed over.
_WORDS: dict[str, tuple[str, ...]] = {
    "melt, melting, melted, molten": ("melting metal",),
    "super glue, superglue, cyanoacrylate": ("super glue",),
    "glue, glued, gluing": ("super glue", "cement", "epoxy"),
    "white glue, wood glue, pva glue, school glue": (),
    "epoxy, two-part, putty, clear resin": ("epoxy",),
    "cement, plastic glue": ("cement",),
    "spray, sprayed, spraying, aerosol, spray can, airbrush": ("sprays",),
    "white spirit, mineral spirits, turpentine, thinner, thinners, enamel, enamels, oils, oil paint, "
    "oil paints, oil wash, lacquer, solvent, alcohol, dip": ("solvents",),
    "sanding, sanded, sandpaper, file, filing": ("dust",),
    "saw, sawn, sawing": ("blades", "dust"),
    "resin": ("dust",),
    "uncured resin, printing resin, uv resin, printed, prints": ("uncured prints", "dust"),
    "knife, scalpel, blade, drill, drilled, drilling, cutting": ("blades",),
    "paint stripper, stripper, stripped, stripping": ("strippers", "old paint"),
    "old paint": ("old paint",),
    "magnet, magnets, magnetised": ("magnets",),
}
# These name a metal where a material is meant; on a recipe they would be a colour.
_METALS: dict[str, tuple[str, ...]] = {"metal, white metal, pewter, lead, tin alloy": (LEAD,)}
_PAINTS = ("sprays", "solvents")
"""What the name of a paint can tell; "cement grey" is no glue."""


class _Words:
    """A table of words, the longest found first."""

    def __init__(self, *tables: dict[str, tuple[str, ...]]) -> None:
        self._of = {
            word.strip(): hazards
            for table in tables
            for words, hazards in table.items()
            for word in words.split(",")
        }
        longest = sorted(self._of, key=len, reverse=True)
        self._any = re.compile(rf"(?<!\w)(?:{'|'.join(map(re.escape, longest))})(?!\w)")

    def hazards(self, text: str) -> tuple[str, ...]:
        """The hazards of the words in a text, each once, in the order they stand."""
        found = self._any.findall(" ".join(text.casefold().split()))
        return tuple(dict.fromkeys(hazard for word in found for hazard in self._of[word]))


_ON_A_RECIPE = _Words(_WORDS)
_AS_A_MATERIAL = _Words(_WORDS, _METALS)


def hazards_of_words(text: str) -> tuple[str, ...]:
    """Hazards of a person's own words: "thinned with white spirit" is a solvent."""
    return _ON_A_RECIPE.hazards(text)


def hazards_of_paint(text: str) -> tuple[str, ...]:
    """Hazards of a paint by its name: an enamel has a solvent in it, a colour called cement has not."""
    return tuple(hazard for hazard in hazards_of_words(text) if hazard in _PAINTS)


def hazards_of_step(step: str) -> tuple[str, ...]:
    """Hazards of a step of the catalogue, or of the words of one's own."""
    known = find_step(step)
    return known.cautions if known else hazards_of_words(step)


def hazards_of_material(material: str, *, lead_free: bool = False) -> tuple[str, ...]:
    """Hazards of what a unit is made of; metal counts as lead until it is known to be none."""
    known = MATERIAL_CAUTIONS.get(material.strip().casefold())
    found = _AS_A_MATERIAL.hazards(material) if known is None else known
    return tuple(hazard for hazard in found if not (lead_free and hazard == LEAD))


def steps_with(hazard: str) -> tuple[str, ...]:
    """Steps of the catalogue that bring a hazard."""
    return tuple(step.name for step in CATALOGUE.values() if hazard in step.cautions)


def materials_with(hazard: str) -> tuple[str, ...]:
    """Materials that bring a hazard."""
    return tuple(material for material, hazards in MATERIAL_CAUTIONS.items() if hazard in hazards)


class CautionRow(NamedTuple):
    """One caution and what brings it here."""

    caution: Caution
    of: tuple[str, ...]
    """Steps, materials or words; empty = it belongs to no one of them."""


def rows_of(found: Iterable[tuple[str, str]]) -> tuple[CautionRow, ...]:
    """Rows from pairs (hazard, what brings it), in the order in which they came, each hazard once."""
    by_hazard: dict[str, dict[str, None]] = {}
    for hazard, of in found:
        by_hazard.setdefault(hazard, {})
        if of:
            by_hazard[hazard][of] = None
    return tuple(CautionRow(CAUTIONS[hazard], tuple(of)) for hazard, of in by_hazard.items())


def every_row() -> tuple[CautionRow, ...]:
    """Every caution with the steps and materials it belongs to."""
    return tuple(
        CautionRow(caution, (*materials_with(hazard), *steps_with(hazard)))
        for hazard, caution in CAUTIONS.items()
    )
