"""Figures that answer to the pointer, drawn with plotly; imported only where such a page is written.

They lie over the page's own drawings where there is room and script is allowed; a phone, paper and a
reader without script see the drawings. Plotly reads a little mark-up in its texts, so every name goes
through `_inert`. Text and grid lines take their colours from the page's style sheet, which knows
whether the reader prefers dark.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from html import escape
from typing import TYPE_CHECKING, Any

import plotly.graph_objects as go
from plotly.io import to_html

from tracker.domain.answers import BacklogAnswer, Outlook, PaceAnswer, TrackRecordAnswer
from tracker.report.fan import FanPoint, models_left
from tracker.report.little_history import may_name_a_day
from tracker.report.plain import at_level, clip, count_words, date_words, minutes_words, per_model_words

if TYPE_CHECKING:
    from tracker.report.page import PageAnswers

BLUE, SKY, ORANGE, GREEN = "#2f7fb8", "#56b4e9", "#d98c00", "#009e73"
"""Four colours of a set made to stay apart for colour-blind readers (Okabe and Ito, 2008)."""
_CONFIG = {"showSendToCloud": False, "displaylogo": False, "responsive": True, "displayModeBar": False}
_ROW_PX = 34


def live_figures(answers: PageAnswers) -> dict[str, str]:
    """Fragments by the name of the page's part that they belong to; `library` must stand before them."""
    forecast, day = answers.forecast, answers.forecast.as_of
    open_units = [unit for unit in forecast.units if unit.models_ready < unit.models]
    sure = may_name_a_day(forecast)
    points = models_left(forecast.units, day) if sure else []
    figures = {
        "ready": ready_figure(open_units, day, has_middle=sure) if open_units else None,
        "fan": fan_figure(points) if points else None,
        "backlog": backlog_figure(answers.backlog) if answers.backlog.days else None,
        "pace": pace_figure(answers.pace) if answers.pace.steps else None,
        "record": record_figure(answers.record) if answers.record.blocks else None,
    }
    return {name: figure_html(figure, name) for name, figure in figures.items() if figure is not None}


def library() -> str:
    """Plotly's own script, whole, so that the page asks nothing of any network."""
    from plotly.offline import get_plotlyjs

    script: str = get_plotlyjs()
    return script


def figure_html(figure: go.Figure, name: str) -> str:
    """The figure as a fragment of a page that already holds the library."""
    html: str = to_html(
        figure, config=_CONFIG, include_plotlyjs=False, full_html=False, div_id=f"figure-{name}"
    )
    return html


def _inert(name: str, most: int = 22) -> str:
    return escape(clip(name, most), quote=False)


def _layout(height: int, left: int = 0, **more: Any) -> go.Layout:
    return go.Layout(
        height=height,
        margin={"l": left, "r": 12, "t": 12, "b": 36},
        paper_bgcolor="rgba(0,0,0,0)",
        plot_bgcolor="rgba(0,0,0,0)",
        showlegend=False,
        font={"size": 13, "family": "system-ui, sans-serif"},
        dragmode=False,
        hoverlabel={"bgcolor": "#222", "font": {"color": "#fff"}},
        template="none",
        **more,
    )


def _names_axis(names: Sequence[str]) -> dict[str, Any]:
    return {
        "tickmode": "array",
        "tickvals": list(range(len(names))),
        "ticktext": list(names),
        "range": [len(names) - 0.5, -0.5],
        "automargin": True,
        "showgrid": False,
        "zeroline": False,
        "fixedrange": True,
    }


