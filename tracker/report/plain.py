"""Plain words for quantities, and text tables that fit a terminal of 80 columns."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence
from datetime import date
from typing import NamedTuple, TypeVar

from tracker.domain.answers import LEVELS, Doubt, Outlook
from tracker.domain.text import printable

COLUMNS = 80
FAR_OFF = "far off"
"""The word for a date beyond the horizon."""
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_GAP = "  "
T = TypeVar("T")


def minutes_words(minutes: float) -> str:
    """Minutes as people say them, no finer than they are known: "4 min", "35 min", "1 h 20", "26 h".

    Whole minutes below 20, then steps of 5; whole hours from 10 hours on.
    """
    if minutes < 19.5:
        return "under 1 min" if 0 < minutes < 0.75 else f"{round(minutes)} min"
    fives = 5 * round(minutes / 5)
    if fives < 60:
        return f"{fives} min"
    if fives >= 600:
        return f"{round(minutes / 60):,} h"
    return f"{fives // 60} h {fives % 60:02d}" if fives % 60 else f"{fives // 60} h"


def span_words(low: float, high: float) -> str:
    """A range of minutes, short enough for a table: "20-45 min", "1.2-2.9 h", "24-51 h"."""
    if high < 59.5:
        first, last = f"{low:.0f}", f"{high:.0f} min"
    elif high < 597:
        first, last = f"{low / 60:.1f}", f"{high / 60:.1f} h"
    else:
        first, last = f"{low / 60:,.0f}", f"{high / 60:,.0f} h"
    return last if last.startswith(f"{first} ") else f"{first}-{last}"


def left_words(outlook: Outlook) -> str:
    """Minutes left of a unit or army as the range that holds 8 times in 10."""
    return span_words(at_level(outlook.minutes_left, 10), at_level(outlook.minutes_left, 90))


def per_model_words(minutes: float) -> str:
    """Minutes per model, where halves matter: one decimal below 10."""
    return f"{minutes:.1f}" if minutes < 9.95 else f"{minutes:.0f}"


def date_words(day: date | None) -> str:
    """A date as "14 Mar 2027", the same in every locale; none lies beyond the horizon."""
    return FAR_OFF if day is None else f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def month_words(day: date) -> str:
    """A month as "Mar 2027"."""
    return f"{_MONTHS[day.month - 1]} {day.year}"


def chance_words(chance: float) -> str:
    """A chance in 100, never a false certainty: "under 1 in 100", "72 in 100", "over 99 in 100"."""
    if chance < 0.01:
        return "under 1 in 100"
    return "over 99 in 100" if chance > 0.99 else f"{round(100 * chance)} in 100"


def count_words(count: int, one: str, many: str = "") -> str:
    """A count with its noun: "1 model", "1,200 models"."""
    return f"{count:,} {one if count == 1 else many or one + 's'}"


def at_level(quantiles: Sequence[T], percent: int) -> T:
    """The quantile at a level of `LEVELS`."""
    return quantiles[LEVELS.index(percent)]


def cells(text: str) -> int:
    """How many terminal columns a text takes: two for wide signs, none for combining ones (UAX 11)."""
    if text.isascii():
        return len(text)
    return sum(_sign_cells(sign) for sign in text)


def _sign_cells(sign: str) -> int:
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in ("W", "F") else 1


def clip(text: str, most: int) -> str:
    """The text made harmless and cut to at most that many columns, with an ellipsis where it was cut."""
    shown = printable(text)
    if cells(shown) <= most:
        return shown
    kept, used = [], 0
    for sign in shown:
        used += _sign_cells(sign)
        if used > most - 1:
            break
        kept.append(sign)
    return "".join(kept) + "…"


def pad(text: str, width: int, *, right: bool = False) -> str:
    """The text filled up with blanks to that many columns."""
    blanks = " " * max(width - cells(text), 0)
    return blanks + text if right else text + blanks


class Column(NamedTuple):
    """A column of a table."""

    title: str
    right: bool = False
    gives: bool = False
    """Whether it is cut first when the table is too wide (names)."""


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]], width: int = COLUMNS) -> list[str]:
    """Lines of a table no wider than `width`; columns that give way share what the others leave."""
    body = [[printable(cell) for cell in row] for row in rows]
    widths = [
        max([cells(column.title), *(cells(row[i]) for row in body)]) for i, column in enumerate(columns)
    ]
    widths = _fitted(columns, widths, width)
    out = [_line([column.title for column in columns], columns, widths)]
    out.append(_GAP.join("-" * w for w in widths))
    out += [_line(row, columns, widths) for row in body]
    return out


def _fitted(columns: Sequence[Column], widths: list[int], width: int) -> list[int]:
    giving = [i for i, column in enumerate(columns) if column.gives]
    fixed = sum(w for i, w in enumerate(widths) if i not in giving) + len(_GAP) * (len(columns) - 1)
    out = list(widths)
    for place, i in enumerate(giving):
        share = (width - fixed) // (len(giving) - place)
        out[i] = max(min(widths[i], share), 4)
        fixed += out[i]
    return out


def _line(row: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> str:
    filled = (
        pad(clip(cell, w), w, right=column.right)
        for cell, column, w in zip(row, columns, widths, strict=True)
    )
    return _GAP.join(filled).rstrip()


def wrapped(text: str, width: int = COLUMNS, start: str = "", more: str = "") -> list[str]:
    """A sentence in lines no wider than `width`; words of names that are longer are broken."""
    lines, line = [], start
    empty = True
    for word in printable(text).split():
        for piece in _pieces(word, width - cells(more)):
            blank = "" if empty else " "
            if not empty and cells(line) + 1 + cells(piece) > width:
                lines.append(line)
                line, blank = more, ""
            line += blank + piece
            empty = False
    return [*lines, line.rstrip()]


def _pieces(word: str, most: int) -> list[str]:
    out = [""]
    for sign in word:
        if cells(out[-1]) + _sign_cells(sign) > most:
            out.append("")
        out[-1] += sign
    return out


def doubt_lines(doubts: Iterable[Doubt], width: int = COLUMNS) -> list[str]:
    """Each doubt as one sentence of its own, set off so that it is seen."""
    return [line for doubt in doubts for line in wrapped(doubt.text, width, "Mind: ", "      ")]
