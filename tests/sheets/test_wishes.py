"""Wishes as people type them."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.domain.problems import Problem
from tracker.domain.wishes import (
    AtStandard,
    Away,
    FewerModels,
    Filler,
    First,
    InOrder,
    MoreEvenings,
    NewUnit,
    OnlyModels,
    Wish,
    Without,
)
from tracker.sheets.wishes import read_wishes

TODAY = date(2026, 3, 1)
UNITS = (("Mill Spears", "Host"), ("Ferry Riders", "Host"), ("Watch 2", "Guard"), ("Captain", "Host"))
RIDERS = ("Ferry Riders", "Host")


@pytest.mark.parametrize(
    ("said", "wish"),
    [
        ("one more evening a week", MoreEvenings(1)),
        ("An extra evening each week", MoreEvenings(1)),
        ("another evening a week", MoreEvenings(1)),
        ("with 2 more evenings", MoreEvenings(2)),
        ("an evening more a week", MoreEvenings(1)),
        ("an evening a week less", MoreEvenings(-1)),
        ("one evening fewer", MoreEvenings(-1)),
        ("half an evening more", MoreEvenings(0.5)),
        ("away 2026-05-01 to 2026-05-14", Away(date(2026, 5, 1), date(2026, 5, 14))),
        ("holiday from 2026-5-1 until 2026-5-2", Away(date(2026, 5, 1), date(2026, 5, 2))),
        ("away 2026-05-01", Away(date(2026, 5, 1), date(2026, 5, 1))),
        ("without riders", Without(*RIDERS)),
        ("no ferry riders", Without(*RIDERS)),
        ("leave out the captian", Without("Captain", "Host")),
        ("without watch 2", Without("Watch 2", "Guard")),
        ("riders first", First(*RIDERS)),
        ("first riders", First(*RIDERS)),
        ("order riders, captain", InOrder((RIDERS, ("Captain", "Host")))),
        ("in the order: spears, riders", InOrder((("Mill Spears", "Host"), RIDERS))),
        ("a filler for 3 riders", Filler("Ferry Riders", 3, "Host")),
        ("riders filler 3", Filler("Ferry Riders", 3, "Host")),
        ("4 fewer spears", FewerModels("Mill Spears", 4, "Host")),
        ("4 spears fewer", FewerModels("Mill Spears", 4, "Host")),
        ("only 12 spears", OnlyModels("Mill Spears", 12, "Host")),
        ("spears 12 models", OnlyModels("Mill Spears", 12, "Host")),
        ("riders quick", AtStandard("Ferry Riders", "quick", "Host")),
        ("riders to Display standard", AtStandard("Ferry Riders", "display", "Host")),
        ("20 new Bows", NewUnit("Bows", 20)),
        ("new: 5 Lances, cavalry, metal, good", NewUnit("Lances", 5, "cavalry", "metal", "good")),
        ("plus 3 Bows", NewUnit("Bows", 3)),
    ],
)
def test_one_wish(said: str, wish: Wish) -> None:
    assert read_wishes(said, UNITS, TODAY) == (wish,)


def test_several_wishes() -> None:
    said = " one more evening a week ;; without Riders;spears first; "
    assert read_wishes(said, UNITS, TODAY) == (
        MoreEvenings(1), Without(*RIDERS), First("Mill Spears", "Host"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("", "nothing is wished"),
        (" ; ", "nothing is wished"),
        ("make it so", '"make it so" is not understood'),
        ("without nobody", 'there is no unit "nobody"'),
        ("away 2026-02-30", "the date 2026-02-30 does not exist"),
        ("away 2026-05-02 to 2026-05-01", "2026-05-01 is before 2026-05-02"),
        ("away 2026-02-01 to 2026-02-03", "2026-02-03 lies behind"),
        ("9 more evenings", "9 evenings a week more cannot be"),
        ("0 more evenings", "0 evenings a week more cannot be"),
        ("plus 5 Axes, golden", '"golden" is no kind, material or standard'),
        ("0 new Axes", "0 models cannot be"),
        ("x" * 3000, "it has 3000 letters"),
    ],
)
def test_what_is_not_understood(said: str, what: str) -> None:
    found = read_wishes(said, UNITS, TODAY)
    assert isinstance(found, Problem)
    assert (found.where, found.what) == ("what if", what)
    assert found.mend


def test_two_units_that_are_equally_near() -> None:
    found = read_wishes("without spears", (("Mill Spears", "Host"), ("Old Spears", "Host")), TODAY)
    assert isinstance(found, Problem)
    assert found.what == 'two units can be meant: "Mill Spears" and "Old Spears"'


@given(st.text(max_size=60))
def test_no_text_is_too_much(said: str) -> None:
    found = read_wishes(said, UNITS, TODAY)
    assert isinstance(found, Problem | tuple)
