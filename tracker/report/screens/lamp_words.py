"""What the lamp says when it is lit, rests or goes out."""

from __future__ import annotations

from datetime import datetime

from tracker.report.plain import minutes_words
from tracker.report.screens.chrome import LampLike, clock_words

ASK_STOPPED = 'When did you really stop? As in "22:30" or "40 min ago"'
ASK_SINCE = 'Since when? As in "20:15" or "30 min ago"'
ASK_DONE = "The lamp is off after {minutes} min. What was done? "


def lamp_lit(lamp: LampLike, now: datetime) -> str:
    """How the lamp stands after a key."""
    if lamp.state == "off" or lamp.began is None:
        return "The lamp is off and nothing is counted."
    if lamp.state == "paused":
        return f"The lamp rests after {minutes_words(lamp.minutes)}. The same key goes on."
    return f"The lamp is on since {clock_words(lamp.began, now)}. Good evening."
