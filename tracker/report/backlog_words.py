"""What the backlog says beside its course, in words: what is left, models a month, what would let it end."""

from __future__ import annotations

from tracker.domain.answers import BacklogAnswer
from tracker.domain.answers_backlog import FLOWS, Change, Flow
from tracker.report.plain import Column, at_level, count_words, minutes_words, span_words, table, wrapped

_SPANS = {91: "3 months", 364: "a year"}
_RATE_NOTE = (
    "A month: the rate these numbers speak for, 8 times in 10. "
    "What was there on the first day did not come in."
)
_KINDLY = "These are only sums, and nothing has to be done: what waits on the shelf spoils nothing."


def left_sentence(answer: BacklogAnswer) -> str:
    """Models, hours as a range, and points where they are known."""
    now = answer.days[-1]
    models = count_words(now.models, "model")
    if not answer.minutes_left:
        return f"{models} to go, about {minutes_words(now.minutes)}."
    low, high = (at_level(answer.minutes_left, level) for level in (10, 90))
    said = f"{models} to go: {span_words(low, high)} of work, 8 times in 10"
    return said + (f"; {answer.points_left:,g} points." if answer.points_left else ".")


def flow_lines(answer: BacklogAnswer, width: int) -> list[str]:
    """A table of what came in and went, counted and as a rate; nothing where nothing is known."""
    spans = sorted({flow.days for flow in answer.flows})
    if not spans:
        return []
    columns = [Column("Models", gives=True)]
    for days in spans:
        columns += [Column(f"In {_SPANS.get(days, count_words(days, 'day'))}", right=True)]
        columns += [Column("A month", right=True)]
    by_key = {(flow.what, flow.days): flow for flow in answer.flows}
    rows = []
    for what in FLOWS:
        mine = [by_key[what, days] for days in spans if (what, days) in by_key]
        if mine:
            rows.append([what, *(cell for flow in mine for cell in (f"{flow.models:,}", rate_words(flow)))])
    return [*table(columns, rows, width), *wrapped(_RATE_NOTE, width)]


def rate_words(flow: Flow) -> str:
    """The range of a rate: "2-19", "0.8-5.6", "under 0.1"."""
    low, _, high = flow.a_month
    if high < 0.095:
        return "under 0.1"
    first, last = (f"{rate:.0f}" if rate >= 9.5 or rate < 0.05 else f"{rate:.1f}" for rate in (low, high))
    return first if first == last else f"{first}-{last}"


def change_words(answer: BacklogAnswer) -> str:
    """What would let the backlog end within two years; empty where it does already, or nothing would."""
    if not answer.change:
        return ""
    ways = ", or ".join(_way(change) for change in answer.change)
    return f"As likely as not it would be empty within two years with {ways}. {_KINDLY}"


def _way(change: Change) -> str:
    if change.what == "more evenings":
        return f"{count_words(change.amount, 'evening')} a week more, where you have them to spare"
    if change.nothing_new:
        return "nothing new coming in"
    return f"about {count_words(change.amount, 'model')} a month fewer coming in"
