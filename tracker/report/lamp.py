"""How the lamp stands, in words and as JSON."""

from __future__ import annotations

from tracker.domain.lamp import LampState
from tracker.report.plain import date_words, minutes_words


def lamp_text(lamp: LampState) -> str:
    """How it stands, and what to say when it was probably left on."""
    if lamp.state == "off" or lamp.began is None:
        return "The lamp is off."
    began = f"{lamp.began:%H:%M}"
    if lamp.began.date() != lamp.now.date():
        began += f" on {date_words(lamp.began.date())}"
    if lamp.ahead:
        return (
            f"The lamp was lit at {began}, and a time of it is still to come: was the clock set back?"
            "\nSet it right, or count nothing: lastcoat lamp back"
        )
    if lamp.state == "paused" and lamp.paused_since is not None:
        since = f"{lamp.paused_since:%H:%M}"
        return f"The lamp rests since {since}, after {minutes_words(lamp.minutes)}. On since {began}."
    words = f"The lamp is on since {began}: {minutes_words(lamp.minutes)} so far."
    if not lamp.forgotten:
        return words
    return f"{words}\nWas it left on? Say when you really stopped: lastcoat lamp off --at 22:30"


def lamp_json(lamp: LampState) -> dict[str, object]:
    """How it stands; moments with their offset from UTC."""
    return {
        "as_of": lamp.now.date().isoformat(),
        "doubts": [],
        "state": lamp.state,
        "began": lamp.began.isoformat() if lamp.began else None,
        "paused_since": lamp.paused_since.isoformat() if lamp.paused_since else None,
        "minutes": lamp.minutes,
        "day": lamp.day.isoformat() if lamp.day else None,
        "forgotten": lamp.forgotten,
        "ahead": lamp.ahead,
    }