def ready_figure(outlooks: Sequence[Outlook], today: date, *, has_middle: bool = True) -> go.Figure:
    """Ready dates of each unit: thin 10 to 90 %, thick 25 to 75 %, a dot in the middle, goals as diamonds."""
    figure = go.Figure()
    horizon = _last_day(outlooks, today)
    for row, outlook in enumerate(outlooks):
        for low, high, width, colour in ((10, 90, 4, SKY), (25, 75, 12, BLUE)):
            ends = [at_level(outlook.ready, level) or horizon for level in (low, high)]
            figure.add_scatter(
                x=ends, y=[row, row], mode="lines", line={"width": width, "color": colour}, hoverinfo="skip"
            )
        _marks(figure, row, outlook, horizon, has_middle=has_middle)
    names = [_inert(outlook.unit or outlook.army) for outlook in outlooks]
    figure.layout = _layout(
        90 + _ROW_PX * len(outlooks),
        yaxis=_names_axis(names),
        xaxis={"type": "date", "range": [today - timedelta(days=7), horizon + timedelta(days=7)],
               "fixedrange": True, "nticks": 6, "automargin": True},
    )  # fmt: skip
    figure.add_shape(
        type="line", x0=today, x1=today, y0=0, y1=1, yref="paper", line={"dash": "dot", "color": ORANGE}
    )
    return figure


def _last_day(outlooks: Sequence[Outlook], today: date) -> date:
    days = [day for outlook in outlooks for day in (*outlook.ready[:-1], outlook.goal_date) if day]
    return max([today + timedelta(days=28), *days])


def _marks(figure: go.Figure, row: int, outlook: Outlook, horizon: date, *, has_middle: bool) -> None:
    low, middle, high = (at_level(outlook.ready, level) for level in (10, 50, 90))
    if has_middle:
        figure.add_scatter(
            x=[middle or horizon],
            y=[row],
            mode="markers",
            marker={"size": 11, "color": "#fff", "line": {"width": 3, "color": BLUE},
                    "symbol": "circle" if middle else "triangle-right"},
            text=[f"{date_words(low)} to {date_words(high)}<br>middle {date_words(middle)}"],
            hovertemplate="%{text}<extra></extra>",
        )  # fmt: skip
    if outlook.goal_date is not None:
        figure.add_scatter(
            x=[outlook.goal_date],
            y=[row],
            mode="markers",
            marker={"size": 12, "color": ORANGE, "symbol": "diamond-open", "line": {"width": 2}},
            text=[f"goal {date_words(outlook.goal_date)}"],
            hovertemplate="%{text}<extra></extra>",
        )


def fan_figure(points: Sequence[FanPoint]) -> go.Figure:
    """Models left in the coming months: a band from all quick to all slow, the middle as a line."""
    figure = go.Figure()
    days = [point.day for point in points]
    for field, fill in (("slow", None), ("quick", "tonexty")):
        figure.add_scatter(
            x=days,
            y=[getattr(point, field) for point in points],
            mode="lines",
            line={"shape": "hv", "width": 0.5, "color": SKY},
            fill=fill,
            fillcolor="rgba(86,180,233,0.25)",
            hoverinfo="skip",
        )
    figure.add_scatter(
        x=days,
        y=[point.middle for point in points],
        mode="lines",
        line={"shape": "hv", "width": 2, "color": BLUE},
        text=[
            f"{date_words(p.day)}<br>{count_words(round(p.middle), 'model')} left,"
            f" {p.quick:,.0f} to {p.slow:,.0f}"
            for p in points
        ],
        hovertemplate="%{text}<extra></extra>",
    )
    figure.layout = _layout(
        300,
        yaxis={"title": {"text": "models left", "standoff": 12}, "rangemode": "tozero",
               "automargin": True, "fixedrange": True},
        xaxis={"type": "date", "fixedrange": True, "nticks": 6, "automargin": True},
    )  # fmt: skip
    return figure


