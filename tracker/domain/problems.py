"""A person's mistake is a value: where it is, what is wrong, how to mend it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from tracker.domain.text import printable

_SHOWN_LETTERS = 60


class Problem(NamedTuple):
    """One thing that is wrong, said so that it can be mended without asking anyone."""

    where: str
    """A row ("row 7"), an option ("--models"), a file; never a place in our code."""
    what: str
    mend: str

    def __str__(self) -> str:
        return f"{self.where}: {self.what}. {self.mend}"


class LastcoatError(Exception):
    """Base of everything the program refuses; carries the problems, one clear line each.

    LastcoatError
     +-- DataError    the data does not allow it (exit status 1)
     +-- UsageError   it was asked for in a way that cannot be understood (exit status 2)
    """

    exit_status = 1

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(map(str, self.problems)))


class DataError(LastcoatError):
    """The data does not allow it."""


class UsageError(LastcoatError):
    """The request cannot be understood."""

    exit_status = 2


def nearest(wanted: str, known: Iterable[str], most: int = 3) -> list[str]:
    """The known names most like the wanted one, best first, at most `most` of them."""
    from difflib import get_close_matches  # only on the way to a refusal

    by_folded = {name.casefold(): name for name in known}
    close = get_close_matches(wanted.casefold(), by_folded, n=most, cutoff=0.5)
    return [by_folded[name] for name in close]


def did_you_mean(wanted: str, known: Iterable[str], otherwise: str) -> str:
    """A mend that offers the nearest names, or says `otherwise` when nothing is near."""
    close = nearest(wanted, known)
    if not close:
        return otherwise
    return "Did you mean " + " or ".join(map(_shown, close)) + "?"


def _shown(name: str) -> str:
    """A known name may be as odd as what was typed: harmless, quoted, and not longer than a line."""
    text = printable(name)
    return f'"{text if len(text) <= _SHOWN_LETTERS else text[: _SHOWN_LETTERS - 1] + "…"}"'
