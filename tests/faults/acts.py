"""What a person does, by number: each act leaves facts that are told apart, so that halves are seen.

The model is plain: a log holds the facts of its changes that stand, nothing else. An act is chosen by its
number, a seed and what stands before, so the one who does it and the one who checks it agree without a word.
"""

from __future__ import annotations

import hashlib
import sqlite3
from collections import Counter
from contextlib import closing
from datetime import date, datetime, timedelta
from pathlib import Path
from random import Random
from typing import NamedTuple

from PIL import Image

from tracker.domain.rows import EveningRow, RosterRow
from tracker.store.seals import broken_seals
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.lines import Entry, log_line
from tracker.workbench.models import mark
from tracker.workbench.past import redo, undo
from tracker.workbench.photos import PhotoWish, add_photos
from tracker.workbench.roster_in import import_roster

NOW = datetime(2026, 3, 10, 21, 30)
FIRST_DAY = date(2023, 1, 1)
MODELS = 12
Fact = tuple[object, ...]


class Act(NamedTuple):
    """One thing that is done, and the facts it leaves."""

    kind: str
    number: int
    facts: tuple[Fact, ...] = ()


class Known(NamedTuple):
    """Changes that stand, and those that can be brought back, the last one last."""

    done: tuple[Act, ...] = ()
    undone: tuple[Act, ...] = ()

    def after(self, act: Act) -> Known:
        """What is known once the act is done."""
        if act.kind == "undo":
            return Known(self.done[:-1], (*self.undone, self.done[-1]))
        if act.kind == "redo":
            return Known((*self.done, self.undone[-1]), self.undone[:-1])
        return Known((*self.done, act))

    def facts(self) -> Counter[Fact]:
        """Everything the log must hold."""
        return Counter(fact for act in self.done for fact in act.facts)


def a_log(folder: Path) -> Desk:
    """A log with one unit, and a picture to take photos from; its making is not one of the acts."""
    desk = Desk(str(folder / "log.db"), lambda: NOW)
    add_unit(desk, RosterRow("Spears", MODELS, added=FIRST_DAY))
    for number in range(3):
        Image.new("RGB", (40, 30), (number * 80, 90, 120)).save(folder / f"picture{number}.png")
    return desk


def choose(kind: str, number: int, random: Random, known: Known) -> Act:
    """The act of that kind; another one where there is nothing to take back or bring back."""
    if kind == "redo" and not known.undone:
        kind = "undo"
    if kind == "undo" and not known.done:
        kind = "log"
    return Act(kind, number, _FACTS[kind](number, random) if kind in _FACTS else ())


def perform(desk: Desk, act: Act) -> None:
    """Do it through the verb that a person's command calls."""
    if act.kind == "undo":
        undo(desk)
    elif act.kind == "redo":
        redo(desk)
    else:
        _DOES[act.kind](desk, act)


def facts_of(desk: Desk) -> Counter[Fact]:
    """Every fact in the log, row by row from the tables."""
    with closing(sqlite3.connect(desk.path)) as log:
        found: Counter[Fact] = Counter(
            ("line", note, day, models, minutes, rows)
            for note, day, models, minutes, rows in log.execute(
                "SELECT note, date, models, line.minutes, (SELECT count(*) FROM line_model"
                " WHERE line_id = line.id) FROM line JOIN session ON session.id = session_id"
            )
        )
        found.update(
            ("unit", name, models, steps > 0)
            for name, models, steps in log.execute(
                "SELECT name, (SELECT count(*) FROM model WHERE unit_id = unit.id),"
                " (SELECT count(*) FROM route_step WHERE unit_id = unit.id) FROM unit WHERE id > 1"
            )
        )
        found.update(
            ("mark", step, state, day, number)
            for step, state, day, number in log.execute(
                "SELECT step, state, date, number FROM mark JOIN model ON model.id = model_id"
            )
        )
        for note, file in log.execute("SELECT note, file FROM photo"):
            data = (Path(desk.path).with_name("log-photos") / file).read_bytes()
            found["photo", note, hashlib.sha256(data).hexdigest() == file.removesuffix(".jpg")] += 1
    return found


