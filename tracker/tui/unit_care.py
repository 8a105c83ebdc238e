"""The care of units, on any screen where one stands under the cursor: what is asked, and the verb for it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TypeVar

from tracker.domain.problems import DataError, Problem
from tracker.domain.rows import RosterRow
from tracker.report.screens import unit_words as words
from tracker.report.screens.unit_words import read_goal, read_new_unit, read_retired, read_split
from tracker.tui.page import Page
from tracker.workbench.adding import add_unit
from tracker.workbench.models import leave
from tracker.workbench.sheets_in import import_file
from tracker.workbench.units_plan import move, rename, set_plan
from tracker.workbench.units_shape import merge, split

T = TypeVar("T")


class UnitCare(Page):
    """A screen on which units are cared for."""

    @property
    def unit_here(self) -> tuple[str, str] | None:
        """(army, unit) under the cursor."""
        return None

    def store(self, verb: Callable[[], object]) -> None:
        """Call a verb that changes the log; what it stored is said in its own words."""
        self.ask_verb(verb, self._stored_it, "store", alone=False)

    def _stored_it(self, done: object) -> None:
        sentence = getattr(done, "sentence", None)
        self.stored(sentence() if callable(sentence) else "Stored.")

    def _ask_about_unit(self, question: str, verb: Callable[[str, str, str], object], text: str = "") -> None:
        """Ask something about the unit under the cursor; an empty answer changes nothing."""
        here = self.unit_here
        if here is None:
            return

        def then(said: str) -> None:
            if said:
                self.store(partial(verb, *here, said))

        self.ask(question.format(unit=here[1]), then, text)

    def action_ranks(self) -> None:
        """How the unit under the cursor ranks up."""
        here = self.unit_here
        if here is not None:
            self.lastcoat.open("ranks", here[1], here[0])

    def action_photos(self) -> None:
        """The photos of the unit under the cursor."""
        here = self.unit_here
        if here is not None:
            self.lastcoat.open("photos", here[1], here[0])

    def action_add_unit(self) -> None:
        """A new unit: how many and its name are enough."""

        def then(said: str) -> None:
            if said:
                self.store(partial(self._new_unit, said))

        self.ask(words.ASK_NEW, then)

    def _new_unit(self, said: str) -> object:
        row = _good(read_new_unit(said, self.unit_here[0] if self.unit_here else ""))
        return add_unit(self.desk, row)

    def action_add_models(self) -> None:
        """More models of the unit under the cursor."""

        def verb(army: str, unit: str, said: str) -> object:
            return add_unit(self.desk, RosterRow(unit, _count(said), army), more=True)

        self._ask_about_unit(words.ASK_MORE, verb)

    def action_retire(self) -> None:
        """Models of it leave, all or some."""

        def verb(army: str, unit: str, said: str) -> object:
            models, how = _good(read_retired(said))
            return leave(self.desk, unit, models, how, army=army)

        self._ask_about_unit(words.ASK_GONE, verb)

    def action_rename(self) -> None:
        """Another name."""

        def verb(army: str, unit: str, said: str) -> object:
            done = rename(self.desk, unit, said, army=army)
            self.renamed(said)
            return done

        self._ask_about_unit(words.ASK_NAME, verb, self.unit_here[1] if self.unit_here else "")

    def renamed(self, name: str) -> None:
        """The unit of this screen has another name."""

    def action_goal(self) -> None:
        """The day it is wanted for."""

        def verb(army: str, unit: str, said: str) -> object:
            return set_plan(self.desk, unit, _good(read_goal(said)), army=army)

        self._ask_about_unit(words.ASK_GOAL, verb)

    def action_split(self) -> None:
        """Models become a unit of their own."""

        def verb(army: str, unit: str, said: str) -> object:
            models, name = _good(read_split(said))
            return split(self.desk, unit, models, name, army=army)

        self._ask_about_unit(words.ASK_SPLIT, verb)

    def action_merge(self) -> None:
        """The unit joins another one."""

        def verb(army: str, unit: str, said: str) -> object:
            return merge(self.desk, unit, said, army=army)

        self._ask_about_unit(words.ASK_INTO, verb)

    def _move(self, by: int) -> None:
        if self.unit_here:
            army, unit = self.unit_here
            self.store(partial(move, self.desk, unit, by, army=army))

    def action_earlier(self) -> None:
        """One up in the order."""
        self._move(-1)

    def action_later(self) -> None:
        """One down in the order."""
        self._move(1)

    def action_bring_in(self) -> None:
        """A sheet that lies somewhere as a file."""

        def then(path: str) -> None:
            if path:
                self.store(partial(import_file, self.desk, path))

        self.ask(words.ASK_IN, then)


def _good(said: T | Problem) -> T:
    if isinstance(said, Problem):
        raise DataError(said)
    return said


def _count(text: str) -> int:
    """A whole number, or 0, which the verb refuses in its own words."""
    return int(text) if text.isascii() and text.isdigit() and len(text) < 7 else 0
