"""Roles: planned, filled by a spare for an evening or for good, freed, dropped."""

from __future__ import annotations

from pathlib import Path
from typing import cast

import pytest

from tests.desks import with_spears
from tracker.domain.answers_spares import RoleStanding
from tracker.domain.keeping import StandIn
from tracker.domain.matching import Wish
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.report.unit_sheet import sheet_models_text, sheet_text
from tracker.workbench.adding import add_unit
from tracker.workbench.army import army_list, sheet
from tracker.workbench.desk import Desk
from tracker.workbench.models import leave
from tracker.workbench.past import undo
from tracker.workbench.roles import RoleSaid, add_roles, drop_role, fill_role, free_role, roles_answer
from tracker.workbench.spares import SpareSaid, new_spares
from tracker.workbench.units_shape import spares


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Two spears, a primed spare without a name and one that has one."""
    desk = with_spears(tmp_path, 2)
    new_spares(desk, 1, SpareSaid(state="primed"))
    new_spares(desk, 1, SpareSaid(name="Old Tam", base="25x25"))
    return desk


def the_role(desk: Desk, name: str) -> RoleStanding:
    (found,) = (role for role in roles_answer(desk).roles if role.role == name)
    return found


def test_an_open_role_is_no_model_and_asks_what_its_unit_has(desk: Desk) -> None:
    add_unit(desk, RosterRow("Riders", 5, kind="cavalry", base="25x50"))
    before = army_list(desk)
    assert add_roles(desk, "riders", "Horn", RoleSaid(height_mm=46.0, tags=("horn",))).sentence() == (
        "Stored: role Horn in Riders, open. An open role is no model and no backlog."
        " See who could fill it: lastcoat role match."
    )
    add_roles(desk, "Riders", "lancer", RoleSaid(kind="Character"), count=2)
    assert the_role(desk, "Horn").wish == Wish("25x50", 46.0, "cavalry", ("horn",))
    assert the_role(desk, "lancer 2").wish == Wish("25x50", None, "character")
    assert army_list(desk) == before


def test_several_roles_are_numbered_on(desk: Desk) -> None:
    add_roles(desk, "Spears", "pike", RoleSaid(), count=2)
    add_roles(desk, "Spears", "Pike", RoleSaid(), count=2)
    assert [role.role for role in roles_answer(desk, "Spears").roles] == [
        "pike 1",
        "pike 2",
        "Pike 3",
        "Pike 4",
    ]


@pytest.mark.parametrize("how", ["", "stand-in", "for good"])
def test_a_spare_fills_a_role_and_goes_back(desk: Desk, how: str) -> None:
    add_roles(desk, "Spears", "captain", RoleSaid(kind="character"))
    said = fill_role(desk, "Captain", 1, cast("StandIn", how)).sentence()
    words = {"": "", "stand-in": " as a stand-in", "for good": " for good"}[how]
    assert said.startswith(f"Stored: spare 1 fills captain in Spears{words}. Done already by its state: cle")
    role = the_role(desk, "captain")
    assert (role.model, role.model_name, role.stand_in) == (3, "captain", how)
    assert {model.number: model.kind for model in desk.records().models if model.unit_id}[3] == "character"
    shown = sheet(desk, "Spears")
    is_told = how == "stand-in"
    assert ("captain (stand-in)" in sheet_text(shown)) == is_told
    assert ("Model 3 captain (stand-in):" in sheet_models_text(shown)) == is_told
    assert free_role(desk, "captain").sentence() == (
        "Stored: the role captain in Spears is open, its model is spare 3 again."
    )
    assert the_role(desk, "captain").model is None
    back = spares(desk)[-1]
    assert (back.number, back.name, back.state) == (3, "", "primed")


def test_a_name_of_its_own_stays(desk: Desk) -> None:
    add_roles(desk, "Spears", "captain", RoleSaid())
    assert fill_role(desk, "captain", 2).sentence() == ("Stored: spare 2 (Old Tam) fills captain in Spears.")
    assert sheet(desk, "Spears").rows[2].name == "Old Tam"
    assert free_role(desk, "captain", stays=True).sentence() == (
        "Stored: the role captain in Spears is open, model 3 stays in Spears."
    )
    assert sheet(desk, "Spears").rows[2].name == "Old Tam"
    undo(desk)
    assert the_role(desk, "captain").model == 3


def test_a_role_waits_again_when_its_model_left(desk: Desk) -> None:
    add_roles(desk, "Spears", "captain", RoleSaid())
    fill_role(desk, "captain", 1, "for good")
    leave(desk, "Spears", "3", "broken")
    assert the_role(desk, "captain")[4:7] == (None, "", "")
    fill_role(desk, "captain", 2)
    assert the_role(desk, "captain").model_name == "Old Tam"


def test_a_role_is_given_up_and_its_model_stays(desk: Desk) -> None:
    add_roles(desk, "Spears", "captain", RoleSaid())
    fill_role(desk, "captain", 1)
    assert drop_role(desk, "captain").sentence() == (
        "Stored: no longer the role captain in Spears. Model 3 stays in Spears."
    )
    assert roles_answer(desk).roles == ()
    assert len(sheet(desk, "Spears").rows) == 3


def test_what_cannot_be_is_told_with_a_way_out(desk: Desk) -> None:
    add_unit(desk, RosterRow("Riders", 2))
    for unit in ("Spears", "Riders"):
        add_roles(desk, unit, "captain", RoleSaid())
    add_roles(desk, "Riders", "horn", RoleSaid())
    fill_role(desk, "horn", 1)

    def refused(words: str, *said: object) -> None:
        verb, *more = said
        with pytest.raises(DataError, match=words):
            verb(desk, *more)  # type: ignore[operator] # any verb

    refused('there is no role "captan". Did you mean "captain"', drop_role, "captan")
    refused('more than one unit. Say --unit "Spears" or "Riders"', fill_role, "captain", 2)
    refused("has a model already: model 3", fill_role, "horn", 2)
    refused("there is no spare 9. There are: 2", lambda desk: fill_role(desk, "captain", 9, unit="Spears"))
    refused('nobody has the role "captain"', lambda desk: free_role(desk, "captain", unit="Spears"))
    refused("there is a role", add_roles, "Spears", "Captain", RoleSaid())
    refused("is not a base size", add_roles, "Spears", "drum", RoleSaid(base="big"))
    refused("0 roles cannot be", lambda desk: add_roles(desk, "Spears", "x", RoleSaid(), count=0))
    refused("there is no unit", roles_answer, "Nobody")
