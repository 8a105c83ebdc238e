"""The cautions in words and as JSON."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from tracker.domain.caution_rules import CautionRow
from tracker.report.plain import COLUMNS, clip, wrapped

_OF_MOST = 6
"""So many steps and materials are named behind a caution."""
_FREE = "Its metal is known to hold no lead."


def cautions_text(about: str, rows: Sequence[CautionRow], *, lead_free: bool, width: int = COLUMNS) -> str:
    """Each caution as a sentence of its own, and below it what brings it."""
    return "\n".join(
        line
        for part in cautions_parts(about, rows, lead_free=lead_free)
        for line in wrapped(*part[:1], width, *part[1:])
    )


def cautions_parts(about: str, rows: Sequence[CautionRow], *, lead_free: bool) -> list[tuple[str, str, str]]:
    """(words, how the first line begins, how the others do), for one width or another."""
    out: list[tuple[str, str, str]] = []
    if about:
        out.append((title_of(about, rows), "", ""))
    if lead_free:
        out.append((_FREE, "", ""))
    for row in rows:
        out.append((row.caution.line, "- ", "  "))
        if row.of and list(row.of) != [about]:
            out.append((f"With: {of_words(row.of)}.", "  ", "  "))
    return out


def title_of(about: str, rows: Sequence[CautionRow]) -> str:
    """What the cautions are of, or that there are none."""
    name = clip(about, 60)
    if rows:
        return f"To mind with {name}:"
    return f"No caution is kept for {name}. The label, the safety data sheet and local rules come first."


def of_words(of: Sequence[str]) -> str:
    """Steps and materials that bring a hazard; of many only the first."""
    named = ", ".join(clip(name, 40) for name in of[:_OF_MOST])
    return named + (f" and {len(of) - _OF_MOST} more" if len(of) > _OF_MOST else "")


def cautions_json(
    about: str, rows: Sequence[CautionRow], *, lead_free: bool, as_of: date
) -> dict[str, object]:
    """Every caution with what brings it and whose public guidance it follows."""
    return {
        "as_of": as_of.isoformat(),
        "doubts": [],
        "about": about,
        "known_lead_free": lead_free,
        "cautions": [
            {
                "hazard": row.caution.hazard,
                "caution": row.caution.line,
                "source": row.caution.source,
                "of": list(row.of),
            }
            for row in rows
        ],
    }
