"""The cells of one row, read one kind at a time; what is wrong with them is collected."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date

from tracker.domain.problems import Problem
from tracker.domain.text import NAME_LETTERS_MOST, tidy
from tracker.sheets.shown import shown
from tracker.sheets.table import unguard

NOTE_LETTERS_MOST = 100_000
MODELS_MOST = 10_000
GUESS_MINUTES_MOST = 1_000_000
EARLIEST = date(1900, 1, 1)
_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)")
_THOUSANDS = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
_ISO = re.compile(r"\d{4}-\d\d-\d\d")
_CLOCK = re.compile(r"(\d{1,2}):(\d\d)(?::\d\d)?")
_TRUTH = {
    "yes": True,
    "y": True,
    "true": True,
    "1": True,
    "no": False,
    "n": False,
    "false": False,
    "0": False,
}


class Cells:
    """One row: its cells by column, and the problems met while reading them."""

    __slots__ = ("_cells", "_places", "_row", "problems")

    def __init__(self, row: int, cells: Sequence[str], places: Mapping[str, int]) -> None:
        self._row = row
        self._cells = cells
        self._places = places
        self.problems: list[Problem] = []

    def wrong(self, what: str, mend: str) -> None:
        """Add a problem of this row."""
        self.problems.append(Problem(f"row {self._row}", what, mend))

    def raw(self, column: str) -> str:
        """The cell as it stands; empty when the sheet has no such column or the row ends before it."""
        place = self._places.get(column)
        if place is None or place >= len(self._cells):
            return ""
        return self._cells[place]

    def name(self, column: str, default: str = "") -> str:
        """A name: blanks at its ends do not count; at most 1000 letters."""
        text = tidy(unguard(self.raw(column)))
        if len(text) > NAME_LETTERS_MOST:
            self.wrong(f"{column} has {len(text)} letters", f"Shorten it to {NAME_LETTERS_MOST}")
        return text or default

    def needed_name(self, column: str) -> str:
        """A name that may not be empty."""
        text = self.name(column)
        if not text:
            self.wrong(f"{column} is empty", f"Fill it in, or remove the row if it has no {column}")
        return text

    def one_of(self, column: str, known: Sequence[str], default: str) -> str:
        """A word that is often one of the known ones, but may be the person's own."""
        text = self.name(column, default)
        folded = text.casefold()
        return folded if folded in known else text

    def note(self, column: str) -> str:
        """Free text, kept exactly."""
        text = unguard(self.raw(column))
        if len(text) > NOTE_LETTERS_MOST:
            self.wrong(f"{column} has {len(text)} letters", f"Shorten it to {NOTE_LETTERS_MOST}")
        return text

    def number(self, column: str, most: float, *, zero: bool = False) -> float | None:
        """A number above 0 (or 0, with `zero`), at most `most`; None when the cell is empty."""
        text = tidy(self.raw(column))
        if not text:
            return None
        value = self._parse_number(column, text)
        if value is None:
            return None
        if value < 0 or (value == 0 and not zero):
            least = "0 or more" if zero else "more than 0"
            self.wrong(f"{column} is {shown(text)}", f"Write {least}, or leave the cell empty")
        elif value > most:
            self.wrong(f"{column} is {shown(text)}", f"Write at most {most:.0f}")
        else:
            return value
        return None

    def _parse_number(self, column: str, text: str) -> float | None:
        if _THOUSANDS.fullmatch(text):
            plain = text.replace(",", "")
            mend = f"Write {plain} or {text.replace(',', '.')}"
            self.wrong(f"{column} {shown(text)} can be read in two ways", mend)
        elif not _NUMBER.fullmatch(text):
            self.wrong(f"{column} {shown(text)} is not a number", "Write it in digits alone, such as 50")
        else:
            return float(text.replace(",", "."))
        return None

    def whole(self, column: str, least: int, most: int) -> int | None:
        """A whole number from `least` to `most`; None when the cell is empty."""
        text = tidy(self.raw(column))
        if text.isdecimal() and len(text) < 10:
            value = float(int(text))
        elif not text:
            return None
        else:
            parsed = self._parse_number(column, text)
            if parsed is None:
                return None
            value = parsed
        if value < least or value > most or not value.is_integer():
            self.wrong(f"{column} is {shown(text)}", f"Write a whole number from {least} to {most}")
            return None
        return int(value)

    def day(self, column: str, *, latest: date | None = None) -> date | None:
        """An ISO date that exists, not before 1900 and not after `latest`; None when empty."""
        text = tidy(self.raw(column))
        if not text:
            return None
        mend = "Write it as year-month-day, such as 2026-03-04"
        if not _ISO.fullmatch(text):
            self.wrong(f"{column} {shown(text)} is not a date", mend)
            return None
        try:
            day = date.fromisoformat(text)
        except ValueError:
            self.wrong(f"{column} {shown(text)} does not exist", mend)
            return None
        if latest is not None and day > latest:
            self.wrong(f"{column} {text} lies in the future", "Log evenings once they have been")
            return None
        if day < EARLIEST:
            self.wrong(f"{column} {text} lies too far back", "Check the year")
            return None
        return day

    def clock(self, column: str) -> str:
        """A time of day as HH:MM; empty when the cell is."""
        text = tidy(self.raw(column))
        if not text:
            return ""
        said = _CLOCK.fullmatch(text)
        if not said or int(said[1]) > 23 or int(said[2]) > 59:
            self.wrong(f"{column} {shown(text)} is not a time of day", "Write it as HH:MM, such as 19:30")
            return ""
        return f"{int(said[1]):02d}:{int(said[2]):02d}"

    def truth(self, column: str, default: bool) -> bool:
        """Yes or no, also as y/n, true/false, 1/0."""
        text = tidy(self.raw(column)).casefold()
        if not text:
            return default
        if text not in _TRUTH:
            self.wrong(f"{column} is {shown(text)}", "Write yes or no")
            return default
        return _TRUTH[text]


def plain_number(value: float | None) -> str:
    """A number as a cell: digits and a point, no exponent, and back to the same number exactly."""
    if value is None:
        return ""
    if value == int(value):
        return str(int(value))
    text = repr(value)
    if "e" in text:
        from decimal import Decimal  # hardly any sheet has such a number

        return format(Decimal(text), "f")
    return text
