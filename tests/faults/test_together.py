"""The screens in a terminal, the page in a browser and commands of a shell on one log; a long sleep."""

from __future__ import annotations

import asyncio
import os
import subprocess
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from tests.cli.serve.serving import FIRST_SCREEN, comes, let_in, socket_of
from tests.cli.serve.serving import program as served
from tests.desks import with_spears
from tests.faults.acts import unsound
from tests.tui.test_pseudo_terminal import ENTER, Terminal, a_log, program
from tracker.domain.problems import DataError
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import lamp_off, lamp_on, lamp_state
from tracker.workbench.lines import Entry, log_line

COMMANDS = 6


def log_in_the_shell(desk: Desk, number: int) -> None:
    """`lastcoat log` as a program; it must say that it was stored."""
    words = ["log", "--unit", "Spears", "--step", "priming", "--models", "1", "--minutes", str(number + 1)]
    done = subprocess.run(
        [program(), *words, "--db", desk.path], capture_output=True, text=True, check=False, env=os.environ
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith("Logged:")


def log_by_keys(screens: Terminal) -> None:
    """An evening's line on the screens."""
    screens.press("e")
    screens.until("Esc")
    screens.press("cleaned 2 spears, 20 min")
    screens.until("2 of 20 Spears")
    screens.press(ENTER)
    screens.until("Logged:")


def test_a_terminal_a_browser_and_a_shell_on_one_log(tmp_path: Path) -> None:
    desk = a_log(tmp_path)
    before = len(desk.records().lines)

    async def evening(screens: Terminal) -> None:
        async with served(tmp_path) as (_, address), let_in(address) as session:
            async with socket_of(session, address) as page:
                await page.until(FIRST_SCREEN)
                await page.press("e")
                await page.until("Esc")
                await page.press("glued 3 spears, 20 min")
                await page.until("3 of 20 Spears")
                shell = [asyncio.to_thread(log_in_the_shell, desk, number) for number in range(COMMANDS)]
                await asyncio.gather(
                    *shell, page.press("\r"), page.until("Logged:"), asyncio.to_thread(log_by_keys, screens)
                )
            await comes(lambda: len(desk.records().lines) == before + COMMANDS + 2)

    with Terminal(desk.path, tmp_path) as screens:
        screens.until(FIRST_SCREEN)
        asyncio.run(evening(screens))
        screens.press("q")
        assert screens.end() == 0
    lines = desk.records().lines[before:]
    told = sorted((line.step, line.models, line.minutes) for line in lines)
    shell = [("priming", 1, float(number + 1)) for number in range(COMMANDS)]
    assert told == [("assembly", 3, 20.0), ("cleaning", 2, 20.0), *shell]
    assert unsound(desk.path) == ""


@pytest.mark.parametrize("began", [datetime(2026, 3, 10, 20, 0), datetime(2026, 3, 10, 10, 0)])
def test_a_computer_that_sleeps_with_the_lamp_on_asks_when_one_really_stopped(
    tmp_path: Path, began: datetime
) -> None:
    clock = [began]
    desk = with_spears(tmp_path)._replace(now=lambda: clock[0])
    lamp_on(desk)
    clock[0] += timedelta(minutes=40)
    log_line(desk, Entry("Spears", "cleaning", models=3, minutes=25.0))
    clock[0] += timedelta(hours=9)  # the lid was closed
    assert lamp_state(desk).forgotten
    with pytest.raises(DataError, match=r"when you really stopped: lastcoat lamp off --at"):
        lamp_off(desk)
    assert lamp_state(desk).state == "on"
    done = lamp_off(desk, at=began + timedelta(minutes=55))
    assert (done.day, done.minutes, done.evening_minutes) == (began.date(), 55, 55.0)
    assert lamp_state(desk).state == "off"
