"""The sheet of deals: any deals come back the same, twice changes nothing, each problem by its row."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.desks import a_desk, with_spears
from tracker.domain.money import plain
from tracker.domain.problems import DataError
from tracker.domain.rows import RosterRow
from tracker.domain.rows_sources import SourceRow
from tracker.domain.sources import WAYS_IN, WAYS_OUT
from tracker.sheets.roster import read_roster, write_roster
from tracker.sheets.sources import join_list, read_sources, split_list, write_sources
from tracker.workbench.adding import add_spares, add_unit
from tracker.workbench.roster_in import import_roster
from tracker.workbench.sources import add_deal
from tracker.workbench.sources_models import SaidPart
from tracker.workbench.sources_said import DealWish
from tracker.workbench.sources_sheet import export_sources, import_sources
from tracker.workbench.whole import export_document, export_roster

TODAY = date(2026, 3, 10)
texts = st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=20).map(str.strip)
names = texts.filter(bool)
amounts = st.none() | st.decimals(0, 1_000_000, places=4).map(plain)


@st.composite
def rows(draw: st.DrawFn) -> SourceRow:
    units = tuple(draw(st.lists(names, max_size=3)))
    amount, postage = draw(amounts), draw(amounts)
    money = amount is not None or postage is not None
    numbers = st.sampled_from(("1-3", "5", "2,4-6"))
    return SourceRow(
        date=draw(st.dates(date(2000, 1, 1), TODAY)),
        how=draw(st.sampled_from((*WAYS_IN, *WAYS_OUT))),
        armies=tuple(draw(names) for _ in units),
        units=units,
        models=tuple(draw(numbers) for _ in units),
        spares=draw(st.sampled_from(("", "3-7"))),
        whom=draw(texts),
        amount=amount,
        currency="EUR" if money else "",
        postage=postage,
        exchange=draw(texts),
        note=draw(names),
    )


@given(st.lists(rows(), max_size=4))
@settings(max_examples=40)
def test_any_deals_come_back_the_same(deals: list[SourceRow]) -> None:
    read = read_sources(write_sources(deals), today=TODAY)
    assert read.problems == ()
    assert [row._replace(row=0) for row in read.rows] == deals


@given(st.lists(names, max_size=4))
@settings(max_examples=40)
def test_names_in_one_cell_come_apart_again(some: list[str]) -> None:
    assert split_list(join_list(some)) == tuple(some)


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("2026-03-11,bought,,,,,,,,,,x", "lies in the future"),
        (",bought,,,,,,,,,,x", "date is empty"),
        ("2026-03-01,bougt,,,,,,,,,,x", 'Did you mean "bought"?'),
        ("2026-03-01,bought,,,,,,,,,,", "says nothing of the deal"),
        ("2026-03-01,bought,,,,,,9,,,,", "currency is empty"),
        ("2026-03-01,bought,,,,,,9,euro,,,", "three capitals"),
        ('2026-03-01,bought,,,,,,"1,250",EUR,,,', "two ways"),
        ("2026-03-01,bought,,A; B,1-2,,,,,,,", "models has 1 parts, unit has 2"),
        ("2026-03-01,bought,,A,10-Jan,,,,,,,", "A spreadsheet made a date of it"),
        ("2026-03-01,bought,,A;;B,,,,,,,,", "an empty name"),
    ],
)
def test_each_problem_is_told_by_its_row(line: str, says: str) -> None:
    header = "date,how,army,unit,models,spares,whom,amount,currency,postage,exchange,note\n"
    (problem,) = read_sources(header + line + "\n", today=TODAY).problems
    assert problem.where == "row 2"
    assert says in str(problem)


def test_a_sheet_comes_into_an_empty_log_after_the_roster_and_twice_changes_nothing(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    add_unit(desk, RosterRow("=Riders; of old", 4, "Guests", added=date(2026, 3, 1)))
    parts = (SaidPart("Spears", "1-10"), SaidPart("=Riders; of old"))
    add_deal(desk, "bought", DealWish(parts=parts, whom="@club", cost="12.50 EUR", postage="3"))
    add_deal(desk, "found", DealWish(parts=(SaidPart("Spears"),), exchange="=1+1"))
    for _ in range(2):
        add_deal(desk, "bought", DealWish(cost="1.2340 EUR", note="brushes"))
    sheet = write_sources(export_sources(desk))
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    import_roster(other, read_roster(write_roster(export_roster(desk)), today=TODAY).rows)
    deals = read_sources(sheet, today=TODAY).rows
    assert import_sources(other, deals, dry_run=True).sentence() == "Would store: 4 deals new."
    assert import_sources(other, deals).sentence() == "Stored: 4 deals new."
    assert write_sources(export_sources(other)) == sheet
    for again in (desk, other):
        before = export_document(again)
        said = import_sources(again, deals).sentence()
        assert said == "Nothing to store: nothing is new (4 deals known already)."
        assert export_document(again) == before


def test_a_row_told_otherwise_changes_its_deal_and_sold_models_leave(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    add_spares(desk, 2)
    row = SourceRow(TODAY, "sold", units=("Spears",), models=("1-2",), amount=Decimal(4), currency="EUR")
    assert import_sources(desk, [row]).notes == ("deal 1: 2 models left with it.",)
    told = import_sources(desk, [row._replace(whom="Ben")])
    assert (told.changed, told.notes) == (1, ("deal 1 is told otherwise",))
    assert export_sources(desk)[0].whom == "Ben"
    every = SourceRow(TODAY, "bought", units=("spears",), note="no numbers said")
    assert import_sources(desk, [every]).added == 1
    assert import_sources(desk, [every]).unchanged == 1


def test_a_bad_row_names_itself_and_good_ones_are_kept_when_asked(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    bad = SourceRow(TODAY, "bought", units=("Bows",), row=3)
    good = SourceRow(TODAY, "bought", units=("Spears",), row=2)
    with pytest.raises(DataError) as refusal:
        import_sources(desk, [good, bad])
    assert [problem.where for problem in refusal.value.problems] == ["row 3"]
    assert export_sources(desk) == ()
    done = import_sources(desk, [good, bad], keep_good=True)
    assert (done.added, len(done.problems)) == (1, 1)
