"""A person's word on single models: where they stand, and that they left."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem, did_you_mean
from tracker.domain.records import DEPARTURES, CellState
from tracker.domain.text import same_name, tidy
from tracker.store.journal import Store
from tracker.store.models import insert_mark, models_of
from tracker.store.ranks import forget_places
from tracker.store.units import route_of
from tracker.workbench.desk import Desk
from tracker.workbench.lines import not_in_future
from tracker.workbench.naming import shown, the_step, the_unit
from tracker.workbench.words import count_words, day_words

STATES: tuple[CellState, ...] = ("not yet", "in hand", "done", "skipped")


_NUMBERS_MOST = 200_000
"""Far more than a log has; ranges said over and over again would otherwise be counted for minutes."""


class Marked(NamedTuple):
    """Models that were marked, or that left."""

    unit: str
    numbers: tuple[int, ...]
    said: str
    day: date
    today: date

    def words(self) -> str:
        """As in "3 models of Spears: priming done (Tue 3 Mar)"."""
        models = count_words(len(self.numbers), "model")
        return f"{models} of {self.unit}: {self.said} ({day_words(self.day, self.today)})"

    def sentence(self) -> str:
        """What was stored, with the models' numbers."""
        return f"Stored: {self.words()}. Numbers: {number_ranges(self.numbers)}."


def mark(
    desk: Desk, unit: str, models: str, step: str, state: str, *, army: str | None = None,
    day: date | None = None,
) -> Marked:  # fmt: skip
    """Say where models stand with a step; it wins over what the lines said so far."""
    if state not in STATES:
        raise DataError(Problem("--state", f"{shown(state)} is no state", f"One of: {', '.join(STATES)}"))
    day = day or desk.evening_day()
    not_in_future(day, desk.today())
    with desk.open() as store, store.change("mark") as change:
        known = the_unit(store, unit, army)
        name = the_step(route_of(store, known.id), step, known.name)
        chosen = said_models(store, known.id, known.name, models)
        for model, _ in chosen:
            insert_mark(store, model, name, state, day)
        numbers = tuple(number for _, number in chosen)
        done = Marked(known.name, numbers, f"{name} {state}", day, desk.today())
        change.words = done.words()
    return done


def leave(
    desk: Desk, unit: str, models: str, how: str, *, army: str | None = None, day: date | None = None
) -> Marked:
    """Models leave: sold, given away, broken. What was painted on them stays in the log."""
    if how not in DEPARTURES:
        raise DataError(
            Problem("--how", f"{shown(how)} is no way to leave", f"One of: {', '.join(DEPARTURES)}")
        )
    day = day or desk.evening_day()
    not_in_future(day, desk.today())
    with desk.open() as store, store.change("leave") as change:
        known = the_unit(store, unit, army)
        chosen = said_models(store, known.id, known.name, models)
        for model, _ in chosen:
            store.update("model", model, left_on=day.isoformat(), left_how=how)
        forget_places(store, [model for model, _ in chosen])
        done = Marked(known.name, tuple(number for _, number in chosen), how, day, desk.today())
        change.words = done.words()
    return done


def said_models(store: Store, unit_id: int, unit: str, said: str) -> list[tuple[int, int]]:
    """(id, number) of the models said: "all", "last 3", a name, or numbers and ranges like "1-5,8"."""
    there = models_of(store, unit_id)
    last = tidy(said).casefold().removeprefix("last ")
    if last != tidy(said).casefold() and _is_number(last) and 0 < int(last) <= len(there):
        chosen = [(model, number) for model, number, _ in there[-int(last) :]]
    elif same_name(said, "all"):
        chosen = [(model, number) for model, number, _ in there]
    else:
        chosen = [(model, number) for model, number, name in there if name and same_name(name, said)]
    if chosen:
        return chosen
    wanted = read_numbers(said)
    if wanted is None:
        names = [name for _, _, name in there if name]
        mend = did_you_mean(said, names, 'Say numbers like "1-5,8", a name, or "all"')
        raise DataError(Problem("--models", f"{shown(said)} are no models of {shown(unit)}", mend))
    by_number = {number: model for model, number, _ in there}
    missing = [number for number in wanted if number not in by_number]
    if missing or not wanted:
        has = number_ranges(sorted(by_number)) or "none"
        what = f"{shown(unit)} has no model {number_ranges(missing[:10])}"
        raise DataError(Problem("--models", what, f"It has {has}"))
    return [(by_number[number], number) for number in wanted]


def read_numbers(said: str) -> list[int] | None:
    """Numbers in rising order from "1-5,8"; None when it is not written so."""
    numbers: set[int] = set()
    counted = 0
    for part in said.replace(" ", "").split(","):
        first, dash, last = part.partition("-")
        if not (_is_number(first) and (not dash or _is_number(last))):
            return None
        said_here = range(int(first), int(last if dash else first) + 1)
        counted += len(said_here)
        if counted > _NUMBERS_MOST:
            return None
        numbers.update(said_here)
    return sorted(numbers)


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) <= 5


def number_ranges(numbers: Sequence[int]) -> str:
    """Rising numbers in short: "1-5, 8"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(f"{a}" if a == b else f"{a}-{b}" for a, b in runs)
