"""The screens are tested in a terminal of known colours, whatever the tests are started in."""

from __future__ import annotations

import pytest
from textual.message import Message

from tests.desks import NOW
from tracker.domain.answers import ForecastAnswer
from tracker.tui import background
from tracker.tui.answers import Fresh
from tracker.workbench.desk import Desk
from tracker.workbench.kept_before import Before


@pytest.fixture(autouse=True)
def known_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """No settings of the person who runs the tests."""
    for name in ("NO_COLOR", "COLORTERM", "TEXTUAL_THEME", "TEXTUAL_ANIMATIONS", "LASTCOAT_CONFIG"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLORTERM", "truecolor")


@pytest.fixture(autouse=True)
def dates_on_request(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The dates are worked out only in tests that are marked by asking for `fresh_dates`."""
    if "fresh_dates" not in request.fixturenames:
        monkeypatch.setattr(background, "work_out", no_dates)


@pytest.fixture
def fresh_dates() -> None:
    """This test waits for the real forecast."""


def no_dates(_: Desk) -> Message:
    """A forecast of nothing, at once."""
    return Fresh(Before(ForecastAnswer(NOW.date(), (), ()), True))
