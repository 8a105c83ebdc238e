"""docs/schema.md: the tables of a log, read from one that was just made."""

from __future__ import annotations

import sqlite3
import tempfile
from pathlib import Path

from tests.docs.places import NOTE
from tracker.workbench.desk import Desk

TABLES = {
    "army": "An army: a name that units belong to.",
    "unit": "A unit of miniatures, what it is made of, its goal and its finish line.",
    "route_step": "The steps of a unit, in order.",
    "own_step": "A step that the person named or renamed, and the wait they gave a step.",
    "model": "One miniature; one without a unit is a spare. A model that left keeps its row.",
    "session": "One evening, with its total minutes where they were said.",
    "line": "One step on some models of one unit, done in one evening.",
    "line_model": "Which models a line moved on.",
    "mark": "The person's own word on where a model stands with a step, beside what the lines say.",
    "lamp": "At most one row: the session that is running, and when it began.",
    "lamp_rest": "A time in which the running session was paused; one without an end goes on.",
    "declared": "Evenings to come as the person declared them: by a rule, one by one, or days away.",
    "goal": "What must be table-ready by a day: units, a number of models, or points.",
    "goal_unit": "Which units a goal asks for.",
    "rank_rule": "How a unit is to be ranked: spare room, margin, turns, minimum model count.",
    "rank_model": "What a ruler says of a model, how it may be turned, the place it keeps.",
    "rank_block": "A larger base on several places of a unit: a filler, a large model, a shared base.",
    "rank_place": "Where a model stands in its unit, and how it is turned.",
    "rank_check": "Two models tried by hand, edge to edge: 0 where they fit, else the mm they clash by.",
    "base_before": "A base that a unit had before the one it has, and the day it was given up.",
    "recipe": "A recipe by its name; what it says stands in its versions.",
    "recipe_version": "What a recipe said from a day on; never changed, a change makes another one.",
    "recipe_step": "One step on one area of a version, paints in the person's own words.",
    "recipe_use": "A unit, or a whole army, that is painted by one version of a recipe.",
    "paint_out": "A paint that ran out, and what is used since.",
    "keeping": "What is noted of a spare: height, material, base, how far it has come, where it lies, tags.",
    "role": "A place in a unit that a model is wanted for, and who has taken it.",
    "deal": "Something came in or went out; money is a decimal with its currency.",
    "deal_model": "A model that a deal was about; the money is shared equally among them.",
    "list_target": "So many points the list of an army is meant to have.",
    "photo": "A picture of a unit or model; the file lies beside the log, named by its content.",
    "cure": "Something that cures by itself, from when, and in how many hours.",
    "dried": "The person's word that a logged step was dry, whatever the usual wait.",
    "lead_free": "A unit of metal that is known to hold no lead.",
    "draft": "At most one row: the half-typed evening. Typing is no change, so undo does not know it.",
    "change": "One change that can be taken back, in words.",
    "change_row": "How to take one row of a change back.",
    "journal_head": "One row: the change that is open, and a number that differs after every change.",
    "seal": "Rows and digest of each table, so that `lastcoat check` sees a value that was damaged.",
    "change_seal": "The same of what is kept to take one change back.",
    "kept_fit": "What was learned from one state of the log, so that the same question is quick.",
    "_sqlite_migrations": "Which numbered schemas this file went through; kept by sqlite-utils.",
}
"""Table -> what one row of it is."""

_INTRODUCTION = """\
A log is one SQLite file. This is schema {}. Days are ISO dates; a text that is not known is empty, a
number that is not known is NULL."""


def schema_page() -> str:
    """The whole page."""
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "log.db"
        with Desk(str(path)).open(create=True) as store:
            return _page(store.connection)


def _page(log: sqlite3.Connection) -> str:
    version = log.execute("PRAGMA user_version").fetchone()[0]
    names = [row[0] for row in log.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    known = [name for name in TABLES if name in names]
    unsaid = sorted(name for name in names if name not in TABLES and not name.startswith("sqlite_"))
    parts = [
        f"{NOTE}\n# The tables of a log",
        _INTRODUCTION.format(version),
    ]
    for name in known + unsaid:
        parts += [f"## {name}", TABLES.get(name, "?"), _columns(log, name)]
    return "\n\n".join(parts) + "\n"


def _columns(log: sqlite3.Connection, table: str) -> str:
    points = {row[3]: f"{row[2]}.{row[4]}" for row in log.execute(f"PRAGMA foreign_key_list({table})")}
    lines = ["| column | type | may be NULL | points to |", "|---|---|---|---|"]
    for _, name, kind, needed, _, key in log.execute(f"PRAGMA table_info({table})"):
        empty = "" if needed or key else "yes"
        lines.append(f"| `{name}` | {kind} | {empty} | {points.get(name, '')} |")
    return "\n".join(_without_numbered(lines))


def _without_numbered(lines: list[str]) -> list[str]:
    """The twenty-odd alike columns of the journal as one row."""
    alike = [line for line in lines if line.startswith("| `v") and line[4].isdigit()]
    if len(alike) < 2:
        return lines
    last = alike[-1].split("`")[1]
    at = lines.index(alike[0])
    return [*lines[:at], alike[0].replace("`v0`", f"`v0` … `{last}`"), *lines[at + len(alike) :]]
