"""The evening sheet: values, problems with row and mend, what holds across an evening."""

from __future__ import annotations

from datetime import date

import pytest

from tracker.domain.rows import EveningRow
from tracker.sheets.evenings import COLUMNS, read_evenings, write_evenings

TODAY = date(2026, 3, 10)


def sheet(*rows: dict[str, str]) -> str:
    base = {"date": "2026-03-04", "unit": "spears", "step": "shade"}
    lines = [",".join({**base, **row}.get(column, "") for column in COLUMNS) for row in rows]
    return "\n".join([",".join(COLUMNS), *lines])


def one(**cells: str) -> EveningRow:
    read = read_evenings(sheet(cells), today=TODAY)
    assert read.problems == ()
    return read.rows[0]


def test_defaults() -> None:
    assert one() == EveningRow(date(2026, 3, 4), "spears", "shade", row=2)


@pytest.mark.parametrize(
    ("column", "cell", "field", "value"),
    [
        ("start", "9:05", "start", "09:05"),
        ("start", "19:30:00", "start", "19:30"),
        ("models", "0", "models", 0),
        ("models", "12.0", "models", 12),
        ("minutes", "7.25", "minutes", 7.25),
        ("minutes", " 50 ", "minutes", 50.0),
        ("finished", "No", "finished", False),
        ("finished", "n", "finished", False),
        ("finished", "FALSE", "finished", False),
        ("finished", "0", "finished", False),
        ("finished", "TRUE", "finished", True),
        ("finished", "1", "finished", True),
        ("step", "Shade", "step", "shade"),
        ("step", " Base Colours ", "step", "base colours"),
        ("step", "washed", "step", "washed"),
        ("step", "Bug", "step", "Bug"),
        ("unit", "  Spears\u00a0", "unit", "Spears"),
        ("unit", "'=x", "unit", "=x"),
        ("army", "", "army", "My army"),
        ("guess_minutes", "30000", "guess_minutes", 30000.0),
        ("note", " two ", "note", " two "),
        ("date", "2026-03-10", "date", TODAY),
    ],
)
def test_cells(column: str, cell: str, field: str, value: object) -> None:
    assert getattr(one(**{column: cell}), field) == value


@pytest.mark.parametrize(
    ("column", "cell", "what", "mend"),
    [
        ("date", "", "date is empty", "2026-03-04"),
        ("date", "2026-02-29", 'date "2026-02-29" does not exist', "year-month-day"),
        ("date", "04/03/2026", 'date "04/03/2026" is not a date', "year-month-day"),
        ("date", "20260304", "is not a date", "year-month-day"),
        ("date", "2026-03-11", "date 2026-03-11 lies in the future", "once they have been"),
        ("date", "0026-03-04", "lies too far back", "year"),
        ("unit", "  ", "unit is empty", "Fill it in"),
        ("step", "", "step is empty", "Fill it in"),
        ("unit", "x" * 1001, "unit has 1001 letters", "1000"),
        ("minutes", "-5", 'minutes is "-5"', "more than 0"),
        ("minutes", "0", 'minutes is "0"', "leave the cell empty"),
        ("minutes", "1441", 'minutes is "1441"', "at most 1440"),
        ("minutes", "9" * 400, "minutes is", "at most 1440"),
        ("minutes", "nan", 'minutes "nan" is not a number', "digits"),
        ("minutes", "1e3", "is not a number", "digits"),
        ("minutes", "50 min", "is not a number", "50"),
        ("evening_minutes", "-1", "evening_minutes is", "more than 0"),
        ("evening_minutes", "2000", "evening_minutes is", "1440"),
        ("guess_minutes", "-1", "guess_minutes is", "more than 0"),
        ("guess_minutes", "2000000", "guess_minutes is", "1000000"),
        ("models", "-1", 'models is "-1"', "whole number from 0"),
        ("models", "1.5", 'models is "1.5"', "whole number"),
        ("models", "1000000000000", "models is", "whole number"),
        ("models", "ten", 'models "ten" is not a number', "digits"),
        ("finished", "maybe", 'finished is "maybe"', "yes or no"),
        ("start", "24:00", 'start "24:00" is not a time of day', "HH:MM"),
        ("start", "half seven", "is not a time of day", "HH:MM"),
    ],
)
def test_problems_say_row_and_mend(column: str, cell: str, what: str, mend: str) -> None:
    read = read_evenings(sheet({}, {column: cell}), today=TODAY)
    (problem,) = read.problems
    assert problem.where == "row 3"
    assert what in problem.what
    assert mend in problem.mend
    assert [row.row for row in read.rows] == [2]


def test_a_thousands_comma_is_asked_about() -> None:
    text = 'date,unit,step,minutes\n2026-03-04,spears,shade,"1,234"\n2026-03-04,spears,shade,"12,5"\n'
    read = read_evenings(text, today=TODAY)
    assert read.problems[0].mend == "Write 1234 or 1.234"
    assert read.rows[0].minutes == 12.5


def test_all_problems_of_a_row_are_told() -> None:
    read = read_evenings(sheet({"unit": "", "minutes": "-5", "date": "x"}), today=TODAY)
    assert len(read.problems) == 3


def test_an_evening_total_stands_on_each_of_its_rows() -> None:
    read = read_evenings(sheet({"evening_minutes": "90", "start": "20:00"}, {"minutes": "30"}), today=TODAY)
    assert [(row.evening_minutes, row.start) for row in read.rows] == [(90, "20:00"), (90, "20:00")]


@pytest.mark.parametrize(
    ("second", "what"),
    [
        ({"evening_minutes": "80"}, "evening_minutes is not the same as in row 2"),
        ({"start": "21:00"}, "start is not the same as in row 2"),
        ({"minutes": "95"}, "take 125 minutes, but the evening had 90"),
        ({"minutes": "61"}, "take 91 minutes, but the evening had 90"),
    ],
)
def test_an_evening_agrees_with_itself(second: dict[str, str], what: str) -> None:
    first = {"evening_minutes": "90", "start": "20:00", "minutes": "30"}
    other = {"date": "2026-03-05", "minutes": "10"}
    read = read_evenings(sheet(first, second, other), today=TODAY)
    (problem,) = read.problems
    assert problem.where == "row 3"
    assert what in problem.what
    assert [row.row for row in read.rows] == [4]


def test_evenings_of_one_date_are_told_apart() -> None:
    rows = ({"evening_minutes": "90"}, {"evening": "late", "evening_minutes": "30"})
    assert not read_evenings(sheet(*rows), today=TODAY).problems


def test_lines_without_a_total_may_add_up_to_any_number() -> None:
    read = read_evenings(sheet(*[{"minutes": "240"}] * 12), today=TODAY)
    assert (len(read.rows), read.problems) == (12, ())


def test_written_form() -> None:
    row = EveningRow(date(2026, 3, 4), "=spears", "shade", minutes=50.0, finished=False)
    body = write_evenings([row]).split("\r\n")[1]
    assert body == "2026-03-04,,,,My army,'=spears,shade,1,50,no,,"
