"""One HTML page, whole in itself: figures, a plain table beside each, no request to anywhere.

jinja2 escapes every text; names are cut to a length that a page can bear, and made printable. The
page's own security policy forbids every request, should a browser think of one, and every script too
where the figures are not live.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

from tracker.domain.answers import (
    BacklogAnswer,
    Doubt,
    ForecastAnswer,
    PaceAnswer,
    TrackRecordAnswer,
)
from tracker.domain.steps_left import StepsLeftAnswer
from tracker.report.drawings.svg import (
    DARK,
    LIGHT,
    NARROW,
    STYLE,
    WIDE,
    Figure,
    svg_file,
    svg_fragment,
    variables,
)
from tracker.report.goal_rows import GoalRow, unit_goal_rows
from tracker.report.parts.dates import fan_part, goals_part, lead_words, ready_part
from tracker.report.parts.pace import pace_part, record_part
from tracker.report.parts.part import Part, shown
from tracker.report.parts.photos import BeforeAfter, photos_part
from tracker.report.parts.work import backlog_part, evenings_part, steps_part
from tracker.report.plain import date_words
from tracker.report.sitting import Sitting

_TEMPLATE = Path(__file__).with_name("page.html")
TITLE = "From the desk to the table"


class PageAnswers(NamedTuple):
    """All that the page tells, as of one day."""

    forecast: ForecastAnswer
    backlog: BacklogAnswer
    pace: PaceAnswer
    record: TrackRecordAnswer
    sittings: Sequence[Sitting] = ()
    steps: StepsLeftAnswer | None = None
    goals: Sequence[GoalRow] | None = None
    """None = the goal dates of units alone."""
    planned: Sequence[date] = ()
    photos: Sequence[BeforeAfter] = ()


def parts_of(answers: PageAnswers) -> list[Part]:
    """The parts of the page, in the order they are read."""
    day = answers.forecast.as_of
    goals = unit_goal_rows(answers.forecast.units) if answers.goals is None else answers.goals
    parts = [
        ready_part(answers.forecast),
        goals_part(goals),
        fan_part(answers.forecast),
        steps_part(answers.steps or StepsLeftAnswer(day)),
        photos_part(answers.photos),
        backlog_part(answers.backlog),
        evenings_part(answers.sittings, day, answers.planned),
        pace_part(answers.pace),
        record_part(answers.record),
    ]
    return [part for part in parts if part is not None]


def page_html(answers: PageAnswers, *, title: str = TITLE, live: bool = False) -> str:
    """The whole page as text; with `live`, figures answer to the pointer where there is room for it."""
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    template = environment.from_string(_TEMPLATE.read_text(encoding="utf-8"))
    figures, script = _live(answers) if live else ({}, "")
    forecast, backlog, pace = answers.forecast, answers.backlog, answers.pace
    # Only our own style sheet and figures are taken as they are; the figures escape every name in them.
    return template.render(
        title=shown(title),
        as_of=date_words(forecast.as_of),
        lead=lead_words(forecast),
        doubts=[shown(doubt.text, 600) for doubt in _each_once(forecast, backlog, pace)],
        parts=parts_of(answers),
        drawn=lambda figure: Markup(_drawn(figure)),  # noqa: S704
        light=Markup(variables(LIGHT)),  # noqa: S704
        dark=Markup(variables(DARK)),  # noqa: S704
        figure_style=Markup(STYLE),  # noqa: S704
        live={name: Markup(fragment) for name, fragment in figures.items()},  # noqa: S704
        script=Markup(script),  # noqa: S704
        photos=bool(answers.photos),
    )


def figure_files(answers: PageAnswers) -> dict[str, str]:
    """Every figure of the page as an SVG file: name of the file -> its text."""
    return {f"{part.figure.name}.svg": svg_file(part.figure) for part in parts_of(answers) if part.figure}


def _live(answers: PageAnswers) -> tuple[dict[str, str], str]:
    from tracker.report.live_figures import library, live_figures

    return live_figures(answers), library()


def _drawn(figure: Figure) -> str:
    """Drawn twice, for a desk or paper and for a phone; the style sheet shows one of them."""
    return svg_fragment(figure, WIDE, "wide") + svg_fragment(figure, NARROW, "narrow")


def _each_once(*answers: ForecastAnswer | BacklogAnswer | PaceAnswer) -> list[Doubt]:
    return list({(doubt.code, doubt.text): doubt for answer in answers for doubt in answer.doubts}.values())
