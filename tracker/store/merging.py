"""Joining another log to ours by record identity: nothing doubled, nothing of either side lost.

A row is known by its uid. What a journal still knows of the past tells who moved on:

    theirs was once what ours is now  ->  theirs moved on, and is taken
    ours was once what theirs is now  ->  ours moved on, and stays
    neither or both                   ->  a clash: ours stays, unless theirs is wanted

This is asked column by column. There are no tombstones: what one side took out comes back from the other.
"""

from __future__ import annotations

import sqlite3
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from tracker.domain.merged import Clash
from tracker.store import book_gone
from tracker.store.journal import Store
from tracker.store.merge_fit import NAMED, NUMBERED, find, fit, overlapping, same_but_for_number
from tracker.store.merge_groups import join_groups
from tracker.store.merge_marks import join_marks
from tracker.store.merge_names import name_of, said
from tracker.store.merge_sides import GROUPS, ORDER, Row, Side, who_moved
from tracker.store.ranks import forget_places
from tracker.store.units import name_key

ONE_OF = {
    "army": ("name_key",),
    "own_step": ("name_key",),
    "paint_out": ("name_key",),
    "goal": ("name_key",),
    "declared": ("kind", "first", "last", "rule", "without", "minutes"),
    "rank_rule": ("unit_id",),
    "rank_model": ("model_id",),
    "rank_check": ("first", "first_edge", "first_stem_mm", "second", "second_edge", "second_stem_mm", "base"),
    "base_before": ("unit_id", "base", "until"),
    "recipe_use": ("version_id", "unit_id", "army_id"),
    "keeping": ("model_id",),
    "deal_model": ("deal_id", "model_id"),
    "list_target": ("army_id",),
    "dried": ("line_id",),
    "lead_free": ("unit_id",),
}
"""Tables of which there is one row for these values: the same said on two machines is one thing."""
_DAY_SAID = ("said_on", "out_on", "used_on")
"""Where two machines said the same, the day they said it is no difference."""
_NO_MATTER = ("id", "uid", "name_key")
_STEPS = {"line": "step", "photo": "step", "unit": "finish_line"}
_SWAPPED = {"first": "second", "first_edge": "second_edge", "first_stem_mm": "second_stem_mm"}


