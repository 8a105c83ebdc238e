"""The verbs of recipes: a unit goes on saying what it was painted with, whatever is written later."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from tests.desks import a_desk, with_spears
from tracker.domain.problems import LastcoatError
from tracker.domain.rows import RosterRow
from tracker.sheets.recipe_written import write_recipe_text
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import undo
from tracker.workbench.recipes import add_recipe, change_recipe, copy_recipe, drop_recipe
from tracker.workbench.recipes_known import list_recipes, show_recipe, show_unit
from tracker.workbench.recipes_steps import StepWish, set_step
from tracker.workbench.recipes_used import recipe_from_log, stop_using, use_recipe

CLOAKS = "cloth: dark red, wash, mid red 2:1 water, orange edge?"


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Spears and riders, and one recipe."""
    desk = with_spears(tmp_path)
    add_unit(desk, RosterRow("Riders", 5, "Host"))
    add_recipe(desk, "Red cloaks", CLOAKS, primer="black")
    return desk


def text_of(desk: Desk, name: str, version: int | None = None) -> str:
    return write_recipe_text(show_recipe(desk, name, version).steps)


def used_by(desk: Desk, unit: str) -> list[tuple[str, int]]:
    return [(look.recipe.name, look.version.number) for look in show_unit(desk, unit).looks]


def test_a_unit_stays_with_the_version_it_was_painted_with(desk: Desk) -> None:
    change_recipe(desk, "red CLOAKS", "cloth: dark red, wash, bright red layer", note="brighter")
    use_recipe(desk, "Red cloaks", unit="Spears", version=2)
    before = show_recipe(desk, "Red cloaks", 2).steps
    change_recipe(desk, "Red cloaks", "trim: gold")
    change_recipe(desk, "Red cloaks", primer="white")
    done = change_recipe(desk, "Red cloaks", without=["trim"])
    assert done.sentence() == (
        'Stored: the recipe "Red cloaks", version 5. What is painted with an older version stays with it.'
    )
    assert used_by(desk, "Spears") == [("Red cloaks", 2)]
    assert show_unit(desk, "Spears").looks[0].steps == before
    moved = use_recipe(desk, "Red cloaks", unit="Spears")
    assert moved.sentence() == (
        'Stored: Spears was painted with "Red cloaks" version 2; now version 5. Undo takes it back.'
    )
    undo(desk)
    assert used_by(desk, "Spears") == [("Red cloaks", 2)]
    look = show_recipe(desk, "Red cloaks")
    assert [version.note for version in look.versions] == ["", "brighter", "", "", ""]
    assert (look.version.primer, look.is_newest) == ("white", True)


def test_a_copy_leaves_the_original_alone_and_keeps_it(desk: Desk) -> None:
    before = show_recipe(desk, "Red cloaks")
    copy_recipe(desk, "Red cloaks", "Blue cloaks", "cloth: dark blue, wash; trim: silver", primer="grey")
    after = show_recipe(desk, "Red cloaks")
    assert after._replace(variants=()) == before
    assert after.variants == ("Blue cloaks",)
    blue = show_recipe(desk, "Blue cloaks")
    assert blue.like == ("Red cloaks", 1)
    assert text_of(desk, "Blue cloaks") == "cloth: dark blue, wash; trim: silver"
    with pytest.raises(LastcoatError, match='"Blue cloaks" came from "Red cloaks"'):
        drop_recipe(desk, "Red cloaks")
    drop_recipe(desk, "Blue cloaks")
    drop_recipe(desk, "Red cloaks")
    assert list_recipes(desk).looks == ()


def test_what_is_painted_with_it_keeps_a_recipe(desk: Desk) -> None:
    use_recipe(desk, "Red cloaks", army="host")
    use_recipe(desk, "Red cloaks", unit="Riders")
    with pytest.raises(LastcoatError, match="2 units and armies are painted with"):
        drop_recipe(desk, "Red cloaks")
    stop_using(desk, "Red cloaks", army="Host")
    assert used_by(desk, "Riders") == [("Red cloaks", 1)]
    stop_using(desk, "Red cloaks", unit="Riders")
    assert drop_recipe(desk, "Red cloaks").sentence() == 'Stored: no longer the recipe "Red cloaks".'
    undo(desk)
    assert text_of(desk, "Red cloaks") == CLOAKS


def test_an_area_said_anew_keeps_what_a_line_cannot_say(desk: Desk) -> None:
    set_step(
        desk, "Red cloaks", StepWish(tool="big brush", sheen="Matt", swatch="#7A1F1F", reminder="thin"), of=1
    )
    change_recipe(desk, "Red cloaks", "CLOTH: wash, Dark Red??, orange edge")
    wash, red, edge = show_recipe(desk, "Red cloaks").steps
    assert (red.tool, red.sheen, red.swatch, red.reminder) == ("big brush", "matt", "#7a1f1f", "thin")
    assert (red.certainty, red.area, wash.technique, edge.certainty) == ("guess", "cloth", "wash", "sure")


