"""One HTML page, whole in itself: figures, a plain table beside each, no request to anywhere.

jinja2 escapes every text; names are cut to a length that a page can bear, and made printable. The
page's own security policy forbids every request, should a browser think of one.
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
    Outlook,
    PaceAnswer,
    TrackRecordAnswer,
)
from tracker.report.pace_words import bias_words, held_words, rival_words, totals_words, trust_words
from tracker.report.plain import (
    at_level,
    chance_words,
    clip,
    date_words,
    left_words,
    minutes_words,
    month_words,
    per_model_words,
)
from tracker.report.sitting import Sitting
from tracker.report.words import end_words

_TEMPLATE = Path(__file__).with_name("page.html")
_NAME_COLUMNS_MOST = 120
_RANGES = "The thin bar holds 8 times in 10, the thick one 5 times in 10, the dot is the middle."


class Row(NamedTuple):
    """One row of a table; `whole` rows sum the others up."""

    cells: Sequence[str]
    whole: bool = False


class Part(NamedTuple):
    """One part of the page: words, a figure (ready-made HTML), a table."""

    name: str
    title: str
    sentences: Sequence[str] = ()
    figure: str = ""
    heads: Sequence[str] = ()
    rows: Sequence[Row] = ()
    word_columns: Sequence[int] = ()
    folded: bool = False


def page_html(
    forecast: ForecastAnswer,
    backlog: BacklogAnswer,
    pace: PaceAnswer,
    record: TrackRecordAnswer,
    sittings: Sequence[Sitting],
    *,
    title: str = "From the desk to the table",
) -> str:
    """The whole page as text."""
    from jinja2 import Environment, StrictUndefined
    from markupsafe import Markup
    from plotly.offline import get_plotlyjs

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    template = environment.from_string(_TEMPLATE.read_text(encoding="utf-8"))
    parts = [
        _ready(forecast),
        _backlog(backlog),
        _pace(pace),
        _record(record),
        _calendar(sittings, forecast.as_of),
    ]
    # Only the library and the figures' fragments are ours to trust; every name inside them is inert.
    return template.render(
        title=_shown(title),
        as_of=date_words(forecast.as_of),
        doubts=[_shown(doubt.text, 600) for doubt in _each_once(forecast, backlog, pace)],
        parts=[part._replace(figure=Markup(part.figure)) for part in parts],  # noqa: S704
        library=Markup(get_plotlyjs()),  # noqa: S704
    )


def _shown(text: str, most: int = _NAME_COLUMNS_MOST) -> str:
    return clip(text, most)


def _each_once(*answers: ForecastAnswer | BacklogAnswer | PaceAnswer) -> list[Doubt]:
    return list({(doubt.code, doubt.text): doubt for answer in answers for doubt in answer.doubts}.values())


def _ready(answer: ForecastAnswer) -> Part:
    from tracker.report.figures import figure_html, ready_figure

    title = "When things are table-ready"
    open_units = [unit for unit in answer.units if unit.models_ready < unit.models]
    if not answer.units:
        return Part("ready", title, ["Nothing is planned yet."])
    if not open_units:
        return Part("ready", title, ["Everything on the desk is table-ready."])
    rows = [Row(_ready_cells(unit)) for unit in answer.units]
    rows += [Row(_ready_cells(army), whole=True) for army in answer.armies]
    return Part(
        "ready",
        title,
        [_RANGES + " A diamond is a goal; the dotted line is today."],
        figure_html(ready_figure(open_units, answer.as_of), "ready"),
        ("Unit", "Ready", "Work left", "From", "Middle", "To", "Goal", "Chance by then"),
        rows,
    )


def _ready_cells(outlook: Outlook) -> list[str]:
    name = outlook.unit or f"All of {outlook.army}"
    count = f"{outlook.models_ready:,} of {outlook.models:,}"
    goal = date_words(outlook.goal_date) if outlook.goal_date else ""
    if outlook.models_ready >= outlook.models:
        return [_shown(name), count, "", "", "", "ready", goal, ""]
    chance = "" if outlook.chance_by_goal is None else chance_words(outlook.chance_by_goal)
    dates = [date_words(at_level(outlook.ready, level)) for level in (10, 50, 90)]
    return [_shown(name), count, left_words(outlook), *dates, goal, chance]


def _backlog(answer: BacklogAnswer) -> Part:
    from tracker.report.figures import backlog_figure, figure_html

    title = "The backlog's course"
    if not answer.days:
        return Part("backlog", title, ["There is no backlog yet."])
    months: dict[str, list[str]] = {}
    moved: dict[str, list[int]] = {}
    for day in answer.days:
        month = month_words(day.date)
        sums = moved.setdefault(month, [0, 0, 0])
        for i, count in enumerate((day.added, day.finished, day.taken_away)):
            sums[i] += count
        months[month] = [
            month,
            f"{day.models:,}",
            minutes_words(day.minutes),
            *(f"{count:,}" for count in sums),
        ]
    return Part(
        "backlog",
        title,
        [end_words(answer), "Triangles up: models came in. Triangles down: they went elsewhere."],
        figure_html(backlog_figure(answer), "backlog"),
        ("Month", "Models to go", "Work left", "Came in", "Finished", "Went elsewhere"),
        [Row(cells) for cells in months.values()],
        folded=True,
    )


def _pace(answer: PaceAnswer) -> Part:
    from tracker.report.figures import figure_html, pace_figure

    if not answer.steps:
        return Part("pace", "Your pace", ["No step is known yet."])
    rows = [
        Row(
            [
                _shown(step.step),
                *(per_model_words(at_level(step.minutes_per_model, level)) for level in (10, 50, 90)),
                f"{step.lines:,}",
                step.source,
            ]
        )
        for step in answer.steps
    ]
    return Part(
        "pace",
        "Your pace",
        ["Minutes per model for each step. " + _RANGES],
        figure_html(pace_figure(answer), "pace"),
        ("Step", "From", "Middle", "To", "Lines", "Learned from"),
        rows,
        word_columns=(5,),
        folded=True,
    )


def _record(answer: TrackRecordAnswer) -> Part:
    from tracker.report.figures import figure_html, record_figure

    title = "Track record of the pace"
    if not answer.blocks:
        return Part("record", title, [doubt.text for doubt in answer.doubts])
    sentences = [
        f"{answer.blocks:,} past estimates, each made with only what was known that evening.",
        "If the ranges are right, every tenth of a range is hit about equally often.",
        "The dotted lines are what luck allows.",
        *(held_words(held, answer.blocks) for held in answer.held),
        totals_words(answer),
        bias_words(answer.times),
        *map(rival_words, answer.rivals),
        trust_words(answer),
    ]
    rows = [Row([f"{10 * i} to {10 * i + 10} %", f"{count:,}"]) for i, count in enumerate(answer.tenths)]
    return Part(
        "record", title, sentences, figure_html(record_figure(answer), "record"),
        ("Place in the range", "Outcomes"), rows, folded=True,
    )  # fmt: skip


def _calendar(sittings: Sequence[Sitting], as_of: date) -> Part:
    from tracker.report.figures import calendar_figure, figure_html

    title = "Evenings at the desk"
    if not sittings:
        return Part("evenings", title, ["No evening is logged yet."])
    months: dict[str, list[float]] = {}
    for sitting in sorted(sittings, key=lambda one: one.date):
        months.setdefault(month_words(sitting.date), []).append(sitting.minutes or 0.0)
    return Part(
        "evenings",
        title,
        ["The last year, a column per week. The deeper the colour, the longer the evening."],
        figure_html(calendar_figure(sittings, as_of), "evenings"),
        ("Month", "Evenings", "Time at the desk"),
        [Row([month, f"{len(all_):,}", minutes_words(sum(all_))]) for month, all_ in months.items()],
        folded=True,
    )
