"""What past date forecasts came to, before anybody words or rounds it."""

from __future__ import annotations

from datetime import date
from typing import Literal, NamedTuple

from tracker.domain.answers import Doubt, Held


class DateRival(NamedTuple):
    """The program's dates beside another's, on the same forecasts; a lower score is better."""

    code: Literal["constant pace", "hoped for"]
    """Minutes left at the past minutes a day; or the person's own goal date."""
    forecasts: int
    score: float
    rival_score: float
    nearer: int
    """How often the rival's date was nearer than the program's middle."""
    days_late: float = 0.0
    """Median of days by which units came later than the rival's date."""


class DatesRecordAnswer(NamedTuple):
    """Forecasts of ready dates, replayed from the ends of past months, against what came."""

    as_of: date
    months: int = 0
    """Month ends from which forecasts were made."""
    forecasts: int = 0
    """Forecasts that were judged; 0 = too little history."""
    units: int = 0
    """Different units among them."""
    not_yet: int = 0
    """Forecasts that have not had their time yet."""
    withdrawn: int = 0
    """Forecasts of units that left unfinished before their time was up: neither early nor late."""
    held: tuple[Held, ...] = ()
    """The limits of luck take each unit once, however often it was forecast."""
    early: int = 0
    """Before the 10 % date."""
    late: int = 0
    """After the 90 % date."""
    never: int = 0
    """Of those, still not ready when last looked at."""
    later_share: float = 0.0
    """Share that came after the middle; one on its very day counts half."""
    later_luck: tuple[float, float] = (0.0, 0.0)
    """Between these the share would be luck (central 95 %)."""
    days_late: float = 0.0
    """Median of days by which units came later than the middle (below 0: earlier)."""
    times: float = 1.0
    """Median of days it took over days to the middle."""
    score: float = 0.0
    """Mean CRPS of log days from 19 quantiles."""
    rivals: tuple[DateRival, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    seed: int = 0
