"""Two logs that went apart come together: nothing doubled, nothing of either side lost."""

from __future__ import annotations

import sqlite3
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.properties.two_logs import Edit, a_common_log, copied, edits, identities
from tracker.domain.progress import progress_of
from tracker.workbench.desk import Desk
from tracker.workbench.merging import merge_log
from tracker.workbench.past import redo, undo
from tracker.workbench.units_plan import set_plan
from tracker.workbench.whole import export_document

EXAMPLES = 12
"""Each makes, joins and reads several logs; put a larger number here for a longer search."""
JOINED_BY_NAME = ("army", "goal", "paint_out", "recipe_use", "declared", "keeping")
"""Tables where the same thing said on two machines is one thing, whichever of the two uids it has."""


def sound(desk: Desk) -> None:
    """SQLite's own checks, and that everything can be read."""
    connection = sqlite3.connect(desk.path)
    assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
    connection.close()
    progress_of(desk.records())


def pair(folder: Path, here: list[Edit], there: list[Edit]) -> tuple[Desk, Desk]:
    common = a_common_log(folder)
    one, other = copied(common, folder, "one"), copied(common, folder, "other")
    for edit in here:
        edit.do(one)
    for edit in there:
        edit.do(other)
    return one, other


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(edits, max_size=8), st.lists(edits, max_size=8), st.booleans())
def test_two_logs_join(here: list[Edit], there: list[Edit], theirs: bool) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        one, other = pair(folder, here, there)
        before, apart, at_other = export_document(one), identities(one), identities(other)
        minutes = {line.minutes for line in one.records().lines + other.records().lines}
        done = merge_log(one, other.path, take_theirs=theirs)
        sound(one)
        assert identities(other) == at_other
        joined = identities(one)
        left_out = {clash.table for clash in done.clashes if clash.field == "*"}
        for table, uids in joined.items():
            whole = apart[table] | at_other[table]
            assert apart[table] <= uids <= whole
            assert uids == whole or table in JOINED_BY_NAME or table in left_out
        assert {line.minutes for line in one.records().lines} == minutes

        again = merge_log(one, other.path)
        assert not again.changed
        assert not again.added

        if done.changed:
            after = export_document(one)
            undo(one)
            assert export_document(one) == before
            redo(one)
            assert export_document(one) == after
            sound(one)


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(edits, max_size=6), st.lists(edits, max_size=6))
def test_either_way_gives_the_same_rows(here: list[Edit], there: list[Edit]) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        one, other = pair(folder, here, there)
        mirror_one, mirror_other = copied(one, folder, "m"), copied(other, folder, "n")
        merge_log(one, other.path)
        merge_log(mirror_other, mirror_one.path)
        this, that = identities(one), identities(mirror_other)
        for table, uids in this.items():
            assert uids == that[table] or (table in JOINED_BY_NAME and len(uids) == len(that[table])), table
        # A second round brings nothing that was not there.
        merge_log(other, one.path)
        back = merge_log(one, other.path)
        assert not back.added


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.lists(edits, min_size=1, max_size=8))
def test_what_only_one_side_changed_is_no_conflict(there: list[Edit]) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        one, other = pair(folder, [], there)
        assert merge_log(other, one.path).clashes == ()
        assert merge_log(one, other.path).clashes == ()
        sound(one)


@settings(max_examples=EXAMPLES, deadline=None)
@given(st.integers(1, 5), st.integers(1, 5), st.integers(0, 5))
def test_a_conflict_is_exactly_what_both_changed(here: int, there: int, more: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        one, other = pair(Path(name), [], [])
        set_plan(one, "Spears", {"note": f"note {here}"})
        set_plan(other, "Spears", {"note": f"note {there}", "points": 40.0})
        if more:
            set_plan(one, "Riders", {"points": float(more)})
        found = [(clash.what, clash.field) for clash in merge_log(one, other.path).clashes]
        assert found == ([("Spears", "note")] if here != there else [])
        assert one.records().units[0].points == 40.0
