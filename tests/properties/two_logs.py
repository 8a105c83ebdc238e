"""Two logs that were one: a strategy of edits by the workbench's own verbs, and what identifies a row."""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from contextlib import suppress
from datetime import date
from functools import cache
from pathlib import Path
from typing import NamedTuple

from hypothesis import strategies as st

from tests.desks import NOW
from tracker.domain.problems import LastcoatError
from tracker.domain.rows import RosterRow
from tracker.store.migrations import back_up
from tracker.workbench.adding import add_spares, add_unit
from tracker.workbench.declared import plan_away
from tracker.workbench.desk import Desk
from tracker.workbench.evening import set_evening_minutes
from tracker.workbench.goals import GoalWish, add_goal, change_goal, drop_goal
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import leave, mark
from tracker.workbench.paints import paint_out
from tracker.workbench.past import redo, undo
from tracker.workbench.recipes import add_recipe, change_recipe, drop_recipe
from tracker.workbench.recipes_used import use_recipe
from tracker.workbench.roles import RoleSaid, add_roles
from tracker.workbench.routing import RouteWish, change_route
from tracker.workbench.sources import add_deal
from tracker.workbench.sources_said import DealWish
from tracker.workbench.units_models import ModelWish, change_models
from tracker.workbench.units_plan import rename, set_plan
from tracker.workbench.units_shape import give_role, merge, split, to_spares
from tracker.workbench.whole import export_document


class Edit(NamedTuple):
    """One thing a person does; what the workbench refuses is not done."""

    name: str
    unit: str
    other: str
    number: int
    day: date

    def do(self, desk: Desk) -> None:
        """Do it."""
        with suppress(LastcoatError):
            EDITS[self.name](desk, self)


EDITS: dict[str, Callable[[Desk, Edit], object]] = {
    "log": lambda d, e: log_line(d, Entry(e.unit, "cleaning", models=e.number, minutes=12.5, day=e.day)),
    "log untimed": lambda d, e: log_line(d, Entry(e.unit, e.other, models=1, day=e.day, add_step=True)),
    "evening": lambda d, e: set_evening_minutes(d, 30.0 * e.number, e.day),
    "mark": lambda d, e: mark(d, e.unit, str(e.number), "priming", "done", day=e.day),
    "unmark": lambda d, e: mark(d, e.unit, str(e.number), "priming", "not yet", day=e.day),
    "leave": lambda d, e: leave(d, e.unit, str(e.number), "broken", day=e.day),
    "add": lambda d, e: add_unit(d, RosterRow(e.other, e.number, added=e.day)),
    "more": lambda d, e: add_unit(d, RosterRow(e.unit, e.number, added=e.day)),
    "spares": lambda d, e: add_spares(d, e.number, day=e.day),
    "rename": lambda d, e: rename(d, e.unit, e.other),
    "plan": lambda d, e: set_plan(d, e.unit, {"note": f"note {e.number}"}),
    "points": lambda d, e: set_plan(d, e.unit, {"points": float(e.number)}),
    "name": lambda d, e: change_models(d, e.unit, str(e.number), ModelWish(name=e.other)),
    "route": lambda d, e: change_route(d, e.unit, RouteWish(steps=("cleaning", "priming", e.other))),
    "split": lambda d, e: split(d, e.unit, str(e.number), e.other),
    "join": lambda d, e: merge(d, e.unit, e.other),
    "to spares": lambda d, e: to_spares(d, e.unit, str(e.number)),
    "from spares": lambda d, e: give_role(d, [1], e.unit),
    "goal": lambda d, e: add_goal(d, e.other, GoalWish(day=date(2026, 6, e.number), units=(e.unit,))),
    "goal set": lambda d, e: change_goal(d, "Club day", GoalWish(units=(e.unit, e.other), models=e.number)),
    "goal drop": lambda d, e: drop_goal(d, e.other),
    "away": lambda d, e: plan_away(d, date(2026, 4, e.number), date(2026, 4, e.number + 1)),
    "recipe": lambda d, e: add_recipe(d, e.other, "cloth: dark red, wash"),
    "version": lambda d, e: change_recipe(d, "Cloaks", f"cloth: red {e.number}, wash"),
    "use": lambda d, e: use_recipe(d, "Cloaks", unit=e.unit),
    "recipe drop": lambda d, e: drop_recipe(d, e.other),
    "paint out": lambda d, e: paint_out(d, f"red {e.number}", e.other),
    "role": lambda d, e: add_roles(d, e.unit, e.other, RoleSaid()),
    "deal": lambda d, e: add_deal(d, "bought", DealWish(note=e.other)),
    "undo": lambda d, _: undo(d),
    "redo": lambda d, _: redo(d),
}
units = st.sampled_from(("Spears", "Riders", "Bows"))
others = st.sampled_from(("Bows", "Axes", "Riders", "Cloaks", "Club day"))
edits = st.builds(
    Edit, st.sampled_from(sorted(EDITS)), units, others, st.integers(1, 5),
    st.dates(date(2026, 3, 1), NOW.date()),
)  # fmt: skip


def desk_at(folder: Path, name: str) -> Desk:
    """A desk whose new names begin with its own."""
    numbers = iter(range(1, 1_000_000))
    return Desk(str(folder / f"{name}.db"), lambda: NOW, lambda: f"{name}{next(numbers)}")


def a_common_log(folder: Path) -> Desk:
    """What both logs begin from."""
    desk = desk_at(folder, "common")
    Path(desk.path).write_bytes(_common_bytes())
    return desk


@cache
def _common_bytes() -> bytes:
    """It takes half a second to make, so it is made once."""
    with tempfile.TemporaryDirectory() as name:
        whole = Path(name) / "whole.db"
        back_up(_made(Path(name)).path, str(whole))
        return whole.read_bytes()


def _made(folder: Path) -> Desk:
    desk = desk_at(folder, "common")
    for unit, models in (("Spears", 5), ("Riders", 4)):
        add_unit(desk, RosterRow(unit, models, added=date(2026, 3, 1)))
    add_spares(desk, 2, day=date(2026, 3, 1))
    log_line(desk, Entry("Spears", "cleaning", models=2, minutes=20.0, day=date(2026, 3, 2)))
    add_goal(desk, "Club day", GoalWish(day=date(2026, 6, 6), units=("Spears",)))
    add_recipe(desk, "Cloaks", "cloth: dark red, wash")
    return desk


def copied(desk: Desk, folder: Path, name: str) -> Desk:
    """The same log on another machine."""
    other = desk_at(folder, name)
    back_up(desk.path, other.path)
    return other


def identities(desk: Desk) -> dict[str, set[str]]:
    """The uids of every table."""
    return {
        table: {row[part["columns"].index("uid")] for row in part["rows"]}
        for table, part in export_document(desk).items()
        if isinstance(part, dict) and "uid" in part["columns"]
    }
