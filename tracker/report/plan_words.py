"""Declared evenings in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any, Protocol

from tracker.domain.records import Declared
from tracker.report.plain import count_words, date_words, wrapped
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import PageLine

ASK_PLAN = 'What do you mean to do? "every Tuesday", "2027-03-06 240 min", "away 2027-04-01 2027-04-10"'

_NOTHING = "Nothing is planned. The dates rest on the evenings that were; a plan is only a hint."
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_SHOWN_MOST = 8


class Plans(Protocol):
    """What is declared, as the workbench tells it."""

    @property
    def as_of(self) -> date:
        """The day of the answer."""

    @property
    def declared(self) -> Sequence[Declared]:
        """Everything declared."""

    @property
    def coming(self) -> Sequence[date]:
        """Declared evenings of the next four weeks."""

    @property
    def kept(self) -> int:
        """Planned evenings that were held."""

    @property
    def planned(self) -> int:
        """Planned evenings that have come."""

    @property
    def kept_share(self) -> float:
        """What is expected of the next one."""


def plans_text(answer: Plans, words: Sequence[str], width: int) -> str:
    """A numbered list, the evenings of the next weeks, and the rate of keeping plans."""
    if not answer.declared:
        return "\n".join(wrapped(_NOTHING, width))
    out: list[str] = []
    for number, (said, line) in enumerate(zip(answer.declared, words, strict=True), start=1):
        note = f" ({said.note})" if said.note else ""
        out += wrapped(f"{line}{note}", width, f"{number:>2}  ", "    ")
    if answer.coming:
        days = [f"{_DAYS[day.weekday()]} {date_words(day)}" for day in answer.coming[:_SHOWN_MOST]]
        more = " …" if len(answer.coming) > _SHOWN_MOST else "."
        out += ["", *wrapped(f"Next: {', '.join(days)}{more}", width)]
    if answer.planned:
        said_kept = f"{answer.kept:,} of {count_words(answer.planned, 'planned evening')} took place."
        out += [
            "",
            *wrapped(
                f"{said_kept} Of the next, about {round(10 * answer.kept_share)} in 10 are expected.", width
            ),
        ]
    return "\n".join(out)


def plans_lines(answer: Plans | None, words: Sequence[str], width: int) -> list[PageLine]:
    """The same as a page on which each plan can be chosen."""
    if answer is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    lines = plans_text(answer, words, width).split("\n")
    if not answer.declared:
        return [PageLine(line, "quiet") for line in lines]
    out, number = [], 0
    for line in lines:
        begins = line.startswith(f"{number + 1:>2}  ") and number < len(answer.declared)
        number += begins
        out.append(PageLine(line, "row" if begins else "text", str(number) if begins else ""))
    return out


def plans_json(answer: Plans) -> dict[str, Any]:
    """Every declaration with its number; days as ISO text."""
    return {
        "as_of": answer.as_of.isoformat(),
        "declared": [
            {
                "number": number,
                "kind": said.kind,
                "first": said.first.isoformat(),
                "last": said.last.isoformat() if said.last else None,
                "rule": said.rule,
                "without": [day.isoformat() for day in said.without],
                "minutes": said.minutes,
                "note": said.note,
            }
            for number, said in enumerate(answer.declared, start=1)
        ],
        "coming": [day.isoformat() for day in answer.coming],
        "planned": answer.planned,
        "kept": answer.kept,
        "kept_share": round(answer.kept_share, 4),
    }
