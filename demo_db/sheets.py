"""The demo as files: the two sheets, and beside them what sheets have no column for."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from demo_db.army import Already, Departure
from demo_db.builder import Demo
from demo_db.deals import deals
from demo_db.ranks import Measured, measures
from demo_db.recipes import recipes
from demo_db.spares import drawers
from tracker.domain.rows import EveningRow, RosterRow
from tracker.sheets.recipes import write_recipes
from tracker.sheets.roles import write_roles
from tracker.sheets.sources import write_sources
from tracker.sheets.spares import write_spares

HERE = Path(__file__).parent
_EVENING = ("date", "army", "unit", "step", "models", "minutes", "evening_minutes", "finished",
            "guess_minutes")  # fmt: skip
_ROSTER = ("army", "unit", "models", "points", "kind", "material", "standard", "base", "files", "ranks",
           "finish_line", "guess_minutes", "goal_date", "goal", "order", "source", "note",
           "added")  # fmt: skip


class Extra(NamedTuple):
    """What the sheets cannot say: models that came in part done, models that left, what a ruler said."""

    already: tuple[Already, ...]
    departures: tuple[Departure, ...]
    measured: tuple[Measured, ...] = ()


def evening_sheet(rows: Sequence[EveningRow]) -> str:
    """The evening sheet as CSV."""
    return _csv(_EVENING, ([_cell(getattr(row, name)) for name in _EVENING] for row in rows))


def roster_sheet(rows: Sequence[RosterRow]) -> str:
    """The roster sheet as CSV."""
    return _csv(_ROSTER, ([_cell(getattr(row, name)) for name in _ROSTER] for row in rows))


def extra_json(demo: Demo) -> str:
    """What the sheets cannot say, as JSON."""
    document = {
        "already": [word._replace(date=word.date.isoformat())._asdict() for word in demo.already],  # type: ignore[arg-type]
        "departures": [gone._replace(date=gone.date.isoformat())._asdict() for gone in demo.departures],  # type: ignore[arg-type]
        "measured": [one._asdict() for one in measures(demo.seed)],
    }
    return json.dumps(document, indent=1) + "\n"


def book_sheets(seed: int) -> dict[str, str]:
    """The sheets of the bench book, by the name of their file."""
    kept = drawers(seed)
    return {
        "spares.csv": write_spares(kept.spares),
        "roles.csv": write_roles(kept.roles),
        "recipes.csv": write_recipes(recipes()),
        "sources.csv": write_sources(deals()),
    }


def read_extra(text: str) -> Extra:
    """The inverse of `extra_json`."""
    document = json.loads(text)
    return Extra(
        tuple(Already(**{**word, "date": date.fromisoformat(word["date"])}) for word in document["already"]),
        tuple(Departure(**{**g, "date": date.fromisoformat(g["date"])}) for g in document["departures"]),
        tuple(Measured(**one) for one in document["measured"]),
    )


def write(demo: Demo, folder: Path) -> None:
    """Writes the sheets and extra.json into the folder, which is made if it is missing."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in (
        ("roster.csv", roster_sheet(demo.roster)),
        ("evenings.csv", evening_sheet(demo.evenings)),
        ("extra.json", extra_json(demo)),
        *book_sheets(demo.seed).items(),
    ):
        (folder / name).write_text(text, encoding="utf-8", newline="")


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    return value.isoformat() if isinstance(value, date) else str(value)


def _csv(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return out.getvalue()
