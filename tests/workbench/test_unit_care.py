"""The care of units: every act is stored whole, says what it was, and can be taken back."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from tests.desks import a_desk
from tracker.domain.problems import DataError, LastcoatError, UsageError
from tracker.domain.progress import Progress, alive, progress_of
from tracker.domain.records import Records, Unit
from tracker.domain.routes import usual_route
from tracker.domain.rows import RosterRow
from tracker.domain.work import work_left
from tracker.workbench.adding import Figure, add_spares, add_unit
from tracker.workbench.answers import backlog
from tracker.workbench.desk import Desk
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.past import redo, undo
from tracker.workbench.routing import RouteWish, change_route
from tracker.workbench.units_models import ModelWish, add_step_for, change_models
from tracker.workbench.units_plan import Changed, move, rename, set_order, set_plan
from tracker.workbench.units_shape import give_role, merge, retire, spares, split, to_spares

MARCH_1, MARCH_3 = date(2026, 3, 1), date(2026, 3, 3)


@pytest.fixture
def desk(tmp_path: Path) -> Desk:
    desk = a_desk(tmp_path)
    for name, models, army in (("Spears", 10, "My army"), ("Riders", 4, "My army"), ("Bows", 5, "North")):
        row = RosterRow(name, models, army=army, points=100.0, guess_minutes=600.0, added=MARCH_1)
        add_unit(desk, row, figures=[Figure("Tom")] if name == "Riders" else [])
    log_line(desk, Entry("Spears", "cleaning", models=6, minutes=60.0, day=MARCH_3))
    log_line(desk, Entry("Spears", "assembly", models=2, minutes=20.0, day=MARCH_3, finished=False))
    add_spares(desk, 3, kind="infantry")
    return desk


def unit(known: Records, name: str) -> Unit:
    return next(unit for unit in known.units if unit.name == name)


def order(desk: Desk) -> list[str]:
    return [work.unit.name for work in work_left(desk.records())]


ACTS: dict[str, Callable[[Desk], Changed]] = {
    "Spears is now Long Spears": lambda d: rename(d, "Spears", "Long Spears"),
    "Spears is now Spears in North": lambda d: rename(d, "Spears", "Spears", new_army="North"),
    "Spears: goal date Fri 1 May, goal a game": lambda d: set_plan(
        d, "Spears", {"goal_date": date(2026, 5, 1), "goal": "a game"}
    ),
    "Riders is number 1 in the order": lambda d: set_order(d, "Riders", 1),
    "Bows is number 2 in the order": lambda d: move(d, "Bows", -1),
    "2 models of Spears became Old, 8 models stayed": lambda d: split(d, "Spears", "1-2", "Old"),
    "Riders joined Spears with 4 models": lambda d: merge(d, "Riders", "Spears"),
    "Bows retired, 5 models sold (Tue 10 Mar)": lambda d: retire(d, "Bows"),
    "1 model of Riders became spares": lambda d: to_spares(d, "Riders", "Tom"),
    "2 spares joined Riders": lambda d: give_role(d, [1, 3], "Riders"),
    "Riders 1-2: note blue, part rider": lambda d: change_models(
        d, "Riders", "1-2", ModelWish(part="rider", note="blue")
    ),
    "Spears 1: step freehand, the others skip it": lambda d: add_step_for(d, "Spears", "1", "freehand"),
}  # fmt: skip


@pytest.mark.parametrize("words", ACTS)
def test_every_act_says_what_it_was_and_can_be_taken_back(desk: Desk, words: str) -> None:
    before = desk.records()
    done = ACTS[words](desk)
    assert done.words() == words
    assert done.sentence().startswith(f"Stored: {words}.")
    after = desk.records()
    assert after != before
    assert words in undo(desk).sentence("Taken back")
    assert desk.records() == before
    redo(desk)
    assert desk.records() == after


@pytest.mark.parametrize(
    ("act", "said"),
    [
        (lambda d: rename(d, "Spears", "Riders"), "already"),
        (lambda d: rename(d, "Spers", "X"), 'Did you mean "Spears"'),
        (lambda d: rename(d, "Spears", "  "), "empty"),
        (lambda d: set_plan(d, "Spears", {"colour": "red"}), "nothing to set"),
        (lambda d: set_plan(d, "Spears", {"finish_line": "nonsense"}), "not on the route"),
        (lambda d: set_plan(d, "Spears", {"points": -1.0}), "cannot be"),
        (lambda d: set_plan(d, "Spears", {"base": "huge"}), "not a base size"),
        (lambda d: set_order(d, "Spears", 0), "1 = do first"),
        (lambda d: split(d, "Spears", "all", "Rest"), "the whole unit"),
        (lambda d: split(d, "Spears", "1-2", "Riders"), "already"),
        (lambda d: split(d, "Spears", "11", "Rest"), "It has 1-10"),
        (lambda d: split(d, "Spears", "last 11", "Rest"), "no models of"),
        (lambda d: merge(d, "Spears", "Spears"), "cannot join itself"),
        (lambda d: retire(d, "Spears", "eaten"), "no way to leave"),
        (lambda d: retire(d, "Spears", day=date(2026, 3, 11)), "future"),
        (lambda d: give_role(d, [9], "Spears"), "there is no spare 9. There are: 1, 2, 3"),
        (lambda d: give_role(d, [1, 2], "Spears", name="Ann"), "one name for several"),
        (lambda d: change_models(d, "Spears", "1-2", ModelWish(name="Ann")), "one name for several"),
        (lambda d: change_models(d, "Spears", "1", ModelWish()), "nothing is said"),
        (lambda d: add_step_for(d, "Spears", "1", "cleaning"), "already"),
    ],
)
def test_what_cannot_be_is_one_clear_line_and_changes_nothing(
    desk: Desk, act: Callable[[Desk], Changed], said: str
) -> None:
    before = desk.records()
    with pytest.raises(LastcoatError) as refusal:
        act(desk)
    assert isinstance(refusal.value, DataError | UsageError)
    assert said in str(refusal.value)
    assert "\n" not in str(refusal.value)
    assert desk.records() == before


def test_a_unit_can_only_be_renamed_in_capitals_too(desk: Desk) -> None:
    rename(desk, "Spears", "SPEARS")
    assert unit(desk.records(), "SPEARS").points == 100


def test_another_standard_changes_the_usual_route_and_keeps_ones_own(desk: Desk) -> None:
    done = set_plan(desk, "Riders", {"standard": "quick"})
    assert "Its steps are now: cleaning, assembly" in done.sentence()
    assert unit(desk.records(), "Riders").route == usual_route("infantry", "quick")
    change_route(desk, "Bows", RouteWish(dropped=("tufts",)))
    own = unit(desk.records(), "Bows").route
    assert set_plan(desk, "Bows", {"standard": "good"}).more == ""
    assert unit(desk.records(), "Bows").route == own


def test_a_plan_is_taken_away_again(desk: Desk) -> None:
    set_plan(desk, "Spears", {"goal_date": date(2026, 5, 1), "finish_line": "varnish", "files": 5})
    assert unit(desk.records(), "Spears").finish_line == "varnish"
    fields = {"goal_date": None, "finish_line": None, "points": None, "files": None}
    assert "goal date none" in set_plan(desk, "Spears", fields).words()
    known = unit(desk.records(), "Spears")
    assert (known.goal_date, known.finish_line, known.points, known.files) == (None, "", None, None)


def test_the_order_is_the_persons(desk: Desk) -> None:
    assert order(desk) == ["Spears", "Riders", "Bows"]
    move(desk, "Bows", -1)
    assert order(desk) == ["Spears", "Bows", "Riders"]
    move(desk, "Spears", -1)
    assert order(desk) == ["Spears", "Bows", "Riders"]
    set_order(desk, "Riders", 1)
    assert order(desk) == ["Riders", "Spears", "Bows"]
    move(desk, "Riders", 1)
    assert order(desk) == ["Spears", "Riders", "Bows"]
    set_order(desk, "Spears", 99)
    assert order(desk) == ["Riders", "Bows", "Spears"]
    assert "no place" in set_order(desk, "Riders", None).words()
    assert order(desk) == ["Bows", "Spears", "Riders"]


def where(known: Records, name: str, progress: Progress) -> list[list[str]]:
    found = unit(known, name)
    return [
        [step for step in found.route if progress.is_done(model.id, step)]
        for model in alive(known.models, found.id)
    ]


def test_what_was_done_goes_with_the_models(desk: Desk) -> None:
    split(desk, "Spears", "1-4", "Old Spears")
    known = desk.records()
    progress = progress_of(known)
    assert where(known, "Old Spears", progress) == [["cleaning"]] * 4
    old = alive(known.models, unit(known, "Old Spears").id)
    assert [progress.in_hand(model.id, "assembly") for model in old] == [True, True, False, False]
    assert where(known, "Spears", progress) == [["cleaning"]] * 2 + [[]] * 4
    assert (unit(known, "Old Spears").points, unit(known, "Spears").points) == (40, 60)
    assert unit(known, "Old Spears").added_on == MARCH_1
    # The one line that counts both goes on saying so; the log itself is not rewritten.
    assert len(known.lines) == 2
    assert log_line(desk, Entry("Old Spears", "assembly", models=4)).models_left == 0
    with pytest.raises(DataError, match="has 0 left"):
        log_line(desk, Entry("Old Spears", "cleaning", models=1))


def test_a_step_renamed_in_the_old_unit_does_not_touch_the_new_one(desk: Desk) -> None:
    split(desk, "Spears", "1-4", "Old Spears")
    change_route(desk, "Spears", RouteWish(renamed=(("cleaning", "scrubbing"),)))
    known = desk.records()
    assert where(known, "Old Spears", progress_of(known)) == [["cleaning"]] * 4
    assert where(known, "Spears", progress_of(known))[:2] == [["scrubbing"]] * 2


def test_a_split_leaves_the_course_of_the_backlog(desk: Desk) -> None:
    before = [(day.date, day.models) for day in backlog(desk).days]
    split(desk, "Spears", "1-4", "Old Spears")
    assert [(day.date, day.models) for day in backlog(desk).days] == before


def test_joined_units_are_one_with_all_that_was_logged(desk: Desk) -> None:
    set_plan(desk, "Riders", {"kind": "cavalry"})
    log_line(desk, Entry("Riders", "cleaning", models=2, minutes=10.0))
    merge(desk, "Riders", "Spears")
    known = desk.records()
    assert [one.name for one in known.units] == ["Spears", "Bows"]
    assert {line.unit_id for line in known.lines} == {unit(known, "Spears").id}
    models = alive(known.models, unit(known, "Spears").id)
    assert [model.number for model in models] == list(range(1, 15))
    assert [model.kind for model in models] == [""] * 10 + ["cavalry"] * 4
    assert where(known, "Spears", progress_of(known))[10:] == [["cleaning"]] * 2 + [[]] * 2
    assert log_line(desk, Entry("Spears", "cleaning", models="all")).models == 6


def test_spares_come_and_go(desk: Desk) -> None:
    assert [spare.number for spare in spares(desk)] == [1, 2, 3]
    give_role(desk, [2], "Riders", name="Ann")
    assert [spare.number for spare in spares(desk)] == [1, 3]
    assert [model.name for model in alive(desk.records().models, 2)] == ["Tom", "", "", "", "Ann"]
    to_spares(desk, "Spears", "last 2")
    assert [spare.number for spare in spares(desk)] == [1, 3, 4, 5]


def test_a_step_for_one_model_is_skipped_by_the_others(desk: Desk) -> None:
    add_step_for(desk, "Riders", "Tom", "gems", after="highlights")
    known = desk.records()
    riders = unit(known, "Riders")
    assert riders.route[riders.route.index("highlights") + 1] == "gems"
    progress = progress_of(known)
    assert [progress.is_done(model.id, "gems") for model in alive(known.models, riders.id)] == [
        False, True, True, True,
    ]  # fmt: skip


def test_a_name_is_taken_away_again(desk: Desk) -> None:
    assert change_models(desk, "Riders", "Tom", ModelWish(name="")).words() == "Riders 1: name none"
    assert desk.records().models[10].name == ""
