"""A log moves to another machine: as a document to the last byte, as sheets row for row."""

from __future__ import annotations

import tempfile
from datetime import date
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.desks import NOW
from tests.properties.test_sheets import texts
from tests.properties.two_logs import Edit, a_common_log, desk_at, edits
from tracker.cli.acts import BOOK_SHEETS
from tracker.sheets.document import read_document, write_document
from tracker.sheets.evenings import read_evenings, write_evenings
from tracker.sheets.roster import read_roster, write_roster
from tracker.workbench.book_sheets import export_book_sheet, import_book_sheet, read_book_sheet
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings
from tracker.workbench.roster_in import import_roster
from tracker.workbench.units_plan import set_plan
from tracker.workbench.whole import export_document, export_evenings, export_roster, import_document

TODAY = NOW.date()
KEEPS = ("log", "evening", "add", "more", "spares", "plan", "points", "recipe", "version", "use", "role",
         "deal", "name")  # fmt: skip
"""Edits of which the sheets tell all: nothing that left, was split or is a mark of its own."""
plain_edits = st.builds(
    Edit, st.sampled_from(KEEPS), st.sampled_from(("Spears", "Riders", "Bows")),
    st.sampled_from(("Bows", "Axes")),
    st.integers(1, 3), st.dates(date(2026, 3, 1), TODAY),
)  # fmt: skip


def sheets_of(desk: Desk) -> dict[str, str]:
    """Every sheet's text."""
    return {
        "roster": write_roster(export_roster(desk)),
        "evenings": write_evenings(export_evenings(desk)),
        **{what: export_book_sheet(desk, what) for what in BOOK_SHEETS},
    }


def take_sheets(desk: Desk, sheets: dict[str, str]) -> None:
    """Read every sheet in, units first; no row may be a problem."""
    roster = read_roster(sheets["roster"], today=TODAY)
    evenings = read_evenings(sheets["evenings"], today=TODAY)
    assert roster.problems == evenings.problems == ()
    import_roster(desk, roster.rows, columns=roster.columns)
    import_evenings(desk, evenings.rows)
    for what in BOOK_SHEETS:
        read = read_book_sheet(what, sheets[what], today=TODAY)
        assert read.problems == ()
        import_book_sheet(desk, what, read.rows)


@settings(max_examples=12, deadline=None)
@given(st.lists(edits, max_size=10), texts)
def test_a_document_is_the_same_to_the_last_byte(done: list[Edit], note: str) -> None:
    with tempfile.TemporaryDirectory() as name:
        desk, other = a_common_log(Path(name)), desk_at(Path(name), "other")
        set_plan(desk, "Spears", {"note": note})
        for edit in done:
            edit.do(desk)
        text = write_document(export_document(desk))
        document = read_document(text)
        assert isinstance(document, dict)
        import_document(other, document)
        assert write_document(export_document(other)) == text


@settings(max_examples=12, deadline=None)
@given(st.lists(plain_edits, max_size=10))
def test_sheets_are_the_same_row_for_row(done: list[Edit]) -> None:
    with tempfile.TemporaryDirectory() as name:
        desk, other = a_common_log(Path(name)), desk_at(Path(name), "other")
        for edit in done:
            edit.do(desk)
        sheets = sheets_of(desk)
        take_sheets(other, sheets)
        assert sheets_of(other) == sheets
        before = export_document(other)
        take_sheets(other, sheets)
        assert export_document(other) == before
