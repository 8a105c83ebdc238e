"""What was understood of an evening before it is stored, so that it can be looked at and corrected."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from tracker.domain.problems import Problem
from tracker.workbench.evening import EveningSet
from tracker.workbench.lines import Entry, Logged
from tracker.workbench.models import number_ranges
from tracker.workbench.words import day_words, minutes_words


class UnitChoice(NamedTuple):
    """A unit that may be meant."""

    army: str
    unit: str


class Choice(NamedTuple):
    """A person's correction of one line; None = as it was understood."""

    unit: UnitChoice | None = None
    step: str | None = None


class UnderstoodLine(NamedTuple):
    """One line as it would be stored."""

    said: str
    """What was typed."""
    army: str
    unit: str
    step: str
    day: date
    today: date
    models: int = 0
    """How many models it moves on."""
    numbers: tuple[int, ...] = ()
    """Which models, by number."""
    names: tuple[str, ...] = ()
    """Their names, where they have some."""
    models_of_unit: int = 0
    models_left: int = 0
    """Models that still need the step, before this line."""
    minutes: float | None = None
    finished: bool = True
    guess_minutes: float | None = None
    note: str = ""
    from_last: tuple[str, ...] = ()
    """What was not said and comes from last time: "unit", "step", "models"."""
    units: tuple[UnitChoice, ...] = ()
    """Every unit, the one that is meant first, then the nearest, then the ones worked on last."""
    steps: tuple[str, ...] = ()
    """The unit's steps in order."""
    problem: Problem | None = None
    exact: bool = False
    """Whether the models were said by number."""
    named: tuple[str, ...] = ()
    """Models that were said by name."""

    def words(self) -> str:
        """As in "washing, 10 of 20 Spears (1-10), 50 min (Tue 3 Mar)"."""
        some = f"{self.models} of {self.models_of_unit} " if self.models_of_unit != 1 else ""
        all_named = len(self.names) == len(self.numbers)
        which = ", ".join(self.names) if all_named else number_ranges(self.numbers)
        words = f"{self.step}, {some}{self.unit}" + (f" ({which})" if which else "")
        words += "" if self.finished else ", still in hand"
        words += "" if self.minutes is None else f", {minutes_words(self.minutes)}"
        return f"{words} ({day_words(self.day, self.today)})"

    def entry(self) -> Entry:
        """The line for the log."""
        return Entry(
            self.unit, self.step, self.army, self.models, self.minutes, self.day, self.finished,
            self.guess_minutes, self.note, self.named, self.numbers if self.exact else (),
        )  # fmt: skip


class Understood(NamedTuple):
    """An evening as it would be stored."""

    text: str
    day: date
    today: date
    lines: tuple[UnderstoodLine, ...] = ()
    total_minutes: float | None = None
    """The evening's total, where it was said."""
    choices: tuple[tuple[int, Choice], ...] = ()
    """Corrections that are in it, by the place of their line."""
    unclear: Problem | None = None
    """What is wrong with the evening as a whole."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Everything that must be mended before it can be stored."""
        whole = (self.unclear,) if self.unclear else ()
        return whole + tuple(line.problem for line in self.lines if line.problem)

    @property
    def problem(self) -> Problem | None:
        """The first of them; None = it can be stored."""
        return next(iter(self.problems), None)

    def words(self) -> str:
        """The lines in words, and the evening's total."""
        lines = [line.words() for line in self.lines if line.problem is None]
        if self.total_minutes is not None:
            lines.append(f"{minutes_words(self.total_minutes)} in all")
        return "; ".join(lines)


class LoggedEvening(NamedTuple):
    """Lines of an evening that were stored as one change, and the evening's total where it was said."""

    lines: tuple[Logged, ...]
    total: EveningSet | None = None

    def words(self) -> str:
        """As the log keeps it."""
        parts = [line.words() for line in self.lines]
        return "; ".join([*parts, *([self.total.words()] if self.total else [])])

    def sentence(self) -> str:
        """What was stored, line by line."""
        lines = [line.sentence() for line in self.lines]
        return "\n".join([*lines, *([self.total.sentence()] if self.total else [])])
