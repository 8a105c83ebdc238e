"""What every screen has: hints, help and palette from one registry, other keys, looks, small terminals."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest
from textual.command import CommandPalette
from textual.widgets import Input

from tests.tui.driving import a_small_log, opened
from tracker.domain.problems import Problem
from tracker.tui.actions import ACTIONS, HELP, PAGES, action_id, actions_on, shown_key
from tracker.tui.frame import LEAST_COLUMNS, LEAST_LINES
from tracker.tui.screens import _CLASSES
from tracker.tui.themes import THEMES
from tracker.workbench.settings import Settings, read_settings

SCREENS = [*PAGES, "first", "unit"]


@pytest.mark.parametrize("page", SCREENS)
def test_no_key_of_a_screen_does_two_things(page: str) -> None:
    own = [key for action in ACTIONS if page in action.where for key in action.keys.split(",") if key]
    assert len(own) == len(set(own))


def test_no_key_that_works_everywhere_does_two_things() -> None:
    keys = [key for action in (*ACTIONS, HELP) if not action.where for key in action.keys.split(",") if key]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("page", PAGES)
def test_every_page_can_be_left_for_every_other_by_one_key(page: str) -> None:
    own = {key for action in ACTIONS if page in action.where for key in action.keys.split(",")}
    for other in PAGES:
        key = next(action.keys for action in ACTIONS if action.name == f"go('{other}')")
        assert key not in own


def test_every_action_has_a_method_on_its_screens_and_words() -> None:
    from importlib import import_module

    for action in (*ACTIONS, HELP):
        assert action.words[0].isupper()
        for page in action.where or SCREENS:
            screen = getattr(import_module(f"tracker.tui.screens.{page}"), _CLASSES[page])
            assert hasattr(screen, f"action_{action.name.partition('(')[0]}"), (page, action.name)


@pytest.mark.parametrize("page", PAGES)
def test_help_on_every_page_tells_every_key(page: str, tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path), (100, 60)) as it:
            it.app.go(page)
            await it.settle()
            await it.press("question_mark")
            for action in actions_on(page):
                if action.keys:
                    assert f"{shown_key(action.key)}  {action.words}" in it.text

    asyncio.run(drive())


def test_a_question_mark_asks_for_help_unless_it_is_typed_into_words(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await it.press("e", "ctrl+u", "ctrl+k", "question_mark")
            assert it.screen == "help"
            await it.press("escape", "e", "ctrl+u", "ctrl+k", "n", "question_mark")
            assert it.entry == "n?"

    asyncio.run(drive())


def test_the_palette_has_every_action_and_does_it(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            page = it.app.screen
            words = {command.title for command in it.app.get_system_commands(page)}
            assert words == {action.words for action in actions_on("tonight")}
            await it.press("ctrl+p")
            assert isinstance(it.app.screen, CommandPalette)
            await it.pilot.press(*"backlog")
            await it.app.workers.wait_for_complete()
            it.app.screen.query_one(Input)
            await it.press("enter")
            await it.press("enter")
            assert it.screen == "backlog"

    asyncio.run(drive())


def test_keys_are_set_anew_but_one_way_to_close_stays(tmp_path: Path) -> None:
    async def drive() -> None:
        settings = Settings(keys=(("lamp", "f2"), ("quit", "f10")))
        async with opened(a_small_log(tmp_path), settings=settings) as it:
            await it.press("l")
            assert "off" in it.shown()[0]
            assert "f2 lamp" in it.shown()[-1]
            await it.press("f2")
            assert "is on since" in it.shown()[0]
            await it.press("q")
            assert it.app.is_running
            await it.pilot.press("ctrl+q")
            assert it.app._exit

    asyncio.run(drive())


@pytest.mark.parametrize("key", ["q", "ctrl+c"])
def test_it_closes_by_these_keys_as_well(key: str, tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            await it.pilot.press(key)
            assert it.app._exit

    asyncio.run(drive())


def test_another_look_is_remembered(tmp_path: Path) -> None:
    async def drive() -> None:
        path = str(tmp_path / "config.toml")
        async with opened(a_small_log(tmp_path), settings_file=path) as it:
            assert it.app.theme == "night"
            await it.press("T")
            assert it.app.theme == "day"
        assert read_settings(path).settings.theme == "day"

    asyncio.run(drive())


def test_settings_that_cannot_be_are_told_and_the_program_opens(tmp_path: Path) -> None:
    async def drive() -> None:
        from tracker.tui.app import Lastcoat

        app = Lastcoat(a_small_log(tmp_path))
        app.trouble = (Problem("config.toml", 'there is no setting "them"', 'Did you mean "theme"?'),)
        async with app.run_test(size=(80, 24)) as pilot:
            await app.workers.wait_for_complete()
            await pilot.pause()
            assert app.page is not None
            shown = ["".join(s.text for s in strip) for strip in app.screen._compositor.render_strips()]
            assert any('There is no setting "them". Did you mean "theme"?' in line for line in shown)

    asyncio.run(drive())


@pytest.mark.parametrize("size", [(40, 12), (59, 24), (80, 15), (20, 5)])
def test_a_terminal_that_is_too_small_gets_a_clear_word(size: tuple[int, int], tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path), size) as it:
            assert it.text.startswith(f"Too small: {size[0]}x{size[1]}."[: size[0] - 4])
            await it.pilot.resize_terminal(80, 24)
            await it.settle()
            assert "You can take up" in it.text

    asyncio.run(drive())


@pytest.mark.parametrize("size", [(LEAST_COLUMNS, LEAST_LINES), (80, 24), (140, 40), (200, 60)])
@pytest.mark.parametrize("page", PAGES)
def test_no_line_is_wider_than_the_terminal(page: str, size: tuple[int, int], tmp_path: Path) -> None:
    async def drive() -> None:
        from tracker.report.plain import cells

        async with opened(a_small_log(tmp_path), size) as it:
            it.app.go(page)
            await it.settle()
            assert it.app.page is not None
            assert all(cells(line.text) <= it.app.page.rows.room for line in it.app.page.rows.lines)

    asyncio.run(drive())


def test_a_click_chooses_a_row_and_a_hint(tmp_path: Path) -> None:
    async def drive() -> None:
        async with opened(a_small_log(tmp_path)) as it:
            assert it.app.page is not None
            rows = it.app.page.rows
            row = next(i for i, line in enumerate(rows.lines) if line.key.endswith("assembly"))
            await it.pilot.click("#page", offset=(10, row))
            await it.settle()
            assert rows.cursor == row
            await it.pilot.click("#page", offset=(10, row))
            await it.settle()
            assert it.entry.startswith("assembly 14 Spears")
            await it.press("escape")
            place = it.shown()[-1].index("a army")
            await it.pilot.click("#hints", offset=(place, 0))
            await it.settle()
            assert it.screen == "army"

    asyncio.run(drive())


def test_a_fault_of_the_program_is_one_line_and_it_goes_on(tmp_path: Path) -> None:
    async def drive() -> None:
        def fault() -> None:
            raise RuntimeError("a plain fault")

        async with opened(a_small_log(tmp_path)) as it:
            assert it.app.page is not None
            it.app.page.ask_verb(fault, lambda _: None, "test")
            await it.pilot.pause()
            await it.pilot.pause()
            assert it.below == "A fault of the program: RuntimeError: a plain fault"
            await it.press("a")
            assert it.screen == "army"

    asyncio.run(drive())


def test_names_of_actions_are_plain_words_for_the_settings() -> None:
    assert all(action_id(action).replace("_", "").isalpha() for action in (*ACTIONS, HELP))


def _light(colour: str) -> float:
    """Relative luminance (WCAG 2.2, definition of relative luminance)."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (x / 12.92 if x <= 0.04045 else ((x + 0.055) / 1.055) ** 2.4 for x in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio (WCAG 2.2, definition of contrast ratio)."""
    dark, light = sorted((_light(one), _light(other)))
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_measured_as_the_guidelines_do() -> None:
    # WCAG 2.2: black on white is 21 to 1, the highest there is; #767676 on white just passes 4.5 to 1
    # (W3C, Understanding SC 1.4.3).
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert 4.5 <= contrast("#767676", "#ffffff") < 4.6


@pytest.mark.parametrize("name", THEMES)
def test_every_text_stands_out_from_its_ground(name: str) -> None:
    theme = THEMES[name]
    said = theme.variables
    grounds = [theme.background, theme.surface, theme.panel]
    texts = [theme.foreground, said["quiet"], said["lit"], theme.success, theme.error, said["chart"]]
    pairs = [(text, ground) for text in texts for ground in grounds]
    pairs += [
        (said["cursor-text"], said["cursor-ground"]),
        (said["input-cursor-foreground"], said["input-cursor-background"]),
        (theme.foreground, said["input-selection-background"]),
    ]
    # WCAG 2.2, success criterion 1.4.3 (AA).
    assert [(a, b) for a, b in pairs if contrast(str(a), str(b)) < 4.5] == []