def test_steps_go_in_change_and_go_out(desk: Desk) -> None:
    set_step(desk, "Red cloaks", StepWish("trim", "layered", "gold"), note="trim")
    set_step(desk, "Red cloaks", StepWish("cloth", paint="black"), at=1)
    set_step(desk, "Red cloaks", StepWish("cloth", "glaze", "red", "1:4", "ink"))
    set_step(desk, "Red cloaks", StepWish(), out=3)
    assert text_of(desk, "Red cloaks") == (
        "cloth: black, dark red, mid red 2:1 water, orange edge?, red 1:4 ink glaze; trim: gold layer"
    )
    assert text_of(desk, "Red cloaks", 1) == CLOAKS
    assert [step.place for step in show_recipe(desk, "Red cloaks").steps] == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize(
    ("wish", "more", "what"),
    [
        (StepWish(), {}, "nothing is said"),
        (StepWish("cloth"), {}, "a step needs a paint or a technique"),
        (StepWish(paint="red"), {}, "it is not said"),
        (StepWish("cloth", paint="red", mix="two to one"), {}, "is no mix"),
        (StepWish("cloth", paint="red", swatch="red"), {}, "is no colour"),
        (StepWish("cloth", paint="red", certainty="maybe"), {}, "is none"),
        (StepWish("cloth", paint="red"), {"at": 9}, "9 is no place"),
        (StepWish("cloth", paint="red"), {"of": 9}, "there is no step 9"),
        (StepWish("cloth", paint="red"), {"at": 1, "of": 1}, "it asks for several things"),
        (StepWish("cloth", paint="red"), {"out": 1}, "needs no more words"),
        (StepWish(tool=""), {"of": 1}, "says that already"),
    ],
)
def test_a_step_that_cannot_be_is_refused(
    desk: Desk, wish: StepWish, more: dict[str, Any], what: str
) -> None:
    with pytest.raises(LastcoatError, match=what):
        set_step(desk, "Red cloaks", wish, **more)
    assert len(show_recipe(desk, "Red cloaks").versions) == 1


def test_a_recipe_from_the_notes_of_a_unit(desk: Desk) -> None:
    for day, note in (
        (3, "cloth: dark red"),
        (4, "rained all day; mood: fine; cloth: dark red, wash"),
        (5, "cloth: orange edge?\nplumes: white 1:1 water"),
    ):
        log_line(desk, Entry("Spears", "base colours", models=1, note=note, day=date(2026, 3, day)))
    done = recipe_from_log(desk, "spears")
    assert done.sentence() == (
        'Stored: Spears is painted with "Spears" version 1. From 3 notes: '
        "cloth: dark red, wash, orange edge?; plumes: white 1:1 water."
    )
    with pytest.raises(LastcoatError, match="they say nothing that"):
        recipe_from_log(desk, "Spears")
    log_line(desk, Entry("Spears", "shade", models=1, note="trim: gold, wash", day=date(2026, 3, 6)))
    assert 'painted with "Spears" version 1; now version 2.' in recipe_from_log(desk, "Spears").sentence()
    assert text_of(desk, "Spears").endswith("; trim: gold, wash")
    recipe_from_log(desk, "Spears", name="Red cloaks")
    assert used_by(desk, "Spears") == [("Red cloaks", 2), ("Spears", 2)]
    with pytest.raises(LastcoatError, match="no note of"):
        recipe_from_log(desk, "Riders")


def test_mistakes_store_nothing(desk: Desk) -> None:
    before = list_recipes(desk)
    mistakes: list[tuple[str, Any]] = [
        ('there is a recipe "RED cloaks" already', lambda: add_recipe(desk, "RED cloaks")),
        ("the name is empty", lambda: add_recipe(desk, " ")),
        ("names no area", lambda: add_recipe(desk, "Other", "dark red")),
        ('Did you mean "Red cloaks"', lambda: change_recipe(desk, "Red cloak", "cloth: red")),
        ("says that already", lambda: change_recipe(desk, "Red cloaks", CLOAKS)),
        (
            '"horse" is not in it. Its areas: cloth',
            lambda: change_recipe(desk, "Red cloaks", without=["horse"]),
        ),
        ("has no version 3. It has 1", lambda: use_recipe(desk, "Red cloaks", unit="Spears", version=3)),
        ("nothing is said", lambda: use_recipe(desk, "Red cloaks")),
        ("there is no army", lambda: use_recipe(desk, "Red cloaks", army="Hosts")),
        ("Spears is not painted with", lambda: stop_using(desk, "Red cloaks", unit="Spears")),
        ("there is a recipe", lambda: copy_recipe(desk, "Red cloaks", "red cloaks")),
        ("not UTF-8", lambda: add_recipe(desk, "x", "cloth: \ud800")),
    ]
    for what, verb in mistakes:
        with pytest.raises(LastcoatError, match=what):
            verb()
    assert list_recipes(desk) == before


def test_no_log_has_no_recipes_and_the_first_one_makes_it(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    assert list_recipes(desk).looks == ()
    add_recipe(desk, "Rims")
    set_step(desk, "Rims", StepWish("rim", paint="dark brown"))
    assert text_of(desk, "Rims") == "rim: dark brown"
    assert show_recipe(desk, "Rims", 1).steps == ()