def backlog_figure(answer: BacklogAnswer) -> go.Figure:
    """Hours left over time, with marks where models came in or went elsewhere."""
    figure = go.Figure()
    days = [*answer.days, answer.days[-1]._replace(date=answer.as_of)]
    figure.add_scatter(
        x=[day.date for day in days],
        y=[round(day.minutes / 60, 1) for day in days],
        mode="lines",
        line={"shape": "hv", "color": BLUE, "width": 2},
        fill="tozeroy",
        fillcolor="rgba(86,180,233,0.25)",
        text=[
            f"{date_words(d.date)}<br>{minutes_words(d.minutes)}, {count_words(d.models, 'model')}"
            for d in days
        ],
        hovertemplate="%{text}<extra></extra>",
    )
    moves = (
        ("added", "triangle-up", ORANGE, "came in"),
        ("taken_away", "triangle-down", GREEN, "went elsewhere"),
    )
    for field, symbol, colour, words in moves:
        moved = [day for day in answer.days if getattr(day, field)]
        figure.add_scatter(
            x=[day.date for day in moved],
            y=[round(day.minutes / 60, 1) for day in moved],
            mode="markers",
            marker={"size": 11, "symbol": symbol, "color": colour},
            text=[
                f"{count_words(getattr(d, field), 'model')} {words}<br>{date_words(d.date)}" for d in moved
            ],
            hovertemplate="%{text}<extra></extra>",
        )
    figure.layout = _layout(
        300,
        yaxis={
            "title": {"text": "hours left", "standoff": 12},
            "rangemode": "tozero",
            "automargin": True,
            "fixedrange": True,
        },
        xaxis={"type": "date", "fixedrange": True, "nticks": 6, "automargin": True},
    )
    return figure


def pace_figure(answer: PaceAnswer) -> go.Figure:
    """Minutes per model of each step on a log axis, drawn like the ready dates."""
    figure = go.Figure()
    for row, step in enumerate(answer.steps):
        minutes = [max(m, 0.01) for m in step.minutes_per_model]
        for low, high, width, colour in ((10, 90, 4, SKY), (25, 75, 10, BLUE)):
            figure.add_scatter(
                x=[at_level(minutes, low), at_level(minutes, high)],
                y=[row, row],
                mode="lines",
                line={"width": width, "color": colour},
                hoverinfo="skip",
            )
        figure.add_scatter(
            x=[at_level(minutes, 50)],
            y=[row],
            mode="markers",
            marker={"size": 9, "color": "#fff", "line": {"width": 2, "color": BLUE}},
            text=[
                f"{per_model_words(at_level(minutes, 50))} min per model, {count_words(step.lines, 'line')}"
            ],
            hovertemplate="%{text}<extra></extra>",
        )
    figure.layout = _layout(
        90 + 26 * len(answer.steps),
        yaxis=_names_axis([_inert(step.step) for step in answer.steps]),
        xaxis={"type": "log", "fixedrange": True, "automargin": True,
               "title": {"text": "minutes per model", "standoff": 8},
               "tickvals": [0.1, 0.3, 1, 3, 10, 30, 100, 300, 1000],
               "ticktext": ["0.1", "0.3", "1", "3", "10", "30", "100", "300", "1,000"]},
    )  # fmt: skip
    return figure


def record_figure(answer: TrackRecordAnswer) -> go.Figure:
    """How many outcomes fell in each tenth of their range, with what luck allows as dotted lines."""
    figure = go.Figure()
    figure.add_bar(
        x=[10 * i + 5 for i in range(10)],
        y=list(answer.tenths),
        width=8,
        marker={"color": BLUE},
        hovertemplate="%{y} outcomes<extra></extra>",
    )
    figure.layout = _layout(
        260,
        yaxis={"title": {"text": "outcomes", "standoff": 12}, "rangemode": "tozero",
               "automargin": True, "fixedrange": True},
        xaxis={"title": {"text": "place in the range, %", "standoff": 8}, "range": [0, 100],
               "fixedrange": True, "automargin": True, "zeroline": False},
    )  # fmt: skip
    for level in answer.tenths_luck:
        figure.add_shape(type="line", x0=0, x1=100, y0=level, y1=level, line={"dash": "dot", "color": ORANGE})
    return figure
