"""Small made-up answers for the report's tests."""

from __future__ import annotations

from datetime import date, datetime, timedelta

from tracker.domain.answers import (
    LEVELS,
    BacklogAnswer,
    BacklogDay,
    Dates,
    Doubt,
    EstimateAnswer,
    Factor,
    ForecastAnswer,
    Held,
    LineEstimate,
    Minutes,
    Outlook,
    PaceAnswer,
    Rival,
    StepPace,
    TrackRecordAnswer,
    WhyAnswer,
)
from tracker.domain.answers_backlog import Change, Flow
from tracker.domain.ready import ReadyAnswer, ReadyLine
from tracker.domain.steps_left import StepMinutes, StepsLeftAnswer, UnitSteps
from tracker.report.sitting import Sitting

TODAY = date(2026, 10, 31)
NOW = datetime(2026, 10, 31, 20, 0)
HOSTILE = (
    "<script>alert(1)</script>",
    "</script><img src=x onerror=alert(1)>",
    '"><a href="https://example.invalid">click</a>',
    "[bold red]markup[/bold red] %{x} {{ 7*7 }}",
    "=1+1",
    "\x1b[2J\x07\u202egnihton",
    "مرحبا بالعالم",
    "龍🐉👨‍👩‍👧",
    "x" * 500,
    'it\'s "quoted", and\ttabbed\r\nbroken',
)


def spread(low: float, high: float) -> Minutes:
    """19 quantiles from low to high, evenly."""
    return tuple(low + (high - low) * i / 18 for i in range(19))


def dates(low_days: int, step_days: int, known: int = 19) -> Dates:
    """19 dates, the first `low_days` after today; those from `known` on lie beyond the horizon."""
    return tuple(
        TODAY + timedelta(days=low_days + step_days * i) if i < known else None for i in range(len(LEVELS))
    )


def forecast(names: tuple[str, ...] = ("Spears", "Riders", "Captain")) -> ForecastAnswer:
    """One unit per name: begun, with a goal, partly beyond the horizon; the last one finished."""
    units = [
        Outlook(
            "Host", name, 20, 3 * i, spread(300 * i + 40, 900 * i + 80), dates(5 * i + 3, 4 * i + 1, 19 - i)
        )
        for i, name in enumerate(names[:-1])
    ]
    units[0] = units[0]._replace(goal_date=date(2026, 11, 14), chance_by_goal=0.424242)
    units.append(Outlook("Host", names[-1], 1, 1, spread(0, 0), dates(-30, 0)))
    host = Outlook("Host", "", 41, 4, spread(380, 2000), dates(30, 12, 15))
    doubts = (Doubt("few-evenings", "Only 9 evenings so far, so the dates lean on how others live."),)
    return ForecastAnswer(TODAY, tuple(units), (host,), doubts, seed=1, draws=2000)


def pace(names: tuple[str, ...] = ("cleaning", "priming", "base colours")) -> PaceAnswer:
    """Three steps from slow to quick, from each source."""
    return PaceAnswer(
        TODAY,
        (
            StepPace(names[0], spread(3, 9.4), 41, "you"),
            StepPace(names[1], spread(0.4, 2.1), 6, "mostly you"),
            StepPace(names[2], spread(8, 44), 0, "trade"),
        ),
    )


def estimate(unit: str = "Spears") -> EstimateAnswer:
    """Two lines and their joint total."""
    lines = (
        LineEstimate(unit, "washing", 10, spread(9, 31)),
        LineEstimate(unit, "base colours", 10, spread(100, 290)),
    )
    return EstimateAnswer(TODAY, lines, spread(118, 312.005), (), seed=1)


def guessed_estimate() -> EstimateAnswer:
    """The same, with the person's own guess for the first line."""
    answer = estimate()
    return answer._replace(lines=(answer.lines[0]._replace(guess_minutes=15.0), answer.lines[1]))


