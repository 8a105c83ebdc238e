"""The program in the terminal: which screen is shown, in which look, by which keys."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial

from rich.text import Text
from textual.app import SystemCommand
from textual.binding import Binding
from textual.screen import Screen

from tracker.report.crash_words import crash_line
from tracker.tui.actions import actions_on, key_of
from tracker.tui.background import Background
from tracker.tui.page import Page
from tracker.tui.screens import open_screen
from tracker.tui.themes import THEMES, next_theme
from tracker.workbench.desk import Desk
from tracker.workbench.settings import Settings, set_setting


class Lastcoat(Background):
    """The screens, one shown at a time; a sheet or the help lies on top of the one before."""

    CSS_PATH = "styles.tcss"
    TITLE = "Lastcoat"
    BINDINGS = [  # noqa: RUF012 - the framework's form
        Binding("ctrl+q", "quit", "Close", show=False, priority=True),
        Binding("ctrl+c", "copy_or_quit", "Copy what is marked, or close", show=False, priority=True),
    ]

    def __init__(self, desk: Desk, settings: Settings = Settings(), settings_file: str = "") -> None:  # noqa: B008
        super().__init__(desk)
        self.settings = settings
        self.settings_file = settings_file
        """Where another look is remembered; empty = nowhere."""
        self.keymap_said = dict(settings.keys)
        for theme in THEMES.values():
            self.register_theme(theme)
        self.theme = settings.theme
        self.animation_level = "full" if settings.animation else "none"
        self.set_keymap(self.keymap_said)

    def get_default_screen(self) -> Screen[None]:
        """Tonight comes first."""
        return self._screen("tonight")

    def _screen(self, page: str) -> Screen[None]:
        if not self.is_screen_installed(page):
            self.install_screen(open_screen(page), page)
        return self.get_screen(page)

    def go(self, page: str) -> None:
        """Show a page; tonight lies under all others, and what was opened on top of one is closed."""
        while len(self.screen_stack) > (1 if page == "tonight" else 2):
            self.pop_screen()
        if len(self.screen_stack) == 1 and page != "tonight":
            self.push_screen(self._screen(page))
        elif self.page is None or page != self.page.PAGE:
            self.switch_screen(self._screen(page))

    def open(self, page: str, *said: object) -> None:
        """Lay a screen on top of this one."""
        self.push_screen(open_screen(page, *said))

    def back(self) -> None:
        """The screen under this one."""
        if len(self.screen_stack) > 1:
            self.pop_screen()

    def next_look(self) -> None:
        """The look after this one, remembered for next time."""
        self.theme = next_theme(self.theme)
        if self.settings_file and self.page is not None:
            verb = partial(set_setting, self.settings_file, "theme", self.theme)
            self.page.ask_verb(verb, lambda _: None, "settings", alone=False)

    def _fatal_error(self) -> None:
        """A mistake of the program is one line: the framework would print what the log holds beside it."""
        self.panic(Text(crash_line(self._exception or Exception())))

    async def action_quit(self) -> None:
        """Close."""
        await self.close_when_stored()

    async def action_copy_or_quit(self) -> None:
        """What the keys of a terminal's own copy do where something is marked; else it closes."""
        marked = self.screen.get_selected_text() or getattr(self.focused, "selected_text", "")
        if marked:
            self.copy_to_clipboard(marked)
        else:
            await self.close_when_stored()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every action of the screen by its words, with its key."""
        for action in actions_on(screen.PAGE) if isinstance(screen, Page) else ():
            key = key_of(action, self.keymap_said)
            yield SystemCommand(action.words, key, partial(screen.run_action, f"screen.{action.name}"))