def unsound(path: str) -> str:
    """What SQLite and the seals say against a file; empty = nothing."""
    with closing(sqlite3.connect(path)) as log:
        said = [row[0] for row in log.execute("PRAGMA integrity_check") if row[0] != "ok"]
        said += [str(row) for row in log.execute("PRAGMA foreign_key_check")]
        said += broken_seals(log)
        open_changes = "SELECT count(*) FROM journal_head WHERE open_change IS NOT NULL"
        rowless = "SELECT count(*) FROM change WHERE id NOT IN (SELECT change_id FROM change_row)"
        said += [sql for sql in (open_changes, rowless) if log.execute(sql).fetchone()[0]]
    return "; ".join(said)


def day_of(number: int) -> date:
    """An evening of its own for each of a thousand acts, so that no evening has too many minutes."""
    return FIRST_DAY + timedelta(days=number % 1000)


def _line_facts(number: int, random: Random) -> tuple[Fact, ...]:
    models = random.randint(1, MODELS)
    return (("line", f"act {number}", day_of(number).isoformat(), models, 1.5, models),)


def _log(desk: Desk, act: Act) -> None:
    _, note, day, models, minutes, _ = act.facts[0]
    entry = Entry("Spears", "cleaning", models=int(str(models)), minutes=float(str(minutes)), finished=False)
    log_line(desk, entry._replace(note=str(note), day=date.fromisoformat(str(day))))


def _sheet_facts(number: int, random: Random) -> tuple[Fact, ...]:
    return tuple(
        ("line", f"act {number} row {row}", day_of(number).isoformat(), models, 2.25, models)
        for row, models in enumerate(random.choices(range(1, MODELS), k=random.randint(2, 8)))
    )


def _evenings(desk: Desk, act: Act) -> None:
    import_evenings(
        desk,
        [
            EveningRow(
                date.fromisoformat(str(day)), "Spears", "assembly", models=int(str(models)),
                minutes=float(str(minutes)), finished=False, note=str(note),
            )
            for _, note, day, models, minutes, _ in act.facts
        ],
    )  # fmt: skip


def _roster_facts(number: int, random: Random) -> tuple[Fact, ...]:
    return tuple(("unit", f"Unit {number}.{i}", random.randint(1, 20), True) for i in range(3))


def _roster(desk: Desk, act: Act) -> None:
    import_roster(desk, [RosterRow(str(name), int(str(models))) for _, name, models, _ in act.facts])


def _mark_facts(number: int, random: Random) -> tuple[Fact, ...]:
    last = random.randint(2, MODELS)
    return tuple(("mark", "priming", "in hand", day_of(number).isoformat(), i) for i in range(1, last + 1))


def _mark(desk: Desk, act: Act) -> None:
    day = date.fromisoformat(str(act.facts[0][3]))
    mark(desk, "Spears", f"1-{len(act.facts)}", "priming", "in hand", day=day)


def _photo_facts(number: int, _: Random) -> tuple[Fact, ...]:
    return (("photo", f"act {number}", True),)


def _photo(desk: Desk, act: Act) -> None:
    picture = Path(desk.path).with_name(f"picture{act.number % 3}.png")
    add_photos(desk, [str(picture)], PhotoWish("Spears", note=str(act.facts[0][1])))


_FACTS = {
    "log": _line_facts, "import evenings": _sheet_facts, "import roster": _roster_facts,
    "mark": _mark_facts, "photo": _photo_facts,
}  # fmt: skip
_DOES = {
    "log": _log, "import evenings": _evenings, "import roster": _roster, "mark": _mark, "photo": _photo,
}  # fmt: skip
