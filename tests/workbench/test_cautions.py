"""Cautions through the verbs: the first time only, of a step, a material, a unit; and metal without lead."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.cautions import CAUTIONS
from tracker.domain.problems import DataError
from tracker.domain.recipes import Recipe, RecipeStep, RecipeUse, RecipeVersion
from tracker.domain.records import MATERIALS
from tracker.domain.rows import RosterRow
from tracker.domain.steps import CATALOGUE
from tracker.store.book import keep
from tracker.workbench.adding import add_unit
from tracker.workbench.cautions import cautions, say_lead
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import undo
from tracker.workbench.roster_in import import_roster
from tracker.workbench.tonight import tonight
from tracker.workbench.units_plan import set_plan

STEPS = ("cleaning", "conversion", "assembly", "joining", "wire cut with the saw")


def of(desk: Desk, about: str = "", **more: str) -> list[str]:
    return [row.caution.hazard for row in cautions(desk, about, **more).rows]


def test_the_catalogue_is_reached_through_the_verb(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    reached = {hazard for name in (*CATALOGUE, *MATERIALS) for hazard in of(desk, name)}
    assert reached | {"melting metal", "body"} == set(CAUTIONS) == set(of(desk))
    for step in CATALOGUE.values():
        assert tuple(of(desk, step.name)) == step.cautions


def test_a_caution_comes_the_first_time_and_no_other(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Spears", 4, steps=STEPS))
    cares = {step: log_line(desk, Entry("Spears", step)).care for step in STEPS}
    told = [care.removeprefix("Care: ")[:9] for care in cares.values() if care]
    assert told == ["Blades an", "Fine dust", "Super glu"]
    assert cares["joining"] == ""  # its glues came up with assembly
    assert cares["wire cut with the saw"] == ""  # and so did blades and dust
    assert log_line(desk, Entry("Spears", "cleaning")).care == ""
    for _ in range(6):
        undo(desk)
    assert log_line(desk, Entry("Spears", "cleaning")).care.startswith("Care: Blades")


def test_a_material_is_told_the_first_time_however_it_comes_in(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    lead = f"Care: {CAUTIONS['lead'].line}"
    assert add_unit(desk, RosterRow("Riders", 2, material="metal")).care == lead
    assert add_unit(desk, RosterRow("Guard", 2, material="white metal")).care == ""
    assert set_plan(desk, "Spears", {"material": "resin"}).more.endswith(CAUTIONS["dust"].line)
    assert "Care" not in set_plan(desk, "Guard", {"material": "resin"}).more
    (note,) = import_roster(desk, [RosterRow("Imps", 3, material="printed", row=2)]).notes
    assert note.startswith(f"Care: {CAUTIONS['uncured prints'].line}")


def test_metal_counts_as_lead_until_it_is_known(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    add_unit(desk, RosterRow("Riders", 2, material="metal"))
    assert of(desk, "riders")[0] == "lead"
    assert not tonight(desk).ready[0].lead_free
    assert say_lead(desk, "riders", free=True).sentence() == "Stored: the metal of Riders holds no lead."
    assert say_lead(desk, "riders", free=True).more == "It was said before."
    assert "lead" not in of(desk, "riders")
    assert cautions(desk, "riders").lead_free
    assert tonight(desk).ready[0].lead_free
    assert desk.records().lead_free[0].said_on == date(2026, 3, 10)
    assert desk.records().as_of(date(2026, 3, 9)).lead_free == ()
    undo(desk)
    assert of(desk, "riders")[0] == "lead"
    say_lead(desk, "riders", free=True)
    say_lead(desk, "riders", free=False)
    assert of(desk, "riders")[0] == "lead"
    assert desk.records().lead_free == ()


def test_plastic_holds_no_lead_to_speak_of(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="is of no metal"):
        say_lead(with_spears(tmp_path), "Spears", free=True)


def test_a_unit_brings_the_words_of_its_recipes(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert "solvents" not in of(desk, "Spears")
    with desk.open() as store, store.change("recipe", "one"):
        keep(store, Recipe(0, "Mud", "mud"))
        keep(store, RecipeVersion(0, 1, 1))
        keep(store, RecipeStep(0, 1, 1, "base", medium="white spirit"))
        keep(store, RecipeUse(0, 1, unit_id=1))
    rows = {row.caution.hazard: row.of for row in cautions(desk, "Spears").rows}
    assert rows["solvents"] == ("white spirit",)
    assert of(desk, "varnish", unit="Spears")[0] == "sprays"  # the step that is asked for first


def test_what_nobody_knows_is_one_problem(tmp_path: Path) -> None:
    with pytest.raises(DataError, match="is no step, material, hazard or unit"):
        cautions(with_spears(tmp_path), "zzz")
    assert of(a_desk(tmp_path / "none"), "white spirit") == ["solvents"]
