"""States that cannot be, however the rows came there: each a question to the tables."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal, InvalidOperation
from typing import Any, NamedTuple

from tracker.domain.answers_check import Found
from tracker.store.book import unreadable
from tracker.store.journal import Store
from tracker.store.ranks import unreadable_rank

_BURNS_HOURS_MOST = 24
_SEE_UNIT = "See its sheet and correct it: lastcoat unit show, lastcoat mark"
_AGAIN = "Say it again: lastcoat ranks"
_DOES = "lastcoat check --mend"


class _Question(NamedTuple):
    """A state that cannot be: rows of (id, what it is of, values for the words)."""

    code: str
    sql: str
    where: str
    what: str
    mend: str
    safe: bool = False


_OF_LINE = " FROM line JOIN session ON session.id = session_id JOIN unit ON unit.id = line.unit_id"
_OF_MODEL = " FROM model JOIN unit ON unit.id = model.unit_id"
_SHARED = " FROM rank_block JOIN unit ON unit.id = rank_block.unit_id"

_QUESTIONS = (
    _Question(
        "line-count",
        "SELECT line.id, line.step || ' of ' || unit.name || ' on ' || session.date, line.models,"  # noqa: S608
        " (SELECT count(*) FROM line_model WHERE line_id = line.id) AS told" + _OF_LINE
        + " WHERE line.models <> told",
        "{0}", "it says {1} models and names {2}", _SEE_UNIT,
    ),
    _Question(
        "line-strangers",
        "SELECT line.id, line.step || ' of ' || unit.name || ' on ' || session.date, count(*)" + _OF_LINE  # noqa: S608
        + " JOIN line_model ON line_id = line.id JOIN model ON model.id = line_model.model_id"
        " WHERE model.unit_id IS NOT line.unit_id AND NOT EXISTS (SELECT 1 FROM mark WHERE"
        " mark.model_id = model.id AND after_line >= line.id) GROUP BY line.id",
        "{0}", "it moves {1} models that never were in that unit", _SEE_UNIT,
    ),
    _Question(
        "evening-total",
        "SELECT session.id, session.date, sum(line.minutes) AS told, session.minutes FROM session"
        " JOIN line ON session_id = session.id GROUP BY session.id"
        " HAVING session.minutes IS NOT NULL AND told > session.minutes + 1e-6",
        "the evening of {0}", "its lines take {1:g} minutes and it had {2:g}",
        f"{_DOES} gives it the minutes of its lines", safe=True,
    ),
    _Question(
        "evening-day",
        "SELECT session.id, session.date, sum(line.minutes) AS told FROM session"
        " JOIN line ON session_id = session.id GROUP BY session.id HAVING told > 1440",
        "the evening of {0}", "its lines take {1:g} minutes, more than a day has",
        "Correct its lines on the screen of evenings",
    ),
    _Question(
        "future",
        "SELECT id, 'the evening of ' || date FROM session WHERE date > :last"
        " UNION ALL SELECT mark.id, 'a mark on ' || step || ' of ' || mark.date FROM mark WHERE date > :last"
        " UNION ALL SELECT id, 'a model that left on ' || left_on FROM model WHERE left_on > :last"
        " UNION ALL SELECT id, 'a photo of ' || taken_on FROM photo WHERE taken_on > :last"
        " UNION ALL SELECT 1, 'the lamp' FROM lamp WHERE substr(began, 1, 10) > :last",
        "{0}", "it lies in the future", "Was the clock wrong? lastcoat undo takes it back",
    ),
    _Question(
        "left-first",
        f"SELECT model.id, 'model ' || number || ' of ' || unit.name, left_on, model.added_on{_OF_MODEL}"
        " WHERE left_on < model.added_on",
        "{0}", "it left on {1}, before it came on {2}", f"{_DOES} lets it have come by then", safe=True,
    ),
    _Question(
        "worked-first",
        "SELECT model.id, 'model ' || model.number || coalesce(' of ' || unit.name, ''), min(day),"
        " model.added_on"
        " FROM (SELECT model_id, date AS day FROM mark UNION ALL SELECT model_id, date FROM line_model"
        " JOIN line ON line.id = line_id JOIN session ON session.id = session_id)"
        " JOIN model ON model.id = model_id LEFT JOIN unit ON unit.id = model.unit_id"
        " WHERE day < model.added_on GROUP BY model.id",
        "{0}", "something was done on it on {1}, before it came on {2}",
        f"{_DOES} lets it have come by then", safe=True,
    ),
    _Question(
        "spare-numbers",
        "SELECT max(id), number, count(*) AS alike FROM model WHERE unit_id IS NULL"
        " GROUP BY number HAVING alike > 1",
        "spare {0}", "{1} spares have that number", f"{_DOES} numbers them on", safe=True,
    ),
    _Question(
        "no-models",
        "SELECT id, name FROM unit WHERE open_ended = 1"
        " AND NOT EXISTS (SELECT 1 FROM line WHERE unit_id = unit.id)"
        " AND NOT EXISTS (SELECT 1 FROM model WHERE unit_id = unit.id)",
        "{0}", "it has as many models as its lines show, and no line",
        "Say how many in a roster sheet: lastcoat import roster; or log a line of it",
    ),
    _Question(
        "place",
        "SELECT rank_place.id, unit.name, rank_place.file, rank_place.rank FROM rank_place"
        " JOIN unit ON unit.id = rank_place.unit_id JOIN model ON model.id = model_id"
        " WHERE model.unit_id IS NOT rank_place.unit_id OR rank_place.file > unit.files",
        "the ranks of {0}", "file {1}, rank {2} is held by a model that cannot stand there",
        f"{_DOES} frees the place", safe=True,
    ),
    _Question(
        "block",
        f"SELECT rank_block.id, unit.name, file, rank{_SHARED} WHERE file + rank_block.files - 1 > unit.files"
        f" UNION SELECT rank_block.id, unit.name, file, rank{_SHARED} JOIN model ON model.id = model_id"
        " WHERE model.unit_id IS NOT rank_block.unit_id",
        "the ranks of {0}", "the larger base at file {1}, rank {2} cannot stand there", _AGAIN,
    ),
    _Question(
        "recipe-versions",
        "SELECT recipe.id, recipe.name, count(number), coalesce(max(number), 0) FROM recipe"
        " LEFT JOIN recipe_version ON recipe_id = recipe.id GROUP BY recipe.id"
        " HAVING count(number) = 0 OR count(number) <> max(number)",
        "the recipe {0}", "it has {1} versions and the last is number {2}",
        "Copy what is there and drop it: lastcoat recipe copy, lastcoat recipe drop",
    ),
    _Question(
        "role",
        "SELECT role.id, role.name || ' in ' || unit.name FROM role JOIN model ON model.id = role.model_id"
        " JOIN unit ON unit.id = role.unit_id WHERE model.unit_id IS NOT role.unit_id",
        "the role {0}", "a model of another unit has taken it", f"{_DOES} lets it wait again", safe=True,
    ),
    _Question(
        "cure",
        "SELECT id, what, begun_at, ended_at FROM cure WHERE julianday(ended_at) < julianday(begun_at)",
        "the timer {0}", "it ended at {2}, before it began at {1}",
        f"{_DOES} lets it end when it began", safe=True,
    ),
)  # fmt: skip


def look_at_states(store: Store, now: datetime) -> list[Found]:
    """Everything that cannot be, as of the moment `now` (with its offset from UTC)."""
    last = (now.date() + timedelta(days=1)).isoformat()
    found = [one for question in _QUESTIONS for one in _ask(store, question, last)]
    return [*found, *_lamp(store, now), *_money(store), *_records(store)]


def _ask(store: Store, question: _Question, last: str) -> Iterator[Found]:
    values: Any = {"last": last} if ":last" in question.sql else ()
    for number, *said in store.rows(question.sql, values):
        what = question.what.format(*said)
        yield Found(
            question.code, question.where.format(*said), what, question.mend, question.safe, (int(number),)
        )


def _lamp(store: Store, now: datetime) -> Iterator[Found]:
    """The session that is running, and its rests."""
    lit = store.rows("SELECT began FROM lamp")
    rests = store.rows("SELECT id, began, ended FROM lamp_rest ORDER BY id")
    try:
        began = datetime.fromisoformat(lit[0][0]) if lit else None
        told = [(n, datetime.fromisoformat(a), datetime.fromisoformat(b) if b else None) for n, a, b in rests]
    except ValueError:
        yield Found("lamp", "the lamp", "a moment of it cannot be read", "Count nothing: lastcoat lamp back")
        return
    if began is not None and now - began > timedelta(hours=_BURNS_HOURS_MOST):
        what = f"its session began at {began:%Y-%m-%d %H:%M} and never ended"
        yield Found(
            "lamp",
            "the lamp",
            what,
            "Say when it did: lastcoat lamp off --at 22:30; or count nothing: lastcoat lamp back",
        )
    yield from _rests(began, told)


def _rests(began: datetime | None, rests: list[tuple[int, datetime, datetime | None]]) -> Iterator[Found]:
    for place, (number, start, end) in enumerate(rests):
        what = ""
        if began is None or start < began:
            what = "it began before its session"
        elif end is not None and end < start:
            what = "it ends before it begins"
        elif end is None and place < len(rests) - 1:
            what = "it has no end, and another one came after"
        if what:
            mend = f"{_DOES} forgets it"
            yield Found("rest", f"a rest of the lamp at {start:%H:%M}", what, mend, safe=True, rows=(number,))


def _money(store: Store) -> Iterator[Found]:
    for number, *money in store.rows("SELECT id, amount, postage FROM deal ORDER BY id"):
        for said in money:
            if said is not None and not _is_money(said):
                mend = "Say it again: lastcoat source set"
                yield Found("money", f"deal {number}", f'"{said}" is no amount', mend, rows=(number,))


def _is_money(said: str) -> bool:
    try:
        amount = Decimal(said)
    except InvalidOperation:
        return False
    return amount.is_finite() and amount >= 0


def _records(store: Store) -> Iterator[Found]:
    """Rows that pass SQLite's tests and nobody can read."""
    restore = "Go back to a backup, or: lastcoat check --salvage FILE.json"
    if (wrong := unreadable_rank(store)) is not None:
        yield Found("value", f"the ranks, row {wrong}", "it cannot be read", restore)
    if (row := unreadable(store)) is not None:
        yield Found("value", f"row {row}", "it cannot be read", restore)
