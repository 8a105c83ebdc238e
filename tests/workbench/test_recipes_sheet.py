"""The recipe sheet both ways: versions and uses come back exactly; twice the same file changes nothing."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from tests.cli.test_hostile_names import NAMES
from tests.desks import NOW, a_desk
from tracker.domain.problems import LastcoatError
from tracker.domain.rows import RosterRow
from tracker.domain.rows_recipes import UseRow
from tracker.domain.text import tidy
from tracker.sheets.recipes import read_recipes, write_recipes
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.recipes import add_recipe, change_recipe, copy_recipe
from tracker.workbench.recipes_known import list_recipes, show_recipe, show_unit
from tracker.workbench.recipes_sheet import export_recipes, import_recipes
from tracker.workbench.recipes_steps import StepWish, set_step
from tracker.workbench.recipes_used import use_recipe

TODAY = NOW.date()


def units(desk: Desk) -> Desk:
    """Units with names that could do harm, beside plain ones."""
    for name in ("Spears", "Ri:ders; a\\b", "2026-03-01", *map(tidy, NAMES)):
        add_unit(desk, RosterRow(name, 2, "Ho:st; 1", added=date(2026, 3, 1)))
    return desk


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Recipes of several versions, variants, uses and hostile words."""
    desk = units(a_desk(tmp_path / "one"))
    add_recipe(
        desk, "Red cloaks", "cloth: dark red, wash; trim: gold 2:1 water edge?", primer="=black", note="@x"
    )
    change_recipe(desk, "Red cloaks", "cloth: mid red", note='brighter, "much"')
    use_recipe(desk, "Red cloaks", unit="Ri:ders; a\\b")
    earlier = desk._replace(now=lambda: NOW.replace(day=1))
    use_recipe(earlier, "Red cloaks", unit="2026-03-01", version=1)
    add_recipe(desk, "Rims")
    use_recipe(desk, "Rims", army="ho:ST; 1")
    copy_recipe(desk, "Red cloaks", "Blue cloaks", version=1)
    for name in map(tidy, NAMES):
        add_recipe(desk, f"r{name}")
        wish = StepWish(name, name, name, "1:2", name, name, name, "guess", "#00ff00", name)
        set_step(desk, f"r{name}", wish)
        use_recipe(desk, f"r{name}", unit=name)
    return desk


def into(folder: Path, text: str) -> tuple[Desk, str]:
    """A new log with the same units that takes the sheet in; and what it said."""
    other = units(a_desk(folder))
    read = read_recipes(text, today=TODAY)
    assert read.problems == ()
    return other, import_recipes(other, read.rows).sentence()


def test_versions_and_uses_come_back_exactly(desk: Desk, tmp_path: Path) -> None:
    rows = export_recipes(desk)
    text = write_recipes(rows)
    read = read_recipes(text, today=TODAY)
    assert [row._replace(row=0) for row in read.rows] == list(rows)
    other, said = into(tmp_path / "two", text)
    assert said == f"Stored: {4 + 2 * len(NAMES)} recipe versions new."
    assert export_recipes(other) == rows
    assert write_recipes(export_recipes(other)) == text
    assert [look.steps for look in list_recipes(other).looks] != []
    again = import_recipes(other, read.rows)
    assert again.sentence().startswith("Nothing to store: nothing is new")
    assert export_recipes(other) == rows


def test_no_cell_begins_as_a_formula(desk: Desk) -> None:
    import csv
    import io

    cells = [
        cell for row in list(csv.reader(io.StringIO(write_recipes(export_recipes(desk)))))[1:] for cell in row
    ]
    # OWASP, "CSV Injection": a cell must not begin with one of these signs.
    assert not [cell for cell in cells if cell[:1] in tuple("=+-@\t\r")]


def test_a_sheet_by_hand_needs_little(tmp_path: Path) -> None:
    text = "recipe,area,paint,units\nRed cloaks,cloth,dark red,Spears\nRed cloaks,trim,gold,\n"
    other, said = into(tmp_path, text)
    assert said == "Stored: 1 recipe version new."
    assert [step.place for step in show_recipe(other, "Red cloaks").steps] == [1, 2]
    assert show_unit(other, "Spears").looks[0].version.number == 1
    more = text + "Red cloaks,,,\n"
    assert read_recipes(more, today=TODAY).problems == ()


def test_a_known_version_cannot_say_something_else(desk: Desk) -> None:
    rows = list(export_recipes(desk))
    first = rows[0]
    assert first.step is not None
    rows[0] = first._replace(step=first.step._replace(paint="blue"), row=2)
    with pytest.raises(LastcoatError, match='row 2: "Red cloaks" version 1 says something else in the log'):
        import_recipes(desk, rows)
    new = first._replace(version=9, units=(UseRow("", "Spears"),), row=2)
    done = import_recipes(desk, [new], dry_run=True)
    assert (done.added, len(show_recipe(desk, "Red cloaks").versions)) == (1, 2)
    import_recipes(desk, [new])
    assert [one.number for one in show_recipe(desk, "Red cloaks").versions] == [1, 2, 9]
    assert show_unit(desk, "Ri:ders; a\\b").looks[0].version.number == 2
    moved = import_recipes(desk, [new._replace(units=(UseRow("", "Ri:ders; a\\b"),), note="")])
    assert moved.sentence() == "Stored: 1 recipe version changed, 1 recipe version known already."
    assert show_unit(desk, "Ri:ders; a\\b").looks[0].version.number == 9


def test_a_problem_names_its_row(desk: Desk) -> None:
    bad = [
        ("Red cloaks,,,,", ""),
        (",cloth,red,,", "recipe is empty"),
        ("x,,red,,", "area is empty"),
        ("x,cloth,,,", "the step has no paint and no technique"),
        ("x,cloth,red,2 to 1,", 'mix is "2 to 1"'),
        ("x,cloth,red,,a: b: c", 'units "a:  b:  c" cannot be read'),
        ("x,cloth,red,,Spears: 2026-02-30", "units: 2026-02-30 cannot be"),
    ]
    for row, what in bad:
        problems = read_recipes(f"recipe,area,paint,mix,units\n{row}\n", today=TODAY).problems
        assert [problem.what for problem in problems] == ([what] if what else [])
        assert all(problem.where == "row 2" for problem in problems)
    head = "recipe,area,paint,primer,version\nx,cloth,red,black,1\n"
    (problem,) = read_recipes(f"{head}x,trim,gold,white,1\n", today=TODAY).problems
    assert problem[:2] == ("row 3", "primer is not as in row 2 of the same version")
    for text, what in (
        ("recipe,area,paint,units\nx,cloth,red,Nobody\n", 'there is no unit "Nobody"'),
        ("recipe,area,paint,like\nx,cloth,red,Green\n", 'there is no version 1 of "Green" to be like'),
        ("recipe,area,paint,version\nRed cloaks,cloth,red,1\n", "says something else"),
    ):
        with pytest.raises(LastcoatError, match=f"row 2: .*{what}"):
            import_recipes(desk, read_recipes(text, today=TODAY).rows)
        assert import_recipes(desk, read_recipes(text, today=TODAY).rows, keep_good=True).problems
