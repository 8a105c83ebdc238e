"""Spares: brought in, noted, found, taken by a unit with what their state says; and never backlog."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.desks import a_desk, with_spears
from tests.workbench.answering import TODAY, small_desk
from tracker.domain.problems import DataError
from tracker.domain.records import Mark
from tracker.domain.spares import Spare
from tracker.workbench.answers import backlog, forecast
from tracker.workbench.army import army_list, sheet
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import undo
from tracker.workbench.spares import SpareSaid, new_spares, note_spares, spares_answer
from tracker.workbench.units_shape import give_role, spares, to_spares

LOOKS = SpareSaid(
    name="spearman", kind="Infantry", base="20x20", height_mm=28.0, material="metal", state="Primed",
    place="drawer 2", tags=("spear", " Spear ", "shield"), note="bent pike",
)  # fmt: skip


def test_spares_come_in_with_all_that_is_noted(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    assert new_spares(desk, 2, LOOKS).sentence() == (
        "Stored: 2 spares 1-2 (spearman, infantry). Kept, and no backlog until a unit takes them."
    )
    first, second = spares(desk)
    assert first == Spare(
        1, "infantry", "spearman", "bent pike", date(2026, 3, 10), "", "20x20", 28.0, "metal", "primed",
        "drawer 2", ("spear", "shield"),
    )  # fmt: skip
    assert second == first._replace(number=2)
    undo(desk)
    assert spares(desk) == ()


def test_notes_change_what_is_said_and_nothing_else(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    new_spares(desk, 3, LOOKS)
    said = SpareSaid(place="box", note="", no_height=True, more_tags=("hat",), less_tags=("SPEAR",))
    assert note_spares(desk, "1, 3", said).sentence() == (
        "Stored: 2 spares 1, 3: no note, place box, no height, tag hat, no tag SPEAR."
    )
    one, two, _ = spares(desk)
    assert one == two._replace(number=1, place="box", note="", height_mm=None, tags=("shield", "hat"))


def test_spares_that_were_models_are_noted_too(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 3)
    to_spares(desk, "Spears", "2-3")
    note_spares(desk, "all", SpareSaid(part="rider"))
    assert [spare.part for spare in spares(desk)] == ["rider", "rider"]


def test_spares_are_shown_by_words_or_numbers(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    assert spares_answer(desk).kept == 0
    new_spares(desk, 2, LOOKS)
    new_spares(desk, 1, SpareSaid(kind="cavalry"))
    assert [spare.number for spare in spares_answer(desk, ("DRAWER", "spear")).spares] == [1, 2]
    assert [spare.number for spare in spares_answer(desk, ("2-9",)).spares] == [2, 3]
    assert spares_answer(desk, ("nothing",)) == (date(2026, 3, 10), (), 3)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        (SpareSaid(base="round"), "is not a base size"),
        (SpareSaid(height_mm=-1.0), "-1 mm cannot be"),
        (SpareSaid(height_mm=float("nan")), "nan mm cannot be"),
        (SpareSaid(state="glued"), '"glued" is no state'),
        (SpareSaid(place="x" * 1001), "it has 1001 letters"),
        (SpareSaid(tags=tuple(map(str, range(51)))), "51 words cannot be"),
        (SpareSaid(), "nothing is said"),
    ],
)
def test_what_cannot_be_noted_is_one_line_and_stores_nothing(
    tmp_path: Path, said: SpareSaid, words: str
) -> None:
    desk = a_desk(tmp_path)
    new_spares(desk, 1, LOOKS)
    before = spares(desk)
    with pytest.raises(DataError, match=words):
        note_spares(desk, "1", said)
    assert spares(desk) == before


def test_unknown_spares_are_refused_with_those_that_are_there(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    new_spares(desk, 3, LOOKS)
    for numbers, words in (("7", "there is no spare 7. There are: 1-3"), ("two", "are no numbers")):
        with pytest.raises(DataError, match=words):
            note_spares(desk, numbers, SpareSaid(place="box"))
    with pytest.raises(DataError, match="0 models cannot be"):
        new_spares(desk, 0, LOOKS)


def done_steps(desk: Desk, unit: str, number: int) -> list[str]:
    found = sheet(desk, unit)
    (row,) = (row for row in found.rows if row.number == number)
    both = zip(found.steps, row.cells, strict=True)
    return [step for step, cell in both if cell.state in ("done", "drying")]


def test_a_taken_spare_has_the_steps_of_its_state_behind_it(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 1)
    new_spares(desk, 1, SpareSaid(state="primed", part="rider"))
    new_spares(desk, 1, SpareSaid(state="bare"))
    assert give_role(desk, [1, 2], "Spears").sentence() == (
        "Stored: 2 spares joined Spears. Done already by their state: cleaning (1 model),"
        " assembly (1 model), base texture (1 model), priming (1 model)."
    )
    assert done_steps(desk, "Spears", 2) == ["cleaning", "assembly", "base texture", "priming"]
    assert done_steps(desk, "Spears", 3) == []
    assert sheet(desk, "Spears").rows[1].part == "rider"
    undo(desk)
    assert [spare.state for spare in spares(desk)] == ["primed", "bare"]


def test_a_mark_or_a_line_says_more_than_a_state(tmp_path: Path) -> None:
    desk = with_spears(tmp_path, 2)
    log_line(desk, Entry("Spears", "cleaning", models=1, minutes=5.0, finished=False))
    to_spares(desk, "Spears", "1")
    note_spares(desk, "1", SpareSaid(state="built"))
    give_role(desk, [1], "Spears")
    # Its cleaning was logged as in hand: that stays.
    assert done_steps(desk, "Spears", 3) == ["assembly"]
    marks = [mark for mark in desk.records().marks if mark.model_id == 1]
    assert [mark.step for mark in marks] == ["cleaning", "assembly"]
    assert isinstance(marks[0], Mark)


def test_fifty_spares_are_no_backlog(tmp_path: Path) -> None:
    desk = small_desk(tmp_path)

    def told(draws: int = 100) -> tuple[object, ...]:
        units = army_list(desk).units
        return units, forecast(desk, TODAY, draws=draws), backlog(desk, TODAY, draws=draws)

    before = told()
    new_spares(desk, 50, LOOKS._replace(state="bare"), day=date(2026, 10, 1))
    assert told() == before
    assert army_list(desk).spares == 50
