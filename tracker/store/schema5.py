"""Schema 5, frozen: the bench book. Recipes, spares and roles, deals, points, photos, cures.

Lists of words (tags) stand in one text with line ends between them. Money is a decimal as text; the
currency beside it is three letters (ISO 4217). Versions and steps of a recipe are only ever added.
"""

from __future__ import annotations

from tracker.store.schema1 import undo_trigger

_DAY = "{0} GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date({0}) = {0}"
_MOMENT = "{0} GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]*'"
_HEAD = "id INTEGER PRIMARY KEY, uid TEXT NOT NULL UNIQUE CHECK (uid <> '')"


def _day(column: str) -> str:
    return f"{column} TEXT NOT NULL CHECK ({_DAY.format(column)})"


def _moment(column: str, *, needed: bool = True) -> str:
    test = _MOMENT.format(column)
    return f"{column} TEXT NOT NULL CHECK ({test})" if needed else f"{column} TEXT CHECK ({test})"


_TABLES = (
    f"""
    CREATE TABLE recipe (
        {_HEAD},
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        note TEXT NOT NULL,
        {_day("added_on")}
    ) STRICT
    """,
    f"""
    CREATE TABLE recipe_version (
        {_HEAD},
        recipe_id INTEGER NOT NULL REFERENCES recipe (id),
        number INTEGER NOT NULL CHECK (number >= 1),
        like_id INTEGER REFERENCES recipe_version (id),
        primer TEXT NOT NULL,
        note TEXT NOT NULL,
        {_day("made_on")},
        UNIQUE (recipe_id, number)
    ) STRICT
    """,
    f"""
    CREATE TABLE recipe_step (
        {_HEAD},
        version_id INTEGER NOT NULL REFERENCES recipe_version (id),
        place INTEGER NOT NULL CHECK (place >= 1),
        area TEXT NOT NULL CHECK (area <> ''),
        technique TEXT NOT NULL,
        paint TEXT NOT NULL,
        mix TEXT NOT NULL,
        medium TEXT NOT NULL,
        tool TEXT NOT NULL,
        sheen TEXT NOT NULL,
        certainty TEXT NOT NULL CHECK (certainty IN ('sure', 'probable', 'guess')),
        swatch TEXT NOT NULL CHECK (swatch = '' OR (length(swatch) = 7 AND substr(swatch, 1, 1) = '#'
            AND substr(swatch, 2) NOT GLOB '*[^0-9a-f]*')),
        reminder TEXT NOT NULL,
        UNIQUE (version_id, place)
    ) STRICT
    """,
    f"""
    CREATE TABLE recipe_use (
        {_HEAD},
        version_id INTEGER NOT NULL REFERENCES recipe_version (id),
        unit_id INTEGER REFERENCES unit (id),
        army_id INTEGER REFERENCES army (id),
        {_day("used_on")},
        CHECK ((unit_id IS NULL) <> (army_id IS NULL)),
        UNIQUE (version_id, unit_id, army_id)
    ) STRICT
    """,
    f"""
    CREATE TABLE paint_out (
        {_HEAD},
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        substitute TEXT NOT NULL,
        {_day("out_on")}
    ) STRICT
    """,
    f"""
    CREATE TABLE keeping (
        {_HEAD},
        model_id INTEGER NOT NULL UNIQUE REFERENCES model (id),
        height_mm REAL CHECK (height_mm > 0),
        material TEXT NOT NULL,
        base TEXT NOT NULL,
        state TEXT NOT NULL CHECK (state IN ('', 'bare', 'built', 'primed', 'begun', 'painted')),
        place TEXT NOT NULL,
        tags TEXT NOT NULL
    ) STRICT
    """,
    f"""
    CREATE TABLE role (
        {_HEAD},
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        name TEXT NOT NULL CHECK (name <> ''),
        kind TEXT NOT NULL,
        base TEXT NOT NULL,
        height_mm REAL CHECK (height_mm > 0),
        tags TEXT NOT NULL,
        model_id INTEGER UNIQUE REFERENCES model (id),
        stand_in TEXT NOT NULL CHECK (stand_in IN ('', 'stand-in', 'for good')),
        {_day("added_on")}
    ) STRICT
    """,
    f"""
    CREATE TABLE deal (
        {_HEAD},
        how TEXT NOT NULL CHECK (how IN ('bought', 'swapped', 'gifted', 'printed', 'found', 'sold',
            'swapped away', 'given away')),
        whom TEXT NOT NULL,
        amount TEXT,
        currency TEXT NOT NULL CHECK (currency = '' OR currency GLOB '[A-Z][A-Z][A-Z]'),
        postage TEXT,
        exchange TEXT NOT NULL,
        note TEXT NOT NULL,
        {_day("day")},
        CHECK (currency <> '' OR (amount IS NULL AND postage IS NULL))
    ) STRICT
    """,
    f"""
    CREATE TABLE deal_model (
        {_HEAD},
        deal_id INTEGER NOT NULL REFERENCES deal (id),
        model_id INTEGER NOT NULL REFERENCES model (id),
        UNIQUE (deal_id, model_id)
    ) STRICT
    """,
    f"""
    CREATE TABLE list_target (
        {_HEAD},
        army_id INTEGER NOT NULL UNIQUE REFERENCES army (id),
        points REAL NOT NULL CHECK (points > 0)
    ) STRICT
    """,
    f"""
    CREATE TABLE photo (
        {_HEAD},
        file TEXT NOT NULL CHECK (file <> '' AND file NOT GLOB '*[^0-9a-z.]*'),
        unit_id INTEGER REFERENCES unit (id),
        model_id INTEGER REFERENCES model (id),
        step TEXT NOT NULL,
        width_pixels INTEGER NOT NULL CHECK (width_pixels > 0),
        height_pixels INTEGER NOT NULL CHECK (height_pixels > 0),
        note TEXT NOT NULL,
        {_day("taken_on")},
        CHECK (unit_id IS NOT NULL OR model_id IS NOT NULL)
    ) STRICT
    """,
    f"""
    CREATE TABLE cure (
        {_HEAD},
        what TEXT NOT NULL CHECK (what <> ''),
        unit_id INTEGER REFERENCES unit (id),
        {_moment("begun_at")},
        low_hours REAL NOT NULL CHECK (low_hours >= 0),
        usual_hours REAL NOT NULL CHECK (usual_hours >= low_hours),
        high_hours REAL NOT NULL CHECK (high_hours >= usual_hours),
        {_moment("ended_at", needed=False)}
    ) STRICT
    """,
    f"""
    CREATE TABLE dried (
        {_HEAD},
        line_id INTEGER NOT NULL UNIQUE REFERENCES line (id),
        {_moment("dry_at")}
    ) STRICT
    """,
    f"""
    CREATE TABLE lead_free (
        {_HEAD},
        unit_id INTEGER NOT NULL UNIQUE REFERENCES unit (id),
        {_day("said_on")}
    ) STRICT
    """,
    "CREATE INDEX recipe_use_unit ON recipe_use (unit_id)",
    "CREATE INDEX role_unit ON role (unit_id)",
    "CREATE INDEX deal_model_model ON deal_model (model_id)",
    "CREATE INDEX photo_unit ON photo (unit_id)",
    "CREATE INDEX photo_model ON photo (model_id)",
    "CREATE INDEX cure_unit ON cure (unit_id)",
)

