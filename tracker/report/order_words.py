"""The suggested order in words and as JSON: each place with its reason, beside the person's own."""

from __future__ import annotations

from tracker.domain.answers_whatif import OrderAnswer, Placed
from tracker.report.answers import Json
from tracker.report.plain import (
    COLUMNS,
    Column,
    clip,
    date_words,
    doubt_lines,
    minutes_words,
    table,
    wrapped,
)
from tracker.report.whatif_words import beside_lines, whatif_json

TAKE = "Your own order stays until you take this one: lastcoat order --take"
_NAME_MOST = 30


def order_text(answer: OrderAnswer, width: int = COLUMNS) -> str:
    """The order that puts most on the table soonest, why, and what it would change."""
    if not answer.places:
        return "Nothing left to do: everything on the desk is table-ready."
    if answer.is_own:
        out = wrapped(f"Your own order {_praise(answer)}", width)
        out += ["", *_table(answer, width)]
    else:
        out = wrapped(f"The order that puts most {answer.counted} on the table soonest", width)
        out += ["", *_table(answer, width), "", *wrapped(_gain_words(answer), width)]
    out += [line for line in wrapped(_no_points_words(answer), width) if line]
    if answer.beside is not None:
        out += ["", "What it would change", "", *beside_lines(answer.beside, width), *wrapped(TAKE, width)]
    return "\n".join([*out, *doubt_lines(answer.doubts, width)])


def _praise(answer: OrderAnswer) -> str:
    found = "no other order does better" if answer.exact else "no better one was found"
    return f"puts most {answer.counted} on the table soonest: {found}."


def _table(answer: OrderAnswer, width: int) -> list[str]:
    columns = (
        Column("", right=True),
        Column("Unit", gives=True),
        Column("Yours", right=True),
        Column("Left", right=True),
        Column("Why there", gives=True),
    )
    rows = [
        (
            str(at),
            placed.unit,
            str(placed.own_place),
            minutes_words(placed.minutes),
            reason_words(answer, placed),
        )
        for at, placed in enumerate(answer.places, start=1)
    ]
    return table(columns, rows, width)


def reason_words(answer: OrderAnswer, placed: Placed) -> str:
    """Why a unit stands at its place, in one short sentence."""
    rate = _rate_words(answer, placed)
    day = date_words(placed.goal_date)
    words = {
        "goal": f"ready by {day} only if it comes now",
        "bad luck": f"safe for {day} only if it comes now",
        "out of reach": f"too late for {day}; {rate}",
        "gives way": f"other goals come before {day}; {rate}",
        "set-up": f"shares a set-up with {clip(placed.with_unit, _NAME_MOST)}; {rate}",
        "begun": f"{round(100 * placed.begun_share)} % behind it; {rate}",
        "worth": rate,
        "only one": "nothing else is open",
    }
    return words[placed.reason]


def _rate_words(answer: OrderAnswer, placed: Placed) -> str:
    """What comes on the table for an hour at the desk."""
    an_hour = placed.worth / max(placed.minutes, 1.0) * 60
    shown = f"{an_hour:.0f}" if an_hour >= 9.5 else f"{an_hour:.1f}"
    return f"{shown} {answer.counted} an hour"


def _gain_words(answer: OrderAnswer) -> str:
    one = answer.counted.removesuffix("s")
    own, now = minutes_words(answer.own_wait_minutes), minutes_words(answer.wait_minutes)
    if answer.own_wait_minutes <= answer.wait_minutes:
        return (
            f"A {one} waits {now} at the desk on average, in your order {own}: the goals are what it keeps."
        )
    proved = "" if answer.exact else " It is the best that was found; no proof that there is none better."
    return f"On average a {one} is on the table after {now} at the desk, in your order after {own}.{proved}"


def _no_points_words(answer: OrderAnswer) -> str:
    names = [placed.unit for placed in answer.places if not placed.has_points]
    if answer.counted == "models" or not names:
        return ""
    said = ", ".join(clip(name, _NAME_MOST) for name in names)
    does = "has no points and counts" if len(names) == 1 else "have no points and count"
    return f"{said} {does} as the others do by model."


def order_json(answer: OrderAnswer) -> Json:
    """The suggested order with reasons, and both plans side by side."""
    return {
        "as_of": answer.as_of.isoformat(),
        "counted": answer.counted,
        "is_your_own": answer.is_own,
        "proved": answer.exact,
        "minutes_on_average": {
            "your_order": round(answer.own_wait_minutes, 2),
            "this_order": round(answer.wait_minutes, 2),
        },
        "order": [
            {
                "place": at,
                "army": placed.army,
                "unit": placed.unit,
                "your_place": placed.own_place,
                "minutes_left": round(placed.minutes, 2),
                "worth": round(placed.worth, 2),
                "reason": placed.reason,
                "words": reason_words(answer, placed),
            }
            for at, placed in enumerate(answer.places, start=1)
        ],
        "changes": None if answer.beside is None else whatif_json(answer.beside),
        "doubts": [{"code": doubt.code, "text": doubt.text} for doubt in answer.doubts],
    }
