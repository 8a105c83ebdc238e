"""A unit's sheet by keys: letters, marks of one, a range and all, names, parts, notes, steps."""

from __future__ import annotations

import asyncio
from pathlib import Path

from tests.tui.driving import Driver, a_small_log, opened
from tracker.domain.progress import progress_of
from tracker.tui.widgets.grid import SheetGrid
from tracker.workbench.desk import Desk


def letters(it: Driver) -> tuple[str, ...]:
    """The letters of the sheet."""
    return it.app.screen.query_one(SheetGrid).grid.letters


def done(desk: Desk, step: str) -> list[int]:
    """Numbers of the spears that have a step behind them."""
    known = desk.records()
    progress = progress_of(known)
    return [m.number for m in known.models if m.unit_id == 1 and progress.is_done(m.id, step)]


async def the_sheet(it: Driver) -> None:
    """Open the sheet of the spears."""
    await it.press("a", "down", "enter")
    assert it.screen == "unit"


def test_letters_tell_where_every_model_stands(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await the_sheet(it)
            assert letters(it)[0] == "#..........."
            assert letters(it)[19] == "............"
            assert it.text.splitlines()[0] == "Model 1, cleaning: done, 3 Mar 2026"
            assert ". not yet   h in hand   ~ drying   # done   - goes without" in it.text

    asyncio.run(drive())


def test_one_a_range_and_all_are_marked_and_a_mistake_is_mended(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await the_sheet(it)
            await it.press("right", "x")
            assert done(desk, "assembly") == [1]
            assert letters(it)[0].startswith("#~")
            await it.press("down", "v", "down", "down", "x")
            assert done(desk, "assembly") == [1, 2, 3, 4]
            assert it.below.startswith("Stored: 3 models of Spears: assembly done")
            await it.press("up", "full_stop")
            assert done(desk, "assembly") == [1, 2, 4]
            await it.press("right", "asterisk", "minus")
            assert len(done(desk, "base texture")) == 20
            assert {row[2] for row in letters(it)} == {"-"}
            await it.press("right", "home", "h")
            assert letters(it)[19][0] == "h"
            await it.press("u")
            assert letters(it)[19][0] == "."

    asyncio.run(drive())


def test_models_get_names_parts_and_notes(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await the_sheet(it)
            for key, said in (("n", "Old Barn"), ("m", "rider"), ("N", "left arm is loose")):
                await it.press(key)
                await it.paste(said)
                await it.press("enter")
            model = desk.records().models[0]
            assert (model.name, model.part, model.note) == ("Old Barn", "rider", "left arm is loose")
            assert any("1 Old Barn (rider) *" in line for line in it.shown())

    asyncio.run(drive())


def test_a_step_comes_on_the_route_and_goes_and_the_finish_line_moves(tmp_path: Path) -> None:
    async def drive() -> None:
        desk = a_small_log(tmp_path)
        async with opened(desk) as it:
            await the_sheet(it)
            await it.press("plus")
            await it.paste("magnets")
            await it.press("enter")
            assert "magnets" in desk.records().units[0].route
            assert letters(it)[0][1] == "."
            assert letters(it)[1][1] == "-"
            await it.press("right", "D")
            assert "magnets" not in desk.records().units[0].route
            await it.press("f")
            assert desk.records().units[0].finish_line == "assembly"

    asyncio.run(drive())


def test_why_a_step_takes_so_long_is_told(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await the_sheet(it)
            await it.press("w")
            assert it.screen == "why"
            assert it.text.startswith("Spears, cleaning:")
            await it.press("escape")
            assert it.screen == "unit"

    asyncio.run(drive())


def test_another_name_keeps_the_sheet_open(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await the_sheet(it)
            await it.press("r", "ctrl+u")
            await it.paste("Long Spears")
            await it.press("enter")
            assert "Long Spears, 20 models" in it.shown()[0]

    asyncio.run(drive())


def test_the_mouse_puts_the_cursor_on_a_cell(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await the_sheet(it)
            grid = it.app.screen.query_one(SheetGrid)
            margin = 2 + len(grid.grid.margins[0])
            await it.pilot.click(SheetGrid, offset=(margin + 3 * grid.grid.pitch, len(grid.grid.titles) + 2))
            await it.settle()
            assert (grid.row, grid.column) == (2, 3)

    asyncio.run(drive())