class Joining:
    """One log on its way into another, inside an open change of ours."""

    def __init__(self, ours: Store, theirs: Store, *, take_theirs: bool = False) -> None:
        self.store = ours
        self.ours, self.theirs = Side(ours), Side(theirs)
        self.take_theirs = take_theirs
        self.ids: dict[str, dict[int, int]] = {table: {} for table in ORDER}
        """Table -> their id -> ours."""
        self.again: dict[str, dict[int, int]] = {table: {} for table in ORDER}
        """Table -> id of a row that ours once had -> its id now that it came back."""
        self.steps: dict[str, str] = {}
        """Their spelling of a step of the person's own -> ours."""
        self.added: Counter[str] = Counter()
        self.same = self.taken = self.kept = 0
        self.clashes: list[Clash] = []
        self.notes: list[str] = []
        self.numbers: dict[int | None, list[tuple[int, int]]] = {}
        """Unit -> (their number, ours) of models that got another number."""
        self._sheet_lines: dict[int, int] = {}
        self._new_lines: set[int] = set()

    def join(self) -> None:
        """Bring in what ours does not have, table by table."""
        for table in ORDER:
            if table == "session":
                self._sheet_lines = _lines_of_the_same_sheets(self)
            if table == "mark":
                join_marks(self)
            elif table in GROUPS:
                join_groups(self, table)
            else:
                self._table(table)
        self._raise_totals()
        self._tell_of_the_same_models()

    def told(self) -> list[str]:
        """What came in otherwise than it was there."""
        numbered = []
        for unit, pairs in self.numbers.items():
            whose = (
                self.store.rows("SELECT name FROM unit WHERE id = ?", (unit,)) if unit else [("the spares",)]
            )
            there, here = (", ".join(str(pair[side]) for pair in pairs) for side in (0, 1))
            numbered.append(f"their models {there} of {whose[0][0]} are {here} here: the numbers were taken")
        return self.notes + numbered

    def in_ours(self, table: str, row: Row) -> Row | None:
        """Their row with references and step names as they are here; None where one is not here."""
        out = dict(row)
        for column, other in self.theirs.refers[table].items():
            if row[column] is not None:
                out[column] = self.ids[other].get(row[column])
                if out[column] is None:
                    return None
        if table in _STEPS:
            out[_STEPS[table]] = self.steps.get(row[_STEPS[table]], row[_STEPS[table]])
        if table == "rank_check" and out["first"] > out["second"]:
            out |= {a: out[b] for a, b in _SWAPPED.items()} | {b: out[a] for a, b in _SWAPPED.items()}
        return out

    def clash(self, table: str, owner: Row, field: str, ours: Any, theirs: Any) -> bool:
        """Note that both say something else; whether theirs is to be taken."""
        kept = "theirs" if self.take_theirs else "ours"
        self.clashes.append(
            Clash(table, name_of(self.store, table, owner), field, said(self.store, field, ours),
                  said(self.store, field, theirs), kept)
        )  # fmt: skip
        return self.take_theirs

    @contextmanager
    def tried(self, table: str, row: Row) -> Iterator[None]:
        """What the log refuses inside the block is a clash where ours stays, and nothing is half done."""
        self.store.connection.execute("SAVEPOINT joining")
        try:
            yield
        except sqlite3.IntegrityError:
            self.store.connection.execute("ROLLBACK TO joining")
            what = name_of(self.store, table, row)
            self.clashes.append(Clash(table, what, "*", "does not allow it", "stays out", "ours"))
        finally:
            self.store.connection.execute("RELEASE joining")

    def _table(self, table: str) -> None:
        identity = "uid" if "uid" in self.ours.columns[table] else "name_key"
        known = {row[identity]: row for row in self.ours.rows(table)}
        pairs: dict[int, Row] = {}
        theirs = self.theirs.rows(table)
        for row in theirs:
            if (mine := known.pop(row[identity], None)) is not None:
                pairs[row["id"]] = mine
                self.ids[table][row["id"]] = mine["id"]
        free = {row["id"]: row for row in known.values()}
        for row in theirs:
            mapped = self.in_ours(table, row)
            if mapped is None:
                self.clashes.append(_left_out(self, table, row))
                continue
            mine = pairs.get(row["id"]) or self._alike(table, row, mapped, free)
            if mine is None:
                self._add(table, row, mapped)
            else:
                self.ids[table][row["id"]] = mine["id"]
                self._meet(table, row, mapped, mine)

    def _alike(self, table: str, row: Row, mapped: Row, free: dict[int, Row]) -> Row | None:
        """A row of ours that is the same thing although the two were made apart; each speaks for one."""
        number = None
        if table == "line":
            number = self._sheet_lines.get(row["id"])
        elif table == "session":
            number = _evening_of_sheet_lines(self, row)
        elif table in ONE_OF:
            number = find(self.store, table, {column: mapped[column] for column in ONE_OF[table]})
        if number in free and table != "session":
            return free.pop(number)
        return free.get(number) if number is not None else None

    def _add(self, table: str, row: Row, mapped: Row) -> None:
        if table == "rank_block" and not self._room_for_block(mapped):
            return
        fitted, notes = fit(self.store, table, mapped, None)
        with self.tried(table, mapped):
            values = {column: value for column, value in fitted.items() if column != "id"}
            self.ids[table][row["id"]] = self.store.insert(table, **values)
            self.added[table] += 1
            self.notes += notes
            gone = [number for number, uid in self.ours.gone.get(table, {}).items() if uid == row.get("uid")]
            self.again[table] |= dict.fromkeys(gone, self.ids[table][row["id"]])
            if table == "line":
                self._new_lines.add(row["id"])
            if table == "model" and fitted["number"] != row["number"]:
                self.numbers.setdefault(fitted["unit_id"], []).append((row["number"], fitted["number"]))

    def _room_for_block(self, block: Row) -> bool:
        lying = overlapping(self.store, block | {"id": None})
        if not lying:
            return True
        if not self.clash("rank_block", block, "*", "another larger base lies there", "a larger base"):
            return False
        for number in lying:
            self.store.connection.execute("DELETE FROM rank_block WHERE id = ?", (number,))
        return True

    def _meet(self, table: str, row: Row, mapped: Row, mine: Row) -> None:
        """Both have it: what differs is taken, stays, or is a clash."""
        differing = self._differing(table, mapped, mine)
        if table == "own_step" and mine["name"] != row["name"]:
            self.steps[row["name"]] = mine["name"]
        take, stays = [], False
        for column in differing:
            moved = self._who_moved(table, row, mine, mapped, column)
            wanted = moved == "theirs"
            stays = stays or moved == "ours"
            if moved is None:
                wanted = self.clash(table, mine, column, mine[column], mapped[column])
            take += [column] if wanted else []
        self.same += not differing
        self.kept += stays
        if take:
            self._take(table, mine, {column: mapped[column] for column in take})

    def _differing(self, table: str, mapped: Row, mine: Row) -> list[str]:
        skipped = {*_NO_MATTER, *(("number",) if table in NUMBERED else ())}
        if mapped.get("uid") != mine.get("uid"):
            skipped |= {*_DAY_SAID, *(("name",) if table in ("army", "paint_out", "goal") else ())}
        if table in ("line", "session") and mapped["uid"] != mine["uid"]:
            return []
        if table == "own_step":
            skipped.add("name")
        out = [column for column in mine if column not in skipped and mine[column] != mapped[column]]
        named = NAMED.get(table)
        if named and named.column in out and same_but_for_number(mine[named.column], mapped[named.column]):
            out.remove(named.column)
        return out

    def _who_moved(self, table: str, row: Row, mine: Row, mapped: Row, column: str) -> str | None:
        ours_then = [self.ours_then(table, column, past[column]) for past in self.ours.earlier(table, mine)]
        theirs_then = [
            self.theirs_then(table, column, past[column]) for past in self.theirs.earlier(table, row)
        ]
        return who_moved([*ours_then, mine[column]], [*theirs_then, mapped[column]])

    def ours_then(self, table: str, column: str, value: Any) -> Any:
        """A value that ours once had, with a reference as it is now."""
        other = self.ours.refers[table].get(column)
        return self.again[other].get(value, value) if other else value

    def theirs_then(self, table: str, column: str, value: Any) -> Any:
        """A value that theirs once had, with references and step names as they are here."""
        other = self.theirs.refers[table].get(column)
        if other and value is not None and value not in self.ids[other]:
            uid = self.theirs.gone.get(other, {}).get(value)
            return find(self.store, other, {"uid": uid}) if uid else None
        if other and value is not None:
            return self.ids[other][value]
        return self.steps.get(value, value) if column in ("step", "finish_line") else value

    def _take(self, table: str, mine: Row, values: Row) -> None:
        """Bring a row of ours to what theirs says."""
        named = NAMED.get(table)
        if "name" in values and "name_key" in mine:
            values["name_key"] = name_key(values["name"])
        with self.tried(table, mine):
            if table == "model" and "unit_id" in values:
                forget_places(self.store, [mine["id"]])
                book_gone.models_moved(self.store, [mine["id"]])
            needs_fit = named is not None or table in (*NUMBERED, "role", "rank_block")
            fitted, notes = (
                fit(self.store, table, mine | values, mine["id"]) if needs_fit else (mine | values, [])
            )
            changed = {column: fitted[column] for column in mine if fitted[column] != mine[column]}
            if changed:
                self.store.update(table, mine["id"], **changed)
                self.taken += 1
                self.notes += notes

    def _raise_totals(self) -> None:
        """An evening has at least the minutes its lines have."""
        for number, day, total, timed in self.store.rows(
            "SELECT session.id, date, session.minutes, min(1440.0, sum(line.minutes)) AS timed FROM session"
            " JOIN line ON line.session_id = session.id WHERE session.minutes IS NOT NULL"
            " GROUP BY session.id HAVING timed > session.minutes + 1e-6 ORDER BY session.id"
        ):
            self.store.update("session", number, minutes=timed)
            self.notes.append(
                f"the evening of {day} has {timed:g} min now, as its lines do (it had {total:g})"
            )

    def _tell_of_the_same_models(self) -> None:
        """Both machines may have chosen the lowest numbers for models that were others on the desk."""
        known = set(self.ids["line"].values())
        came = {self.ids["line"][their_id] for their_id in self._new_lines}
        told: dict[tuple[int, str], set[int]] = {}
        for line, other, unit, step, number in self.store.rows(
            "SELECT line.id, other.id, line.unit_id, line.step, number FROM line"
            " JOIN line_model ON line_model.line_id = line.id JOIN model ON model.id = line_model.model_id"
            " JOIN line_model AS its ON its.model_id = model.id JOIN line AS other ON other.id = its.line_id"
            " WHERE line.finished AND other.finished AND other.step = line.step AND other.id < line.id"
        ):
            if line in came and other not in known:
                told.setdefault((unit, step), set()).add(number)
        for (unit, step), numbers in told.items():
            name = self.store.rows("SELECT name FROM unit WHERE id = ?", (unit,))[0][0]
            listed = ", ".join(map(str, sorted(numbers)))
            self.notes.append(
                f"both logs have {step} on {name} {listed}: if theirs were others, lastcoat mark tells it"
            )


