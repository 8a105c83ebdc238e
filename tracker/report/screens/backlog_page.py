"""The backlog in words and pictures: its course, what came in and went, the evenings of the past weeks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from tracker.domain.answers import BacklogAnswer
from tracker.report.backlog_words import change_words, flow_lines, left_sentence
from tracker.report.charts import course
from tracker.report.fan import STRIP_HEAD, STRIP_LEGEND, STRIP_LEGEND_PLAIN, calendar_strip
from tracker.report.plain import clip, date_words, pad
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, charted, doubted, head, sentences
from tracker.report.words import NOTHING_PLANNED, end_words, moved_since

Evenings = Sequence[tuple[date, float | None]]
_SPANS = ((30, "30 days"), (91, "3 months"), (364, "a year"), (3650, "all of it"))


def backlog_lines(
    answer: BacklogAnswer | None,
    evenings: Evenings,
    width: int,
    *,
    plain: bool = False,
    week_start: str = "monday",
) -> list[PageLine]:
    """Where the backlog stands and how it got there."""
    if answer is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not answer.days:
        return sentences(NOTHING_PLANNED, width)
    out = sentences(left_sentence(answer), width)
    out += sentences(end_words(answer), width)
    out += sentences(change_words(answer), width, "quiet") if answer.change else []
    out += [BLANK, head("Hours left")]
    points = [(day.date, day.minutes / 60) for day in answer.days]
    out += charted(course(points, answer.as_of, width, plain=plain))
    out += [BLANK, *_moves(answer, width)]
    flows = flow_lines(answer, width)
    out += [BLANK, head("Models a month"), *(PageLine(line) for line in flows)] if flows else []
    if evenings:
        out += [BLANK, head(STRIP_HEAD)]
        out += charted(calendar_strip(evenings, answer.as_of, width, plain=plain, week_start=week_start))
        out.append(PageLine(clip(STRIP_LEGEND_PLAIN if plain else STRIP_LEGEND, width), "quiet"))
    return [*out, BLANK, *doubted(answer.doubts, width)]


def _moves(answer: BacklogAnswer, width: int) -> list[PageLine]:
    """Models that came in, were finished and went, over spans that end today."""
    title = f"{pad('In the last', 12)}  {'came in':>8}  {'finished':>8}  {'went':>8}"
    out = [PageLine(clip(title, width), "quiet")]
    first = answer.days[0].date
    for days, words in _SPANS:
        since = answer.as_of - timedelta(days=days)
        moved = moved_since(answer, since)
        text = f"{pad(words, 12)}  {moved.added:>8,}  {moved.finished:>8,}  {moved.taken_away:>8,}"
        out.append(PageLine(clip(text, width)))
        if since <= first:
            break
    return [*out, PageLine(clip(f"The log begins on {date_words(first)}.", width), "quiet")]
