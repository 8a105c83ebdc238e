"""Paints: which ran out, and the work that waits for one, checked against the forecast's own steps."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.desks import a_desk
from tests.workbench.answering import small_desk
from tracker.domain.answers import LEVELS
from tracker.domain.problems import LastcoatError
from tracker.domain.recipe_words import STEPS_OF, steps_meant
from tracker.domain.recipes import TECHNIQUES, RecipeStep
from tracker.domain.rows import RosterRow
from tracker.domain.steps import CATALOGUE
from tracker.forecast.steps_left import steps_left
from tracker.workbench.adding import add_unit
from tracker.workbench.answers import learn_pace
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.paints import list_paints, paint_back, paint_needs, paint_out
from tracker.workbench.past import undo
from tracker.workbench.recipes import add_recipe, change_recipe
from tracker.workbench.recipes_used import use_recipe


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    """Four spears with base colours in hand, two riders not begun, two recipes in use."""
    desk = small_desk(tmp_path)
    add_recipe(desk, "Red cloaks", "cloth: dark red, wash; trim: gold + bone 2:1 edge", primer="black")
    add_recipe(desk, "Rims", "rim: dark brown")
    use_recipe(desk, "Red cloaks", unit="Spears")
    use_recipe(desk, "Rims", army="Host")
    return desk


def test_every_technique_belongs_to_steps_of_the_catalogue() -> None:
    assert set(STEPS_OF) == set(TECHNIQUES)
    step = RecipeStep(0, 0, 1, "cloth", "", "red")
    meant = [steps_meant(step, is_first=True), steps_meant(step, is_first=False), *STEPS_OF.values()]
    meant += [steps_meant(step._replace(area="Rim", technique="edge"), is_first=False)]
    assert {name for names in meant for name in names} <= set(CATALOGUE)
    # Common practice, no source: what the first name of each must be.
    assert STEPS_OF["wash"][0] == "shade"
    assert STEPS_OF["edge"][0] == STEPS_OF["drybrush"][0] == "highlights"
    assert meant[0][0] == "base colours"
    assert meant[1][0] == "layering"
    assert meant[-1][0] == "base painting"
    assert steps_meant(step._replace(technique="dabbing"), is_first=True) == ()


def test_a_paint_is_out_has_a_substitute_and_comes_back(desk: Desk) -> None:
    assert paint_out(desk, "DARK red", "mid red").sentence() == (
        'Stored: "dark red" is out, "mid red" in its place.'
    )
    with pytest.raises(LastcoatError, match="is out already"):
        paint_out(desk, "dark red", "mid red")
    paint_out(desk, "dark red", "brown")
    assert paint_out(desk, "gould").sentence() == (
        'Stored: "gould" is out. No recipe names it. Did you mean "gold"?'
    )
    paints = {paint.name: paint for paint in list_paints(desk).paints}
    assert sorted(paints) == ["black", "bone", "dark brown", "dark red", "gold", "gould"]
    assert paints["dark red"][1:3] == (("Red cloaks",), ("Spears",))
    assert paints["dark brown"].units == ("Spears", "Riders")
    assert (paints["dark red"].substitute, paints["bone"].out_on) == ("brown", None)
    assert paint_back(desk, "Dark Red").sentence() == 'Stored: "dark red" is back.'
    undo(desk)
    with pytest.raises(LastcoatError, match=r'"dark rad" is not out\. Did you mean "dark red"'):
        paint_back(desk, "dark rad")


def test_the_work_is_that_of_the_steps_the_paint_stands_in(desk: Desk) -> None:
    (need,) = paint_needs(desk, "dark red").needs
    (unit,) = need.units
    assert (unit.unit, unit.recipes, unit.areas) == ("Spears", (("Red cloaks", 1),), ("cloth",))
    assert unit.steps == (("base colours", 4),)
    # One step of one unit: the forecast's own answer about it, within what two sets of draws differ.
    known = desk.records()
    left = steps_left(known, learn_pace(desk, known), desk.evening_day())
    whole = next(step for step in left.units[0].steps if step.step == "base colours").minutes
    assert whole is not None
    assert unit.minutes is not None
    assert unit.minutes == pytest.approx(whole, rel=0.15)
    assert need.minutes == unit.minutes
    # Priming is behind the spears, so nothing needs its black; two paints in one mix both count.
    assert paint_needs(desk, "black").needs[0].units == ()
    for name in ("gold", "bone"):
        assert paint_needs(desk, name).needs[0].units[0].steps == (("highlights", 4),)


def test_minutes_of_several_units_are_drawn_together(desk: Desk) -> None:
    (need,) = paint_needs(desk, "dark brown").needs
    assert [(unit.unit, unit.steps) for unit in need.units] == [
        ("Spears", (("base painting", 4),)), ("Riders", (("base painting", 2),)),
    ]  # fmt: skip
    assert need.minutes is not None
    summed = [sum(level) for level in zip(*(unit.minutes or () for unit in need.units), strict=True)]
    low, high = LEVELS.index(10), LEVELS.index(90)
    # Together a range is narrower than its parts' ends added (they do not all come out high at once).
    assert summed[low] < need.minutes[low]
    assert need.minutes[high] < summed[high]
    assert paint_needs(desk, "dark brown").needs == (need,)


def test_what_is_done_and_what_nobody_knows(desk: Desk) -> None:
    assert paint_needs(desk).needs == ()
    change_recipe(desk, "Rims", "rim: dark brown, [dabbed on] mud")
    assert paint_needs(desk, "mud").needs[0].units == ()
    use_recipe(desk, "Rims", army="Host")
    (need,) = paint_needs(desk, "mud").needs
    assert need.units[0].steps == (("base painting", 4),)
    change_recipe(desk, "Red cloaks", "hair: [dabbed on] straw")
    use_recipe(desk, "Red cloaks", unit="Riders")
    (need,) = paint_needs(desk, "straw").needs
    assert need.units[0][4:] == ((("", 2),), None)
    assert (need.minutes, need.not_known) == (None, ("Riders",))
    day = desk.today() + timedelta(days=1)
    later = desk._replace(now=lambda: desk.now() + timedelta(days=1))
    log_line(later, Entry("Spears", "base colours", models=4, day=day))
    (need,) = paint_needs(later, "dark red").needs
    assert [unit.unit for unit in need.units] == ["Riders"]
    with pytest.raises(LastcoatError, match=r'no recipe names "dark rad"\. Did you mean "dark red"'):
        paint_needs(desk, "dark rad")


def test_a_log_that_is_not_there_has_no_paints(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    assert list_paints(desk).paints == ()
    assert paint_needs(desk, "red").needs == ()
    add_unit(desk, RosterRow("Spears", 2, added=date(2026, 3, 1)))
    assert list_paints(desk).paints == ()
