"""The page "How it guesses": five pictures drawn from the demo's log."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from demo_db.army import LAST_DAY
from demo_db.builder import SHIPPED_SEED, build
from demo_db.records import to_records
from tests.docs.places import NOTE
from tracker.domain.answers import PlannedLine, TrackRecordAnswer
from tracker.domain.records import Records
from tracker.pace import learn
from tracker.pace.blocks import blocks_of
from tracker.pace.pace import Pace
from tracker.pace.track_record import track_record
from tracker.pace.why import why
from tracker.report.pace_words import why_text
from tracker.report.plain import minutes_words, pad

STEP = "base colours"
DRAWS = 4000
ROOM = 50


class Bar(NamedTuple):
    """A range on one axis: 10, 25, 50, 75 and 90 % in minutes."""

    label: str
    quantiles: Sequence[float]


def guess_page() -> str:
    """The whole page."""
    records = to_records(build(SHIPPED_SEED))
    pace = learn(records)
    line = PlannedLine("", "a new unit", STEP, 5)
    first, last = _learning(records, line)
    total = _total(pace)
    answer = why(PlannedLine("", "Riders", STEP, 5, kind="cavalry"), pace, LAST_DAY, 1)
    record = track_record(blocks_of(records), LAST_DAY, 1)
    return _PAGE.format(
        note=NOTE,
        seen=_indented(_dots(records)),
        learning=_indented("\n".join(bars([*first, *last]))),
        product=_indented(why_text(answer)),
        total=_indented("\n".join(bars(total))),
        tenths=_indented("\n".join(tenths(record))),
    )


def _dots(records: Records) -> str:
    """Minutes per model of the step's timed lines, one dot a line, on a scale of minutes."""
    each = [
        block.minutes / block.lines[0].models
        for block in blocks_of(records)
        if len(block.lines) == 1 and block.lines[0].step == STEP and block.lines[0].models
    ]
    most = max(each)
    places = [round(m / most * (ROOM - 1)) for m in each]
    height = max(places.count(place) for place in set(places))
    rows = [
        "".join("●" if places.count(place) > level else " " for place in range(ROOM)).rstrip()
        for level in range(height - 1, -1, -1)
    ]
    axis = "─" * ROOM
    return "\n".join([*rows, axis, f"0{minutes_words(most).rjust(ROOM - 1)} per model"])


def _learning(records: Records, line: PlannedLine) -> tuple[list[Bar], list[Bar]]:
    days = [session.date for session in records.sessions]
    known = [0, 5, 15, 40, len(days)]
    out = []
    for count in known:
        some = records.as_of(days[count - 1]) if count else Records()
        drawn = learn(some).draw([line], np.random.default_rng(1), DRAWS)[:, 0]
        label = "nothing logged" if not count else f"{count} evenings"
        out.append(Bar(label, _five(drawn)))
    return out[:1], out[1:]


def _total(pace: Pace) -> list[Bar]:
    steps = ("cleaning", "assembly", STEP, "highlights")
    lines = [PlannedLine("", "a new unit", step, 10) for step in steps]
    drawn = pace.draw(lines, np.random.default_rng(1), DRAWS)
    out = [Bar(step, _five(drawn[:, i])) for i, step in enumerate(steps)]
    return [*out, Bar("all four", _five(drawn.sum(axis=1)))]


def _five(drawn: np.ndarray[tuple[int, ...], np.dtype[np.float32]]) -> list[float]:
    return [float(q) for q in np.quantile(drawn, [0.1, 0.25, 0.5, 0.75, 0.9])]


def bars(ranges: Sequence[Bar]) -> list[str]:
    """Ranges of minutes on one axis from 0: thin 10 to 90 %, thick 25 to 75 %, a dot in the middle."""
    most = max(bar.quantiles[-1] for bar in ranges)
    wide = max(len(bar.label) for bar in ranges) + 2
    out = []
    for bar in ranges:
        low, thick, dot, thick_end, high = (round(q / most * (ROOM - 1)) for q in bar.quantiles)
        signs = [" "] * ROOM
        signs[low : high + 1] = "─" * (high - low + 1)
        signs[thick : thick_end + 1] = "━" * (thick_end - thick + 1)
        signs[dot] = "●"
        out.append(pad(bar.label, wide) + "".join(signs).rstrip())
    return [*out, " " * wide + "0" + minutes_words(most).rjust(ROOM - 1)]


def tenths(record: TrackRecordAnswer) -> list[str]:
    """How many outcomes fell in each tenth of their range."""
    out = [f"{10 * i:3} to {10 * i + 10:3} %  {'█' * count} {count}" for i, count in enumerate(record.tenths)]
    return [*out, "", f"{record.blocks} outcomes; about {record.blocks / 10:.0f} in each would be right."]


def _indented(text: str) -> str:
    return "\n".join(f"    {row}".rstrip() for row in text.strip("\n").split("\n"))


_PAGE = """{note}

# How it guesses, in five pictures

The pictures are drawn from the demo's log. The formulas behind them are in [The pace](model.md).

## 1. It looks at what you logged

One dot is one line of base colours, in minutes per model. Some evenings went well, some did not.

{seen}

## 2. It starts from the trade, and ends with you

Base colours on five models of a new unit. With nothing logged the range is as wide as painters differ; the
more evenings it has seen, the more the range is yours. The thin bar holds 8 times in 10, the thick one
5 times in 10, the dot is the middle.

{learning}

## 3. Every estimate is a product

What a plain model takes you, times what is different about this one. Ask with
`lastcoat pace --why UNIT STEP`.

{product}

## 4. A total is not the sum of the worst

A slow evening here and a quick one there make up for each other, in part: a slow month slows everything. So
the range of a total is narrower than the ranges put end to end, and wider than luck alone would have it.

{total}

## 5. It keeps score

Every past estimate is held against what came of it. If the ranges are right, each tenth of them is hit about
equally often. `lastcoat pace --track-record` shows it for your log; when the ranges held too seldom, they are
made wider.

{tenths}
"""