COLUMNS: dict[str, tuple[str, ...]] = {
    "recipe": ("id", "uid", "name", "name_key", "note", "added_on"),
    "recipe_version": ("id", "uid", "recipe_id", "number", "like_id", "primer", "note", "made_on"),
    "recipe_step": (
        "id", "uid", "version_id", "place", "area", "technique", "paint", "mix", "medium", "tool", "sheen",
        "certainty", "swatch", "reminder",
    ),
    "recipe_use": ("id", "uid", "version_id", "unit_id", "army_id", "used_on"),
    "paint_out": ("id", "uid", "name", "name_key", "substitute", "out_on"),
    "keeping": ("id", "uid", "model_id", "height_mm", "material", "base", "state", "place", "tags"),
    "role": (
        "id", "uid", "unit_id", "name", "kind", "base", "height_mm", "tags", "model_id", "stand_in",
        "added_on",
    ),
    "deal": (
        "id", "uid", "how", "whom", "amount", "currency", "postage", "exchange", "note", "day",
    ),
    "deal_model": ("id", "uid", "deal_id", "model_id"),
    "list_target": ("id", "uid", "army_id", "points"),
    "photo": (
        "id", "uid", "file", "unit_id", "model_id", "step", "width_pixels", "height_pixels", "note",
        "taken_on",
    ),
    "cure": (
        "id", "uid", "what", "unit_id", "begun_at", "low_hours", "usual_hours", "high_hours", "ended_at",
    ),
    "dried": ("id", "uid", "line_id", "dry_at"),
    "lead_free": ("id", "uid", "unit_id", "said_on"),
}  # fmt: skip


def statements() -> tuple[str, ...]:
    """Every statement that makes a log of schema 4 one of schema 5, in order."""
    triggers = []
    for table, columns in COLUMNS.items():
        triggers += [
            undo_trigger(table, "insert", "NEW", columns[:1]),
            undo_trigger(table, "update", "OLD", columns),
            undo_trigger(table, "delete", "OLD", columns),
        ]
    return (*_TABLES, *triggers)
