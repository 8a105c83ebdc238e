"""CSV as RFC 4180 has it, and the table above it.

The examples of RFC 4180 section 2 (rules 1 to 7) are quoted from memory, with our column names.
"""

from __future__ import annotations

from datetime import date

import pytest

from tracker.sheets.evenings import read_evenings
from tracker.sheets.shown import shown
from tracker.sheets.table import column_name, guard, unguard, write_table

TODAY = date(2026, 3, 10)
HEADER = "date,unit,step\r\n"


def units(text: str) -> list[str]:
    read = read_evenings(text, today=TODAY)
    assert read.problems == ()
    return [row.unit for row in read.rows]


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("2026-03-01,aaa,shade\r\n2026-03-01,bbb,shade\r\n", ["aaa", "bbb"]),  # rule 1: CRLF
        ("2026-03-01,aaa,shade\r\n2026-03-01,bbb,shade", ["aaa", "bbb"]),  # rule 2: last break is optional
        ('"2026-03-01","aaa","shade"\r\n2026-03-01,bbb,shade', ["aaa", "bbb"]),  # rule 5: quotes or none
        ('2026-03-01,"b\r\nbb",shade\r\n2026-03-01,"a,a",shade', ["b\r\nbb", "a,a"]),  # rule 6
        ('2026-03-01,"b""bb",shade\r\n', ['b"bb']),  # rule 7: a doubled quote is one
        ("2026-03-01,aaa,shade\n2026-03-01,bbb,shade\n", ["aaa", "bbb"]),  # beyond it: bare line ends
    ],
)
def test_rfc_4180_section_2(body: str, expected: list[str]) -> None:
    assert units(HEADER + body) == expected


def test_written_by_rfc_4180() -> None:
    text = write_table(("a", "b"), [("x,y", 'say "hi"'), ("two\r\nlines", "plain")])
    assert text == 'a,b\r\n"x,y","say ""hi"""\r\n"two\r\nlines",plain\r\n'


@pytest.mark.parametrize("sign", [";", "\t"])
def test_other_delimiters_are_told_by_the_header(sign: str) -> None:
    text = "date|unit|step|minutes\n2026-03-01|spears|shade|7,5\n".replace("|", sign)
    read = read_evenings(text, today=TODAY)
    assert (read.problems, read.rows[0].minutes) == ((), 7.5)


def test_header_in_any_order_case_and_blanks_with_a_byte_order_mark() -> None:
    text = "\ufeff STEP , Unit,DATE,Guess Minutes,evening-minutes\nshade,spears,2026-03-01,40,50\n"
    row = read_evenings(text, today=TODAY).rows[0]
    assert (row.unit, row.step, row.guess_minutes, row.evening_minutes) == ("spears", "shade", 40, 50)


def test_column_name_folds() -> None:
    assert column_name("  Evening  Minutes ") == "evening_minutes"


def test_unknown_columns_go_to_the_note_and_are_told_once() -> None:
    text = (
        HEADER.strip()
        + ",mood,note,\r\n2026-03-01,spears,shade,calm,first,\r\n2026-03-01,spears,shade,,,\r\n"
    )
    read = read_evenings(text, today=TODAY)
    assert [row.note for row in read.rows] == ["first; mood: calm", ""]
    assert read.notes == ('the column "mood" is not known; what it says is kept in the note',)
    assert set(read.columns) == {"date", "unit", "step", "note"}


@pytest.mark.parametrize(
    ("text", "where", "what", "mend"),
    [
        ("", "row 1", "the sheet is empty", "date, unit, step"),
        ("\n \n", "row 1", "the sheet is empty", "date"),
        ("date,unit\n", "row 1", 'the column "step" is missing', '"date", "unit"'),
        ("date,unit,Unit,step\n", "row 1", 'two columns are named "Unit"', "Rename"),
        (HEADER + '2026-03-01,"spears,shade\n', "row 2", "quotation marks", "twice"),
        (HEADER + '2026-03-01,"spe"ars,shade\n', "row 2", "quotation marks", "twice"),
        ('date,unit,"step\n', "row 1", "quotation marks", "twice"),
        (HEADER + "2026-03-01,spears,shade,more\n", "row 2", "it has 4 cells", "quotation marks"),
        (HEADER + f"2026-03-01,{'x' * 200_000},shade\n", "row 2", "longer than 131,072", "Shorten"),
    ],
)
def test_problems_of_the_table(text: str, where: str, what: str, mend: str) -> None:
    (problem,) = read_evenings(text, today=TODAY).problems
    assert problem.where == where
    assert what in problem.what
    assert mend in problem.mend


def test_rows_are_counted_as_a_spreadsheet_does() -> None:
    text = HEADER + '2026-03-01,"two\nlines",shade\n\n,,\n2026-03-01,spears,\n'
    read = read_evenings(text, today=TODAY)
    assert [problem.where for problem in read.problems] == ["row 5"]
    assert [row.row for row in read.rows] == [2]


def test_short_and_padded_rows_are_fine() -> None:
    assert units("date,unit,step,note\n2026-03-01,spears,shade\n2026-03-01,riders,shade,,,\n") == [
        "spears",
        "riders",
    ]


def test_fifty_problems_are_listed_and_the_rest_counted() -> None:
    read = read_evenings(HEADER + "2026-03-01,,shade\n" * 70 + "2026-03-01,spears,shade\n", today=TODAY)
    assert len(read.problems) == 51
    assert str(read.problems[-1]) == "the sheet: 20 more problems are not listed. Mend these and try again"
    assert len(read.rows) == 1


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\tx", "\rx", "'=1", "''=1"])
def test_formulas_are_guarded(text: str) -> None:
    # Leading signs as listed by OWASP, "CSV Injection".
    assert guard(text) == "'" + text
    assert unguard(guard(text)) == text


@pytest.mark.parametrize("text", ["", "spears", "'tis", "a=b", "''"])
def test_plain_text_is_not_guarded(text: str) -> None:
    assert guard(text) == text
    assert unguard(text) == text


def test_shown_is_short_and_harmless() -> None:
    assert shown("\x1b[31m" + "x" * 500) == '"\\x1b[31m' + "x" * 34 + '…"'
