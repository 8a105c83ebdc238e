"""One plain sentence as a line of an evening: "washed 10 spears, 50 min"."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any, NamedTuple

from tracker.domain.problems import Problem
from tracker.domain.records import DEFAULT_ARMY
from tracker.domain.text import printable, tidy
from tracker.sheets import quantities
from tracker.sheets.meaning import Known, Meaning, find_meaning, mask_steps
from tracker.sheets.names import UnitWords, step_phrases, unit_words
from tracker.sheets.quantities import Text, refuse

LETTERS_MOST = 4000
NOTE = re.compile(r"(?:^|[\s,;.])note\s*:\s*(?P<note>.*)\Z", re.IGNORECASE | re.DOTALL)
_BELOW_ZERO = re.compile(r"(?<![\w-])[-−]\s?\d[\d.,]*(?!\d*-)")
_EXAMPLE = 'Say it like "washed 10 spears, 50 min"'


class UnitName(NamedTuple):
    """A unit that a sentence may mean."""

    unit: str
    army: str = DEFAULT_ARMY


class Sentence(NamedTuple):
    """What a sentence says. None = not said."""

    unit: str
    army: str
    step: str
    day: date
    models: int | None = None
    all_left: bool = False
    """It says "all" or "the rest" instead of a number."""
    minutes: float | None = None
    guess_minutes: float | None = None
    finished: bool = True
    note: str = ""
    numbers: tuple[int, ...] = ()
    """Which models, by number; `models` is how many they are."""
    day_said: bool = False

    def words(self) -> str:
        """What was understood, in one line that is safe to print."""
        models = "all that are left" if self.all_left else ""
        if self.models is not None:
            models = f"{self.models} model{'' if self.models == 1 else 's'}"
        parts = (
            f"{self.unit} ({self.army}): {self.step}",
            models,
            f"{self.minutes:g} min" if self.minutes is not None else "",
            f"guessed {self.guess_minutes:g} min" if self.guess_minutes is not None else "",
            self.day.isoformat(),
            "" if self.finished else "not finished",
            f"note: {self.note}" if self.note else "",
        )
        return printable(", ".join(part for part in parts if part))


def read_sentence(
    text: str,
    units: Sequence[tuple[str, str]],
    steps: Sequence[str],
    today: date,
    *,
    own_words: Mapping[str, str] | None = None,
    route_of: Callable[[str], Sequence[str]] | None = None,
) -> Sentence | Problem:
    """The line that a sentence means, or why it cannot be told.

    Words may come in any order. `units` are (unit, army) pairs, such as `UnitName`; `steps` the
    names of all known steps; `own_words` the person's own words for a step; `route_of` gives a
    unit's steps, which decides between steps that share a word ("washed": in soap, or with a
    shade). Everything must be understood: a word that means nothing is a problem, and so are two
    names that are equally near.
    """
    parts = take_apart(text, units, steps, today, own_words=own_words, route_of=route_of)
    if isinstance(parts, Problem):
        return parts
    meaning = find_meaning(parts.rest, parts.known, parts.masked)
    if not isinstance(meaning, Problem):
        return join(meaning, parts.read)
    if not tidy(text):
        return refuse("nothing is said", _EXAMPLE)
    mended = with_days_mended(text)
    if mended is None:
        return meaning
    again = read_sentence(mended, units, steps, today, own_words=own_words, route_of=route_of)
    return meaning if isinstance(again, Problem) else again


def with_days_mended(text: str) -> str | None:
    """The sentence with a mistyped day put right, its note left alone; None where no day is mistyped."""
    said = NOTE.search(text)
    end = said.start() if said else len(text)
    mended = quantities.mended_days(text[:end]) + text[end:]
    return None if mended == text else mended


class Parts(NamedTuple):
    """A sentence taken apart: what it says in numbers, and the words that are left for names."""

    read: Sentence
    rest: str
    known: Known
    masked: Sequence[UnitWords]
    """Units whose full names stood in it; they are no longer in `rest`."""


def take_apart(
    text: str,
    units: Sequence[tuple[str, str]],
    steps: Sequence[str],
    today: date,
    *,
    own_words: Mapping[str, str] | None = None,
    route_of: Callable[[str], Sequence[str]] | None = None,
) -> Parts | Problem:
    """The first half of reading a sentence; arguments as in `read_sentence`."""
    if len(text) > LETTERS_MOST:
        return refuse(f"it has {len(text)} letters", f"Keep it under {LETTERS_MOST}")
    said = NOTE.search(text)
    note = tidy(said["note"]) if said else ""
    rest = Text(text[: said.start()] if said else text)
    known = Known([unit_words(*pair) for pair in units], step_phrases(steps, own_words or {}), route_of)
    masked = known.mask(rest)
    known = known._replace(phrases=mask_steps(rest, steps, known.phrases))
    if isinstance(masked, Problem):
        return masked
    read = _read_quantities(rest, today, note)
    return read if isinstance(read, Problem) else Parts(read, rest.rest, known, masked)


def _read_quantities(rest: Text, today: date, note: str) -> Sentence | Problem:
    quantities.digits_for_words(rest)
    below = _BELOW_ZERO.search(rest.rest)
    if below:
        return refuse(f'"{below[0]}" is below zero', "Say minutes and models as numbers above 0")
    numbers = quantities.take_numbered(rest)
    times = quantities.take_times(rest)
    finished = quantities.take_finished(rest)
    day = quantities.take_day(rest, today)
    models = quantities.take_models(rest)
    for said in (numbers, times, day, models):
        if isinstance(said, Problem):
            return said
    return _told(Sentence("", "", "", today, finished=finished, note=note), numbers, times, day, models)


def _told(read: Sentence, numbers: Any, times: Any, day: Any, models: Any) -> Sentence | Problem:
    count = models if isinstance(models, int) else len(numbers) or None
    if numbers and count != len(numbers):
        return refuse(f"{count} models are said, and {len(numbers)} by number", "Say it once")
    return read._replace(
        models=count, all_left=models == "all", minutes=times[0], guess_minutes=times[1], numbers=numbers,
        day=day or read.day, day_said=day is not None,
    )  # fmt: skip


def join(meaning: Meaning, read: Sentence) -> Sentence:
    """What is read, with the unit and the step that are meant."""
    return read._replace(unit=meaning.unit.unit, army=meaning.unit.army, step=meaning.step)