def backlog() -> BacklogAnswer:
    """Two units came in, some were finished, some went."""
    days = (
        BacklogDay(date(2025, 1, 4), 20, 1500, added=20),
        BacklogDay(date(2025, 6, 1), 20, 900),
        BacklogDay(date(2025, 9, 1), 10, 600, finished=10),
        BacklogDay(date(2026, 3, 1), 28, 2400, added=18),
        BacklogDay(date(2026, 5, 1), 24, 2000, taken_away=4),
        BacklogDay(date(2026, 10, 1), 20, 1300, finished=4),
    )
    flows = (
        Flow("came in", 91, 0, 0, (0.03, 0.9, 5.4)), Flow("came in", 364, 18, 1, (0.6, 1.8, 4.1)),
        Flow("finished", 91, 4, 1, (0.3, 1.5, 4.6)), Flow("finished", 364, 4, 1, (0.1, 0.4, 0.9)),
        Flow("sold", 91, 0, 0, (0.002, 0.03, 0.09)), Flow("sold", 364, 4, 1, (0.1, 0.4, 11.2)),
    )  # fmt: skip
    return BacklogAnswer(
        TODAY, days, dates(60, 15, 17), "", (), 1, spread(900, 1900), 480.0, flows
    )  # fmt: skip


def growing_backlog() -> BacklogAnswer:
    """More comes in than leaves; either of two things would change it."""
    reason = "at this rate it does not shrink: about 4 models come in a month and 3 leave"
    ways = (Change("fewer models", 2, False, dates(60, 9)), Change("more evenings", 1, False, dates(40, 9)))
    return backlog()._replace(end=None, reason=reason, change=ways)


def sittings() -> tuple[Sitting, ...]:
    """An evening every fifth day of two years, now and then of unknown length."""
    return tuple(
        Sitting(TODAY - timedelta(days=5 * i), None if i % 7 == 3 else 20.0 + 13 * (i % 9))
        for i in range(140)
    )


def ready() -> ReadyAnswer:
    """Two things to do, one of them begun, and one that dries."""
    return ReadyAnswer(
        NOW,
        (
            ReadyLine("Host", "Spears", "priming", 20, 0, gate="dry weather"),
            ReadyLine("Host", "Captain", "cleaning", 1, 1, material="metal"),
        ),
        (
            ReadyLine(
                "Host", "Riders", "varnish", 8, 0, gate="dry weather", until=datetime(2026, 10, 31, 23, 30)
            ),
        ),
        29,
        has_units=True,
    )


def record() -> TrackRecordAnswer:
    """Forty estimates, the ranges right, guesses nearer now and then."""
    return TrackRecordAnswer(
        TODAY, 40, (Held(50, 21, 14, 26, 0.375, 0.671), Held(80, 33, 27, 36, 0.681, 0.913)), 1.04,
        (4, 5, 3, 4, 4, 5, 4, 3, 5, 3), 4, 3, 0.21,
        (Rival("spreadsheet", 40, 0.21, 0.3, 11), Rival("guess", 12, 0.2, 0.26, 4)),
        tenths_luck=(1, 8), totals_luck=(1, 4),
    )  # fmt: skip


def why() -> WhyAnswer:
    """Base colours on riders: slower by the kind, quicker lately."""
    factors = (
        Factor("kind", "cavalry", 1.9, 34), Factor("material", "plastic", 1.0),
        Factor("standard", "table-top standard", 1.0), Factor("unit", "this unit", 1.1, 9),
        Factor("lately", "lately", 0.95),
    )  # fmt: skip
    middle = 16 * 1.9 * 1.1 * 0.95
    minutes = tuple(middle * (0.5 + level / 100) for level in range(5, 100, 5))
    return WhyAnswer(TODAY, "Riders", "base colours", 5, 16.0, "you", 52, factors, middle, minutes)


def steps(names: tuple[str, ...]) -> StepsLeftAnswer:
    """Each unit has two steps left, the last one none."""
    units = [
        UnitSteps(
            "Host", name, 20, 3 * i,
            (StepMinutes("cleaning", 0), StepMinutes("priming", 9, spread(4, 12)),
             StepMinutes(name, 20, spread(200, 900 + 60 * i))),
        )
        for i, name in enumerate(names[:-1])
    ]  # fmt: skip
    units.append(UnitSteps("Host", names[-1], 1, 1, (StepMinutes("cleaning", 0),)))
    return StepsLeftAnswer(TODAY, tuple(units), seed=1)
