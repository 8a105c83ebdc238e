"""What cures until when, in words and as JSON; and how the person's own waits came out."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from tracker.domain.answers_curing import Curing, CuringAnswer, OwnWaits
from tracker.report.plain import COLUMNS, Column, clip, count_words, date_words, table, wrapped

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
NOTHING = "Nothing cures right now."
LABEL_FIRST = "Times are usual ones at about 20 degrees; the label, the room and the weather decide."


def curing_text(answer: CuringAnswer, width: int = COLUMNS) -> str:
    """A row for everything that cures, first ready first."""
    if not answer.curing:
        out = wrapped(f'{NOTHING} A timer of its own: lastcoat curing begin "putty on the captain"', width)
    else:
        columns = (
            Column("Curing", gives=True), Column("Since"), Column("Dry from"), Column("Usually"),
            Column("Latest"),
        )  # fmt: skip
        rows = [
            (
                what_words(one),
                since_words(one.begun, answer.now),
                *(moment_words(at, answer.now) for at in (one.low, one.usual, one.high)),
            )
            for one in answer.curing
        ]
        out = [*table(columns, rows, width), "", *wrapped(LABEL_FIRST, width)]
    own = own_sentences(answer.own)
    return "\n".join(
        [*out, *([""] if own else []), *(line for words in own for line in wrapped(words, width))]
    )


def what_words(one: Curing) -> str:
    """As in "varnish, 8 of Riders" or "putty on the captain (Captain)"."""
    if one.cure_id:
        return f"{clip(one.what, 60)} ({clip(one.unit, 40)})" if one.unit else clip(one.what, 60)
    return f"{clip(one.what, 40)}, {one.models:,} of {clip(one.unit, 60)}"


def since_words(begun: datetime, now: datetime) -> str:
    """When it began; a step of this evening counts from ten at night, whenever it was done."""
    return "tonight" if begun > now else moment_words(begun, now)


def moment_words(moment: datetime, now: datetime) -> str:
    """Short enough for a table: "22:00", "Wed 02:00", "3 Apr 02:00"."""
    hour = f"{moment:%H:%M}"
    days = abs((moment.date() - now.date()).days)
    if days == 0:
        return hour
    if days < 6:
        return f"{_DAYS[moment.weekday()]} {hour}"
    return f"{' '.join(date_words(moment.date()).split()[:2])} {hour}"


def curing_sentence(one: Curing, now: datetime) -> str:
    """One thing that cures, in a line: from when it is dry, usually, at the latest."""
    what = what_words(one)
    if now >= one.high:
        return f"{what}: dry by now, since {moment_words(one.high, now)} at the latest"
    if one.low == one.high:
        return f"{what}: dry {moment_words(one.usual, now)}"
    usual = f"usually {moment_words(one.usual, now)}, latest {moment_words(one.high, now)}"
    return f"{what}: {usual}"


def own_sentences(own: Iterable[OwnWaits]) -> list[str]:
    """How the person's own waits came out, each beside the trade's."""
    out = []
    for one in own:
        said = f"Your {clip(one.what, 40)}: {hours_words(one.median_hours)} in the middle of"
        low = hours_words(one.low_hours).removesuffix(" h")
        said += f" {count_words(one.words, 'time')}, from {low} to {hours_words(one.high_hours)}"
        if one.usual is not None:
            usual = one.usual
            said += f"; usual are {hours_words(usual.usual_hours)},"
            said += f" from {usual.low_hours:g} to {hours_words(usual.high_hours)}"
        if one.set_hours is not None:
            said += f"; you set {hours_words(one.set_hours)}"
        out.append(f"{said}.")
    return out


def hours_words(hours: float) -> str:
    """Hours, no finer than they are known: "0.3 h", "4.5 h", "16 h"."""
    return f"{hours:.0f} h" if hours >= 10 else f"{float(f'{hours:.1f}'):g} h"


def curing_json(answer: CuringAnswer) -> dict[str, object]:
    """All that cures and the person's own waits; local times."""
    return {
        "as_of": answer.now.date().isoformat(),
        "doubts": [],
        "now": _iso(answer.now),
        "curing": [curing_row_json(one) for one in answer.curing],
        "own_waits": [
            {
                "what": one.what,
                "times_said": one.words,
                "hours": {"low": one.low_hours, "median": one.median_hours, "high": one.high_hours},
                "usual_hours": one.usual and one.usual._asdict(),
                "set_hours": one.set_hours,
            }
            for one in answer.own
        ],
    }


def curing_row_json(one: Curing) -> dict[str, object]:
    """One thing that cures."""
    return {
        "what": one.what,
        "army": one.army,
        "unit": one.unit,
        "models": one.models,
        "timer": bool(one.cure_id),
        "begun": _iso(one.begun),
        "dry_from": _iso(one.low),
        "usually_dry": _iso(one.usual),
        "at_the_latest": _iso(one.high),
        "own_wait": one.is_own,
    }


def _iso(moment: datetime) -> str:
    return moment.isoformat(timespec="minutes")


def running(curing: Iterable[Curing], now: datetime) -> list[Curing]:
    """Those that are not dry at the latest."""
    return [one for one in curing if one.high > now]
