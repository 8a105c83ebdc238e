"""The cautions, against the rows of hazards that public bodies warn painters and modellers of."""

from __future__ import annotations

import pytest

from tracker.domain.caution_rules import (
    MATERIAL_CAUTIONS,
    every_row,
    hazards_of_material,
    hazards_of_paint,
    hazards_of_step,
    hazards_of_words,
    materials_with,
    steps_with,
)
from tracker.domain.cautions import CAUTIONS, GENERAL
from tracker.domain.records import MATERIALS
from tracker.domain.routes import usual_route
from tracker.domain.steps import CATALOGUE

# What the public bodies' own pages are about, by a word that a caution on it must use. Sources: CDC, "Lead
# in jobs, hobbies, or other activities" (old castings, melting metal, old paint); NIOSH and WHO/IPCS
# CICAD 36 (cyanoacrylate); HSE RR79 (epoxy); CPSC publication 5015 (sprays, solvents, cement); HSE EH44
# (dust); NIOSH on 3D printing (uncured prints); US BLS (cuts); EPA and CPSC 5059 (strippers); CPSC
# (magnets). Breaks and tiredness: common practice, no source.
HAZARDS = {
    "lead": "lead", "melting metal": "fumes", "super glue": "eyelids", "epoxy": "sensitive",
    "sprays": "flame", "solvents": "vapour", "cement": "flame", "dust": "lungs",
    "uncured prints": "gloves", "blades": "cut away", "strippers": "outdoors", "old paint": "lead",
    "magnets": "swallowed", "body": "breaks",
}  # fmt: skip
# Which work each of those pages is about, in the steps and materials of the catalogue.
BELONGS = {
    "lead": {"metal", "mixed"}, "super glue": {"assembly", "joining", "pinning"},
    "epoxy": {"gap filling", "assembly"}, "sprays": {"priming", "gloss coat", "varnish"},
    "solvents": {"weathering"}, "cement": {"assembly"}, "dust": {"sanding", "resin", "printed"},
    "uncured prints": {"printed"}, "blades": {"cleaning", "pinning", "conversion"},
    "strippers": {"stripping"}, "old paint": {"stripping"}, "magnets": {"magnets"},
}  # fmt: skip


def test_every_hazard_has_its_caution_and_no_other_is_there() -> None:
    assert set(CAUTIONS) == set(HAZARDS)


@pytest.mark.parametrize("hazard", HAZARDS)
def test_a_caution_names_the_hazard_in_one_line_and_defers(hazard: str) -> None:
    line = CAUTIONS[hazard].line
    assert HAZARDS[hazard] in line.casefold()
    assert line.endswith("see the label and safety data sheet and follow local rules.")
    assert 60 <= len(line) <= 160
    assert line.count(".") == 1
    assert not any(sign.isdigit() for sign in line)  # no doses
    assert CAUTIONS[hazard].source


@pytest.mark.parametrize("hazard", HAZARDS)
def test_every_hazard_is_reached_from_what_it_belongs_to(hazard: str) -> None:
    reached = {*steps_with(hazard), *materials_with(hazard)}
    assert reached >= BELONGS.get(hazard, set())
    assert reached or hazard in GENERAL
    assert hazard in [row.caution.hazard for row in every_row()]


def test_every_step_and_material_names_known_hazards_only() -> None:
    for step in CATALOGUE.values():
        assert set(step.cautions) <= set(CAUTIONS), step.name
        assert hazards_of_step(step.name.upper()) == step.cautions
    assert set(MATERIAL_CAUTIONS) == set(MATERIALS)


def test_every_usual_route_has_a_step_of_blades_and_one_of_sprays() -> None:
    for kind in ("infantry", "monster", "scenery"):
        found = {h for step in usual_route(kind, "table-top") for h in hazards_of_step(step)}
        assert {"blades", "sprays", "super glue"} <= found


def test_metal_is_lead_until_it_is_known_to_be_none() -> None:
    assert hazards_of_material("Metal ") == ("lead",)
    assert hazards_of_material("old white metal") == ("lead",)
    assert hazards_of_material("metal", lead_free=True) == ()
    assert hazards_of_material("plastic") == ()


def test_own_words_are_understood_the_longest_first() -> None:
    assert hazards_of_words("thinned with White  Spirit") == ("solvents",)
    assert hazards_of_words("super glue") == ("super glue",)
    assert hazards_of_words("white glue and sand") == ()
    assert hazards_of_words("epoxy putty") == ("epoxy",)
    assert hazards_of_words("gluey gluten") == ()
    assert hazards_of_paint("cement grey") == ()
    assert hazards_of_paint("rust enamel") == ("solvents",)