def _left_out(joining: Joining, table: str, row: Row) -> Clash:
    what = name_of(joining.theirs.store, table, row)
    return Clash(table, what, "*", "does not have what it belongs to", "stays out", "ours")


def _lines_of_the_same_sheets(joining: Joining) -> dict[int, int]:
    """Their line -> our line that came from the same row of a sheet, read in on both machines."""
    theirs = joining.theirs.rows("line")
    ours = joining.ours.rows("line")
    both = {row["uid"] for row in theirs} & {row["uid"] for row in ours}
    waiting: dict[tuple[str, int], list[int]] = {}
    for row in reversed(ours):
        if row["import_key"] and row["uid"] not in both:
            waiting.setdefault((row["import_key"], row["unit_id"]), []).append(row["id"])
    found = {}
    for row in theirs:
        same = waiting.get((row["import_key"], joining.ids["unit"].get(row["unit_id"], 0)))
        if same and row["uid"] not in both:
            found[row["id"]] = same.pop()
    return found


def _evening_of_sheet_lines(joining: Joining, session: Row) -> int | None:
    """Our evening that holds the same rows of a sheet as all lines of theirs."""
    lines = [row[0] for row in joining.theirs.store.rows(
        "SELECT id FROM line WHERE session_id = ?", (session["id"],))]  # fmt: skip
    if not lines or any(line not in joining._sheet_lines for line in lines):  # noqa: SLF001 - the same module
        return None
    ours = joining._sheet_lines[lines[0]]  # noqa: SLF001
    return int(joining.store.rows("SELECT session_id FROM line WHERE id = ?", (ours,))[0][0])
