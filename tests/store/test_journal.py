"""Undo and redo: whole, exact, several in a row."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from tests.desks import a_desk, with_spears
from tracker.store import journal
from tracker.store.document import TABLES, dump, restore
from tracker.store.journal import Store
from tracker.store.opening import open_store
from tracker.store.units import insert_army, insert_own_step
from tracker.workbench.desk import Desk

HARD_TEXTS = ("a\x00b", "\x00", "\x1b[31m", "'; DROP TABLE army; --", "🐉", "\u202eabc", "\r\n\t", "x" * 500)
HARD_NUMBERS = (0.1, 1 / 3, 5e-324, 1439.9999999999998, math.nextafter(0.3, 1), 0.0)


def stored(store: Store) -> dict[str, Any]:
    return {table: dump(store)[table]["rows"] for table in TABLES}


def an_open_store(desk: Desk) -> Store:
    return open_store(desk.path, now=desk.now, new_uid=desk.new_uid, create=True)


@pytest.mark.parametrize("text", HARD_TEXTS)
def test_texts_come_back_exactly(tmp_path: Path, text: str) -> None:
    with a_desk(tmp_path).open(create=True) as store:
        with store.change("one"):
            army = insert_army(store, "A" + text)
        before = stored(store)
        with store.change("two"):
            store.update("army", army, name="plain")
        with store.change("three"):
            store.connection.execute("DELETE FROM army")
        store.undo()
        store.undo()
        assert stored(store) == before
        assert stored(store)["army"][0][2].rstrip() == ("A" + text).rstrip()


@pytest.mark.parametrize("number", [*HARD_NUMBERS, None])
def test_numbers_come_back_to_the_last_bit(tmp_path: Path, number: float | None) -> None:
    with a_desk(tmp_path).open(create=True) as store:
        with store.change("one"):
            step = insert_own_step(store, "mine", wait_hours=number)
        with store.change("two"):
            store.update("own_step", step, wait_hours=7.0)
        with store.change("three"):
            store.connection.execute("DELETE FROM own_step")
        store.undo()
        store.undo()
        assert stored(store)["own_step"][0][-1] == number
        store.redo()
        assert stored(store)["own_step"][0][-1] == 7.0


def test_a_new_change_ends_what_could_be_brought_back(tmp_path: Path) -> None:
    with a_desk(tmp_path).open(create=True) as store:
        with store.change("one"):
            insert_army(store, "first")
        store.undo()
        with store.change("two"):
            insert_army(store, "second")
        assert store.redo() is None
        assert [row[2] for row in stored(store)["army"]] == ["second"]


def test_a_change_without_rows_keeps_nothing_and_spares_redo(tmp_path: Path) -> None:
    with a_desk(tmp_path).open(create=True) as store:
        with store.change("one"):
            insert_army(store, "first")
        store.undo()
        state = store.log_state()
        with store.change("two"):
            pass
        assert store.log_state() == state
        assert store.redo() is not None


def test_a_broken_change_is_no_change(tmp_path: Path) -> None:
    def broken(store: Store) -> None:
        with store.change("one"):
            insert_army(store, "first")
            raise RuntimeError

    with a_desk(tmp_path).open(create=True) as store:
        with pytest.raises(RuntimeError):
            broken(store)
        assert not stored(store)["army"]
        assert store.undo() is None


def test_nothing_can_be_written_outside_a_change(tmp_path: Path) -> None:
    store = an_open_store(a_desk(tmp_path))
    with pytest.raises(Exception, match=r"NOT NULL constraint failed: change_row\.change_id"):
        insert_army(store, "first")
    store.close()


def test_only_so_many_changes_are_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(journal, "KEPT_CHANGES", 3)
    with a_desk(tmp_path).open(create=True) as store:
        for i in range(5):
            with store.change(f"change {i}"):
                insert_army(store, f"army {i}")
        undone = [past.verb for past in iter(store.undo, None)]
        assert undone == ["change 4", "change 3", "change 2"]
        assert store.rows("SELECT count(*) FROM change_row WHERE change_id < 3") == [(0,)]


def test_the_state_differs_after_every_step(tmp_path: Path) -> None:
    with a_desk(tmp_path).open(create=True) as store:
        states = [store.log_state()]
        with store.change("one"):
            insert_army(store, "first")
        states.append(store.log_state())
        store.undo()
        states.append(store.log_state())
        store.redo()
        states.append(store.log_state())
    assert len(set(states)) == len(states)


def test_a_restored_log_is_taken_back_whole(tmp_path: Path) -> None:
    with with_spears(tmp_path).open() as store:
        document = dump(store)
    (tmp_path / "other").mkdir()
    with a_desk(tmp_path / "other").open(create=True) as store:
        with store.change("import all"):
            restore(store, document)
        assert dump(store) == document
        store.undo()
        assert not any(stored(store).values())
        store.redo()
        assert dump(store) == document


class UndoMachine(RuleBasedStateMachine):
    """Random changes, undos and redos against a list of whole copies."""

    @initialize()
    def begin(self) -> None:
        self.folder = TemporaryDirectory()
        self.store = an_open_store(a_desk(Path(self.folder.name)))
        self.copies = [stored(self.store)]
        self.at = 0

    @rule(names=st.lists(st.text(min_size=1, max_size=3), min_size=1, max_size=3))
    def add(self, names: list[str]) -> None:
        with self.store.change("add"):
            for name in names:
                number = len(self.store.rows("SELECT 1 FROM army")) + 1
                insert_army(self.store, f"{name.encode(errors='ignore').decode()} {number}.")
        self._new_copy()

    @precondition(lambda self: self.copies[self.at]["army"])
    @rule(minutes=st.floats(0, 1440), text=st.text(max_size=3))
    def change(self, minutes: float, text: str) -> None:
        with self.store.change("change"):
            army = self.store.rows("SELECT min(id) FROM army")[0][0]
            self.store.update("army", army, name=text.encode(errors="ignore").decode() + "!")
            day = date.fromordinal(730000 + self.at).isoformat()
            self.store.connection.execute("DELETE FROM session WHERE date = ?", (day,))
            self.store.insert(
                "session", uid=self.store.new_uid(), date=day, label="", start="", minutes=minutes
            )
        self._new_copy()

    @precondition(lambda self: self.copies[self.at]["army"])
    @rule()
    def remove(self) -> None:
        with self.store.change("remove"):
            self.store.connection.execute("DELETE FROM army WHERE id = (SELECT max(id) FROM army)")
        self._new_copy()

    @rule()
    def undo(self) -> None:
        assert (self.store.undo() is None) == (self.at == 0)
        self.at = max(self.at - 1, 0)

    @rule()
    def redo(self) -> None:
        last = len(self.copies) - 1
        assert (self.store.redo() is None) == (self.at == last)
        self.at = min(self.at + 1, last)

    def _new_copy(self) -> None:
        self.copies = [*self.copies[: self.at + 1], stored(self.store)]
        self.at += 1

    @invariant()
    def the_log_is_the_copy(self) -> None:
        assert stored(self.store) == self.copies[self.at]

    def teardown(self) -> None:
        if hasattr(self, "store"):
            self.store.close()
            self.folder.cleanup()


UndoMachine.TestCase.settings = settings(max_examples=15, stateful_step_count=15, deadline=None)
TestUndo = UndoMachine.TestCase
