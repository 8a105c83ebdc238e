"""The planted best spare is first; each distinct look is judged once; a spare wanted twice is flagged."""

from __future__ import annotations

from pathlib import Path

import pytest

from demo_db.spares import ROLES, drawers
from tests.desks import a_desk, with_spears
from tracker.domain.matching import Judge, Look, Wish, best_fits
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.report.match_words import match_text
from tracker.workbench.adding import add_unit
from tracker.workbench.matching import match_roles, match_wish
from tracker.workbench.roles import RoleSaid, add_roles, fill_role
from tracker.workbench.roles_sheet import import_roles
from tracker.workbench.spares import SpareSaid, new_spares
from tracker.workbench.spares_sheet import import_spares

SHIPPED_SEED = 27


def test_on_the_demos_spares_the_planted_one_is_first_for_every_role(tmp_path: Path) -> None:
    desk, known = a_desk(tmp_path), drawers(SHIPPED_SEED)
    for unit in dict.fromkeys(role.unit for role in ROLES):
        add_unit(desk, RosterRow(unit, 1, known.roles[0].army))
    assert import_spares(desk, [spare._replace(added=None) for spare in known.spares]).added == 40
    assert import_roles(desk, known.roles).added == len(ROLES)
    answer = match_roles(desk)
    assert {one.role.role: one.offers[0].spare.number for one in answer.roles} == known.planted
    assert all(one.also_best_for == () for one in answer.roles)
    assert answer.spares == 40


@pytest.mark.parametrize("block", range(4))
def test_of_200_drawers_the_planted_one_is_first_for_every_role(block: int) -> None:
    for seed in range(block * 50, block * 50 + 50):
        known = drawers(seed)
        looks = [
            Look(spare.base, spare.height_mm, spare.kind, spare.part, spare.tags, spare.number or 0)
            for spare in known.spares
        ]
        for role in known.roles:
            wish = Wish(role.base, role.height_mm, role.kind, role.tags)
            assert best_fits(wish, looks)[0].look.first == known.planted[role.role], (seed, role.role)


def test_each_look_is_judged_once_however_many_spares_have_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    desk = with_spears(tmp_path, 1)
    add_roles(desk, "Spears", "pike", RoleSaid("infantry", "20x20", 28.0, ("spear",)), count=3)
    judged: list[Look] = []
    score = Judge.score

    def counted(judge: Judge, look: Look) -> float:
        judged.append(look)
        return score(judge, look)

    monkeypatch.setattr(Judge, "score", counted)
    counts = []
    for _ in range(2):
        for base in ("20x20", "25x25"):
            new_spares(desk, 30, SpareSaid(base=base, kind="infantry"))
        judged.clear()
        answer = match_roles(desk)
        counts.append(len(judged))
        assert answer.looks == 2
    assert counts[0] == counts[1] <= 8  # three roles that ask the same, two looks, and why each of them
    first, second = answer.roles[0].offers
    assert (first.spare.number, first.alike, second.spare.number) == (1, 60, 31)


def test_a_spare_that_is_best_for_two_roles_is_flagged_and_ties_are_explained(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 1)
    new_spares(desk, 1, SpareSaid(name="Old Tam", base="25x25", height_mm=30.0, tags=("sword", "cloak")))
    for height in (31.0, 29.0):
        new_spares(desk, 1, SpareSaid(base="20x20", height_mm=height, place="drawer 2", state="built"))
    for role in ("captain", "champion"):
        add_roles(desk, "Spears", role, RoleSaid("", "25x25", 30.0, ("sword", "cloak")))
    text = " ".join(match_text(match_roles(desk)).split())
    assert "Base 25x25 as wanted, as tall as wanted, sword and cloak." in text
    assert "Spare 1 is also best for Spears: champion: it can fill only one of them." in text
    assert (
        "2 model, built, drawer 2: would do. Base 20x20 stands in its place with room to spare, 1 mm taller"
        in text
    )
    assert "As good as 2 in base, height, equipment and kind: the lower number stands first." in text


def test_only_open_roles_are_matched(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 1)
    assert match_roles(desk).roles == ()
    new_spares(desk, 2, SpareSaid(base="20x20"))
    for role in ("captain", "horn"):
        add_roles(desk, "Spears", role, RoleSaid())
    fill_role(desk, "horn", 1)
    assert [one.role.role for one in match_roles(desk).roles] == ["captain"]
    with pytest.raises(DataError, match='has the role "horn"'):
        match_roles(desk, "horn")
    (one,) = match_roles(desk, "captain", unit="Spears", most=1).roles
    assert [offer.spare.number for offer in one.offers] == [2]


def test_spares_are_found_by_what_they_should_be(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 1)
    new_spares(desk, 1, SpareSaid(base="25x50", kind="cavalry"))
    new_spares(desk, 1, SpareSaid(base="20x20", tags=("bow",)))
    (found,) = match_wish(desk, RoleSaid(base="20x20", tags=("bow",))).roles
    assert [offer.spare.number for offer in found.offers] == [2, 1]
    assert match_text(match_wish(desk, RoleSaid(base="20x20"))).startswith("Most like 20x20:")
    with pytest.raises(DataError, match="nothing is asked for"):
        match_wish(desk, RoleSaid())
