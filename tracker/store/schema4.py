"""Schema 4, frozen: how units rank up. What a ruler says of models, blocks, places, dry fits, bases before.

A reach is four texts, one number of mm per height band with blanks between them, "." where nothing is; all
four are empty where a model was not measured. `cuts` are the heights in mm where the bands part, with commas.
"""

from __future__ import annotations

from tracker.store.schema1 import undo_trigger

_DAY = "{0} GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date({0}) = {0}"
_EDGE = "{0} IN ('front', 'right', 'back', 'left')"

_TABLES = (
    """
    CREATE TABLE rank_rule (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL UNIQUE REFERENCES unit (id),
        cuts TEXT NOT NULL,
        gap_mm REAL NOT NULL CHECK (gap_mm >= 0),
        margin_mm REAL NOT NULL CHECK (margin_mm >= 0),
        turns TEXT NOT NULL CHECK (turns IN ('front', 'half', 'any')),
        front_most_mm INTEGER CHECK (front_most_mm >= 0),
        least_models INTEGER CHECK (least_models >= 0),
        least_percent REAL CHECK (least_percent BETWEEN 0 AND 100)
    ) STRICT
    """,
    f"""
    CREATE TABLE rank_model (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        model_id INTEGER NOT NULL UNIQUE REFERENCES model (id),
        front TEXT NOT NULL,
        right TEXT NOT NULL,
        back TEXT NOT NULL,
        left TEXT NOT NULL,
        base TEXT NOT NULL,
        cuts TEXT NOT NULL,
        turns TEXT NOT NULL CHECK (turns IN ('', 'front', 'half', 'any')),
        stems TEXT NOT NULL,
        place TEXT NOT NULL,
        measured_on TEXT CHECK (measured_on IS NULL OR ({_DAY.format("measured_on")}))
    ) STRICT
    """,
    """
    CREATE TABLE rank_block (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        kind TEXT NOT NULL CHECK (kind IN ('filler', 'large model', 'multi-base')),
        file INTEGER NOT NULL CHECK (file >= 1),
        rank INTEGER NOT NULL CHECK (rank >= 1),
        files INTEGER NOT NULL CHECK (files >= 1),
        ranks INTEGER NOT NULL CHECK (ranks >= 1),
        models INTEGER NOT NULL CHECK (models BETWEEN 0 AND files * ranks),
        model_id INTEGER REFERENCES model (id),
        name TEXT NOT NULL
    ) STRICT
    """,
    """
    CREATE TABLE rank_place (
        id INTEGER PRIMARY KEY,
        model_id INTEGER NOT NULL UNIQUE REFERENCES model (id),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        file INTEGER NOT NULL CHECK (file >= 1),
        rank INTEGER NOT NULL CHECK (rank >= 1),
        turn INTEGER NOT NULL CHECK (turn IN (0, 90, 180, 270)),
        stem_mm INTEGER NOT NULL CHECK (stem_mm >= 0),
        UNIQUE (unit_id, file, rank)
    ) STRICT
    """,
    f"""
    CREATE TABLE rank_check (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        first INTEGER NOT NULL REFERENCES model (id),
        first_edge TEXT NOT NULL CHECK ({_EDGE.format("first_edge")}),
        first_stem_mm INTEGER NOT NULL CHECK (first_stem_mm >= 0),
        second INTEGER NOT NULL REFERENCES model (id),
        second_edge TEXT NOT NULL CHECK ({_EDGE.format("second_edge")}),
        second_stem_mm INTEGER NOT NULL CHECK (second_stem_mm >= 0),
        mm REAL NOT NULL CHECK (mm >= 0),
        base TEXT NOT NULL,
        checked_on TEXT NOT NULL CHECK ({_DAY.format("checked_on")}),
        CHECK (first < second),
        UNIQUE (first, first_edge, first_stem_mm, second, second_edge, second_stem_mm, base)
    ) STRICT
    """,
    f"""
    CREATE TABLE base_before (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        base TEXT NOT NULL CHECK (base <> ''),
        until TEXT NOT NULL CHECK ({_DAY.format("until")})
    ) STRICT
    """,
    "CREATE INDEX rank_block_unit ON rank_block (unit_id)",
    "CREATE INDEX rank_check_second ON rank_check (second)",
    "CREATE INDEX base_before_unit ON base_before (unit_id)",
)

COLUMNS: dict[str, tuple[str, ...]] = {
    "rank_rule": (
        "id", "uid", "unit_id", "cuts", "gap_mm", "margin_mm", "turns", "front_most_mm", "least_models",
        "least_percent",
    ),
    "rank_model": (
        "id", "uid", "model_id", "front", "right", "back", "left", "base", "cuts", "turns", "stems", "place",
        "measured_on",
    ),
    "rank_block": (
        "id", "uid", "unit_id", "kind", "file", "rank", "files", "ranks", "models", "model_id", "name",
    ),
    "rank_place": ("id", "model_id", "unit_id", "file", "rank", "turn", "stem_mm"),
    "rank_check": (
        "id", "uid", "first", "first_edge", "first_stem_mm", "second", "second_edge", "second_stem_mm", "mm",
        "base", "checked_on",
    ),
    "base_before": ("id", "uid", "unit_id", "base", "until"),
}  # fmt: skip


def statements() -> tuple[str, ...]:
    """Every statement that makes a log of schema 3 one of schema 4, in order."""
    triggers = []
    for table, columns in COLUMNS.items():
        triggers += [
            undo_trigger(table, "insert", "NEW", columns[:1]),
            undo_trigger(table, "update", "OLD", columns),
            undo_trigger(table, "delete", "OLD", columns),
        ]
    return (*_TABLES, *triggers)
