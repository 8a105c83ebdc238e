"""The lamp by keys: on, off with what was done, resting, forgotten, back-dated, taken back."""

from __future__ import annotations

import asyncio
from datetime import datetime, timedelta
from pathlib import Path

from tests.desks import NOW
from tests.tui.driving import a_small_log, opened
from tracker.workbench.desk import Desk
from tracker.workbench.lamp import lamp_state


class Clock:
    """A clock that moves when it is told to."""

    def __init__(self, now: datetime = NOW) -> None:
        self.now = now

    def __call__(self) -> datetime:
        """The time."""
        return self.now


def a_desk_with_a_clock(folder: Path) -> tuple[Desk, Clock]:
    """The small log, and its clock."""
    clock = Clock()
    return a_small_log(folder)._replace(now=clock), clock


def test_one_key_lights_it_and_the_same_key_asks_what_was_done(tmp_path: Path) -> None:
    async def drive() -> None:
        desk, clock = a_desk_with_a_clock(tmp_path)
        async with opened(desk) as it:
            await it.press("l")
            assert it.below == "The lamp is on since 21:30. Good evening."
            assert lamp_state(desk).state == "on"
            clock.now += timedelta(minutes=42)
            await it.press("l")
            assert it.below.startswith("The lamp is off after 42 min.")
            assert it.entry == "cleaning 4 Spears, 42 min"
            await it.press("enter")
            assert it.below.startswith("Logged: cleaning, 4 of 20 Spears, 42 min")
        known = desk.records()
        assert known.lines[-1].minutes == 42.0
        assert known.sessions[-1].minutes == 42.0

    asyncio.run(drive())


def test_it_is_on_after_the_program_was_closed(tmp_path: Path) -> None:
    async def drive() -> None:
        desk, clock = a_desk_with_a_clock(tmp_path)
        async with opened(desk) as it:
            await it.press("l")
        clock.now += timedelta(minutes=20)
        async with opened(desk) as it:
            assert it.shown()[0].strip().startswith("● The lamp is on since 21:30, 20 min")

    asyncio.run(drive())


def test_a_rest_is_not_counted(tmp_path: Path) -> None:
    async def drive() -> None:
        desk, clock = a_desk_with_a_clock(tmp_path)
        async with opened(desk) as it:
            await it.press("l")
            clock.now += timedelta(minutes=10)
            await it.press("R")
            assert it.below.startswith("The lamp rests after 10 min.")
            clock.now += timedelta(minutes=30)
            await it.press("R")
            clock.now += timedelta(minutes=5)
            await it.press("l")
            assert it.entry == "cleaning 4 Spears, 15 min"

    asyncio.run(drive())


def test_a_forgotten_lamp_asks_when_the_person_really_stopped(tmp_path: Path) -> None:
    async def drive() -> None:
        desk, clock = a_desk_with_a_clock(tmp_path)
        async with opened(desk) as it:
            await it.press("l")
        clock.now += timedelta(hours=12)
        async with opened(desk) as it:
            assert "when did you stop?" in it.shown()[0]
            await it.press("l")
            assert it.below.startswith("When did you really stop?")
            await it.paste("22:15")
            await it.press("enter")
            assert it.below.startswith("The lamp is off after 45 min.")
            assert it.entry == "cleaning 4 Spears, 45 min 2026-03-10"

    asyncio.run(drive())


def test_it_can_be_lit_as_of_earlier_and_a_wrong_time_is_said(tmp_path: Path) -> None:
    async def drive() -> None:
        desk, _ = a_desk_with_a_clock(tmp_path)
        async with opened(desk) as it:
            await it.press("B")
            await it.paste("half past")
            await it.press("enter")
            assert it.below.startswith('"half past" is no time.')
            await it.press("B")
            await it.paste("30 min ago")
            await it.press("enter")
            assert it.below.startswith("The lamp is on since 21:00.")

    asyncio.run(drive())


def test_a_half_typed_evening_keeps_its_words_when_the_lamp_goes_off(tmp_path: Path) -> None:
    async def drive() -> None:
        desk, clock = a_desk_with_a_clock(tmp_path)
        async with opened(desk) as it:
            await it.press("e")
            await it.type("glued 2 spears")
            await it.press("escape", "l")
            clock.now += timedelta(minutes=25)
            await it.press("l")
            assert it.entry == "glued 2 spears, 25 min"

    asyncio.run(drive())


def test_lighting_it_can_be_undone(tmp_path: Path) -> None:
    async def drive() -> None:
        desk, _ = a_desk_with_a_clock(tmp_path)
        async with opened(desk) as it:
            await it.press("l", "u")
            assert it.below.startswith("Taken back: lamp: on since 21:30.")
            assert "off" in it.shown()[0]
        assert lamp_state(desk).state == "off"

    asyncio.run(drive())
