"""Sheets go out and come back the same, whatever people type; any text is read without a crash."""

from __future__ import annotations

import time
from datetime import date, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.rows import EveningRow, RosterRow
from tracker.domain.text import printable, tidy
from tracker.sheets.document import read_document, write_document
from tracker.sheets.evenings import COLUMNS, read_evenings, step_name, write_evenings
from tracker.sheets.planned import read_planned
from tracker.sheets.roster import read_roster, write_roster

TODAY = date(2026, 3, 10)
HOSTILE = (
    'say "hi", he said', "a,b;c\td", "🛡️ shields 🐉", "رماة الشمال", "קשתים", "[red]markup[/red]",
    "<script>alert(1)</script>", "=1+1", "+1", "-1", "@sum", "'=1", "''@", "\x1b[2J\x00\x07", "\u202eright",
    "x" * 500, "line\r\nbreak", "a\rb", "\\;", "ends\\", "null", "\u2028", "\ud7ff\ue000",
)  # fmt: skip
letters = st.characters(codec="utf-8")
texts = st.one_of(st.sampled_from(HOSTILE), st.text(letters, max_size=40))
names = texts.map(tidy).filter(bool)
loose_names = texts.map(tidy)
steps = names.map(step_name)
minutes = st.none() | st.floats(1e-9, 1440, allow_nan=False)
days = st.dates(date(1990, 1, 1), TODAY)
evening_rows = st.builds(
    EveningRow,
    date=days,
    unit=names,
    step=steps,
    army=names,
    start=st.just("") | st.times().map(lambda t: t.strftime("%H:%M")),
    evening_minutes=st.none(),
    models=st.integers(0, 10_000),
    minutes=minutes,
    finished=st.booleans(),
    guess_minutes=minutes,
    note=texts,
)
unit_rows = st.builds(
    RosterRow,
    unit=names,
    models=st.integers(1, 10_000),
    army=names,
    points=st.none() | st.floats(0, 1e6),
    kind=names.map(str.casefold),
    material=names.map(str.casefold),
    standard=names.map(str.casefold),
    base=st.sampled_from(["", "20x20", "32 round", "60x35 oval"]),
    files=st.none() | st.integers(1, 10_000),
    ranks=st.none() | st.integers(1, 10_000),
    steps=st.lists(steps, max_size=5, unique_by=str.casefold).map(tuple),
    guess_minutes=minutes,
    goal_date=st.none() | st.dates(date(1990, 1, 1)),
    goal=loose_names,
    order=st.none() | st.integers(1, 1_000_000),
    source=loose_names,
    cost=loose_names,
    note=texts,
    added=st.none() | days,
)


@settings(max_examples=60, deadline=None)
@given(st.lists(evening_rows, max_size=5), st.booleans())
def test_evenings_round_trip(rows: list[EveningRow], with_totals: bool) -> None:
    # One evening per line, since lines of one evening share total and start.
    rows = [row._replace(evening=f"={i}", row=i + 2) for i, row in enumerate(rows)]
    if with_totals:
        rows = [row._replace(evening_minutes=1440.0) for row in rows]
    read = read_evenings(write_evenings(rows), today=TODAY)
    assert (read.problems, read.notes) == ((), ())
    assert list(read.rows) == rows


@settings(max_examples=60, deadline=None)
@given(st.lists(unit_rows, max_size=5, unique_by=lambda r: (r.army.casefold(), r.unit.casefold())))
def test_roster_round_trip(rows: list[RosterRow]) -> None:
    rows = [
        row._replace(row=i + 2, finish_line=row.steps[-1] if row.steps else "") for i, row in enumerate(rows)
    ]
    read = read_roster(write_roster(rows), today=TODAY)
    assert (read.problems, read.notes) == ((), ())
    assert list(read.rows) == rows


@settings(deadline=None)
@given(st.text(letters, max_size=300) | st.text("dateunistp,;\"'\n\r\t10-=\x00", max_size=200))
def test_any_text_is_rows_or_problems(text: str) -> None:
    for head in ("", "date,unit,step,models\n", "unit,models,steps\n"):
        for read in (read_evenings(head + text, today=TODAY), read_roster(head + text, today=TODAY)):
            assert all(p.what and p.mend and p.where for p in read.problems)
        assert all(printable(str(p)) == str(p) for p in read_planned(head + text).problems)


json_values = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**63), 2**63) | st.text(letters)
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(letters), inner, max_size=4),
    max_leaves=20,
)  # fmt: skip


@settings(deadline=None)
@given(st.dictionaries(st.text(letters), json_values, max_size=5))
def test_document_round_trip(data: dict[str, object]) -> None:
    assert read_document(write_document(data)) == data


@settings(deadline=None)
@given(st.text(letters, max_size=200))
def test_any_text_is_a_document_or_a_problem(text: str) -> None:
    read_document(text)
    read_document('{"lastcoat": 1, "data": ' + text + "}")


def test_ten_years_of_evenings_are_read_quickly() -> None:
    first = date(2016, 1, 1)
    rows = [
        EveningRow(first + timedelta(days=i // 3), f"unit {i % 150}", "shade", minutes=12.5, note="a note")
        for i in range(8000)
    ]
    text = write_evenings(rows)
    began = time.process_time()
    read = read_evenings(text, today=TODAY)
    took_seconds = time.process_time() - began
    assert len(read.rows) == 8000
    assert text.startswith(",".join(COLUMNS))
    print(f"8,000 rows read in {took_seconds:.3f} s")  # noqa: T201  # measured, never pass or fail
