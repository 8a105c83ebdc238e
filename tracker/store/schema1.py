"""Schema 1, frozen: what it says never changes again; later schemas are changes to it.

Names are unique by `name_key`, the folded name. `import_key` is the content a line was imported
with. Every row that a person makes has a `uid`, so that two logs can be told apart and joined.
"""

from __future__ import annotations

_DAY = "{0} GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' AND date({0}) = {0}"

_TABLES = (
    """
    CREATE TABLE army (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE
    ) STRICT
    """,
    f"""
    CREATE TABLE unit (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        army_id INTEGER NOT NULL REFERENCES army (id),
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL,
        kind TEXT NOT NULL,
        material TEXT NOT NULL,
        standard TEXT NOT NULL,
        base TEXT NOT NULL,
        files INTEGER CHECK (files >= 1),
        ranks INTEGER CHECK (ranks >= 1),
        points REAL CHECK (points >= 0),
        guess_minutes REAL CHECK (guess_minutes >= 0),
        goal_date TEXT CHECK (goal_date IS NULL OR {_DAY.format("goal_date")}),
        goal TEXT NOT NULL,
        place INTEGER,
        source TEXT NOT NULL,
        cost TEXT NOT NULL,
        note TEXT NOT NULL,
        finish_line TEXT NOT NULL,
        open_ended INTEGER NOT NULL CHECK (open_ended IN (0, 1)),
        added_on TEXT NOT NULL CHECK ({_DAY.format("added_on")}),
        UNIQUE (army_id, name_key)
    ) STRICT
    """,
    """
    CREATE TABLE route_step (
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        place INTEGER NOT NULL CHECK (place >= 1),
        step TEXT NOT NULL CHECK (step <> ''),
        PRIMARY KEY (unit_id, place)
    ) STRICT, WITHOUT ROWID
    """,
    """
    CREATE TABLE own_step (
        id INTEGER PRIMARY KEY,
        name TEXT NOT NULL CHECK (name <> ''),
        name_key TEXT NOT NULL UNIQUE,
        catalogue TEXT NOT NULL,
        wait_hours REAL CHECK (wait_hours >= 0)
    ) STRICT
    """,
    f"""
    CREATE TABLE model (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        unit_id INTEGER REFERENCES unit (id),
        number INTEGER NOT NULL CHECK (number >= 1),
        name TEXT NOT NULL,
        kind TEXT NOT NULL,
        note TEXT NOT NULL,
        added_on TEXT NOT NULL CHECK ({_DAY.format("added_on")}),
        left_on TEXT CHECK (left_on IS NULL OR {_DAY.format("left_on")}),
        left_how TEXT NOT NULL,
        UNIQUE (unit_id, number)
    ) STRICT
    """,
    f"""
    CREATE TABLE session (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        date TEXT NOT NULL CHECK ({_DAY.format("date")}),
        label TEXT NOT NULL,
        start TEXT NOT NULL CHECK (start = '' OR start GLOB '[0-2][0-9]:[0-5][0-9]'),
        minutes REAL CHECK (minutes >= 0 AND minutes <= 1440),
        UNIQUE (date, label)
    ) STRICT
    """,
    """
    CREATE TABLE line (
        id INTEGER PRIMARY KEY,
        uid TEXT NOT NULL UNIQUE CHECK (uid <> ''),
        session_id INTEGER NOT NULL REFERENCES session (id),
        unit_id INTEGER NOT NULL REFERENCES unit (id),
        step TEXT NOT NULL CHECK (step <> ''),
        models INTEGER NOT NULL CHECK (models >= 0),
        minutes REAL CHECK (minutes >= 0 AND minutes <= 1440),
        finished INTEGER NOT NULL CHECK (finished IN (0, 1)),
        guess_minutes REAL CHECK (guess_minutes >= 0),
        note TEXT NOT NULL,
        import_key TEXT NOT NULL
    ) STRICT
    """,
    """
    CREATE TABLE line_model (
        line_id INTEGER NOT NULL REFERENCES line (id),
        model_id INTEGER NOT NULL REFERENCES model (id),
        PRIMARY KEY (line_id, model_id)
    ) STRICT, WITHOUT ROWID
    """,
    f"""
    CREATE TABLE mark (
        id INTEGER PRIMARY KEY,
        model_id INTEGER NOT NULL REFERENCES model (id),
        step TEXT NOT NULL CHECK (step <> ''),
        state TEXT NOT NULL CHECK (state IN ('not yet', 'in hand', 'done', 'skipped')),
        date TEXT NOT NULL CHECK ({_DAY.format("date")}),
        after_line INTEGER NOT NULL
    ) STRICT
    """,
    "CREATE INDEX line_session ON line (session_id)",
    "CREATE INDEX line_unit ON line (unit_id, step)",
    "CREATE INDEX line_model_model ON line_model (model_id)",
    "CREATE INDEX mark_model ON mark (model_id)",
)

