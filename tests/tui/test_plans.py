"""Plans by keys: said in a line, shown, given up, taken back."""

from __future__ import annotations

import asyncio
from datetime import date
from pathlib import Path

import pytest

from tests.tui.driving import a_small_log, opened
from tracker.domain.problems import DataError
from tracker.workbench.declared import plan_said


def test_plans_are_said_in_a_line_and_given_up(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)

    async def drive() -> None:
        async with opened(desk) as it:
            await it.press("E")
            assert it.screen == "plans"
            assert it.text.startswith("Nothing is planned.")
            for said in ("every Tuesday and Thursday", "2026-03-14 4 h", "away 2026-04-01 2026-04-05"):
                await it.press("n")
                await it.paste(said)
                await it.press("enter")
            assert it.below == "Stored: away Wed 1 Apr to Sun 5 Apr."
            assert " 2  an evening on Sat 14 Mar, 240 min" in it.text
            await it.press("n")
            await it.paste("soon")
            await it.press("enter")
            assert it.below.startswith('"soon" is not understood.')
            await it.press("down", "X")
            assert it.below.startswith("Stored: no longer an evening on Sat 14 Mar")
            await it.press("u")
            assert it.below.startswith("Taken back")

    asyncio.run(drive())
    assert [one.kind for one in desk.records().declared] == ["evenings", "once", "away"]


def test_a_line_is_read_as_the_plan_it_is(tmp_path: Path) -> None:
    desk = a_small_log(tmp_path)
    plan_said(desk, "2026-03-14")
    plan_said(desk, "on 2026-03-15 for 90 minutes")
    plan_said(desk, "away 2026-05-01")
    assert [(one.kind, one.first, one.minutes) for one in desk.records().declared] == [
        ("once", date(2026, 3, 14), None),
        ("once", date(2026, 3, 15), 90.0),
        ("away", date(2026, 5, 1), None),
    ]  # fmt: skip
    with pytest.raises(DataError, match="does not exist"):
        plan_said(desk, "away 2026-02-30")