_COLUMNS: dict[str, tuple[str, ...]] = {
    "army": ("id", "uid", "name", "name_key"),
    "unit": (
        "id", "uid", "army_id", "name", "name_key", "kind", "material", "standard", "base", "files",
        "ranks", "points", "guess_minutes", "goal_date", "goal", "place", "source", "cost", "note",
        "finish_line", "open_ended", "added_on",
    ),
    "route_step": ("unit_id", "place", "step"),
    "own_step": ("id", "name", "name_key", "catalogue", "wait_hours"),
    "model": (
        "id", "uid", "unit_id", "number", "name", "kind", "note", "added_on", "left_on", "left_how",
    ),
    "session": ("id", "uid", "date", "label", "start", "minutes"),
    "line": (
        "id", "uid", "session_id", "unit_id", "step", "models", "minutes", "finished",
        "guess_minutes", "note", "import_key",
    ),
    "line_model": ("line_id", "model_id"),
    "mark": ("id", "model_id", "step", "state", "date", "after_line"),
}  # fmt: skip
_TWO_KEYS = ("route_step", "line_model")
_WIDEST = 22

_JOURNAL = (
    """
    CREATE TABLE change (
        id INTEGER PRIMARY KEY,
        verb TEXT NOT NULL,
        words TEXT NOT NULL,
        at TEXT NOT NULL,
        undone INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
    ) STRICT
    """,
    # ANY in a strict table keeps each value as it came: a number to the last bit, a text to the
    # last control character, nothing as nothing.
    "CREATE TABLE change_row (id INTEGER PRIMARY KEY,"
    " change_id INTEGER NOT NULL REFERENCES change (id) ON DELETE CASCADE,"
    " table_name TEXT NOT NULL, act TEXT NOT NULL CHECK (act IN ('insert', 'update', 'delete')), "
    + ", ".join(f"v{i} ANY" for i in range(_WIDEST))
    + ") STRICT",
    "CREATE INDEX change_row_change ON change_row (change_id)",
    """
    CREATE TABLE journal_head (
        id INTEGER PRIMARY KEY CHECK (id = 1),
        open_change INTEGER,
        state INTEGER NOT NULL
    ) STRICT
    """,
    "INSERT INTO journal_head (id, open_change, state) VALUES (1, NULL, 1)",
    """
    CREATE TABLE kept_fit (
        name TEXT PRIMARY KEY,
        log_state TEXT NOT NULL,
        version TEXT NOT NULL,
        blob BLOB NOT NULL
    ) STRICT
    """,
)


def undo_trigger(table: str, act: str, row: str, columns: tuple[str, ...]) -> str:
    """How to take one row's change back. Outside of an open change it fails: `change_id` is NOT NULL."""
    into = ", ".join(f"v{i}" for i in range(len(columns)))
    values = ", ".join(f"{row}.{column}" for column in columns)
    made = f"CREATE TRIGGER {table}_{act} AFTER {act} ON {table} BEGIN "
    kept = f"INSERT INTO change_row (change_id, table_name, act, {into}) "
    said = f"VALUES ((SELECT open_change FROM journal_head), '{table}', '{act}', {values}); END"  # noqa: S608
    return made + kept + said


def statements() -> tuple[str, ...]:
    """Every statement that makes an empty file a log of schema 1, in order."""
    triggers = []
    for table, columns in _COLUMNS.items():
        keys = columns[:2] if table in _TWO_KEYS else columns[:1]
        triggers += [
            undo_trigger(table, "insert", "NEW", keys),
            undo_trigger(table, "update", "OLD", columns),
            undo_trigger(table, "delete", "OLD", columns),
        ]
    return (*_TABLES, *_JOURNAL, *triggers)
