"""What tonight could be, in words and as JSON."""

from __future__ import annotations

from tracker.domain.tonight import Finishable, TonightAnswer, other_curing
from tracker.report.curing_words import curing_row_json, curing_sentence
from tracker.report.plain import (
    COLUMNS,
    Column,
    chance_words,
    clip,
    count_words,
    date_words,
    minutes_words,
    span_words,
    table,
    wrapped,
)
from tracker.report.tonight import ready_answer_text, ready_line_json
from tracker.report.words import NOTHING_PLANNED

_NOTHING_LEFT = "Nothing left to do: everything on the desk is table-ready."
_CURING_MOST = 6


def tonight_text(answer: TonightAnswer, width: int = COLUMNS) -> str:
    """Where it was left off, what can be finished or taken up, and what lies ahead, line by line."""
    cures = curing_lines(answer, width)
    if not answer.has_units or not answer.models_left:
        said = _NOTHING_LEFT if answer.has_units else NOTHING_PLANNED
        return "\n\n".join([said, *(["\n".join(cures)] if cures else [])])
    parts = [_left_off(answer, width)]
    if answer.minutes is not None:
        parts.append(_finishable(answer, width))
    parts += [ready_answer_text(answer.ready, answer.weather, answer.drying, answer.now, width, cures=cures)]
    parts.append(
        [line for words in (_nearest(answer), _goal(answer)) if words for line in wrapped(words, width)]
    )
    return "\n\n".join("\n".join(part) for part in parts if part)


def curing_lines(answer: TonightAnswer, width: int) -> list[str]:
    """What cures besides what the steps that wait tell; only the first of many."""
    now = answer.now.replace(tzinfo=None)
    found = other_curing(answer)
    out = [
        line
        for one in found[:_CURING_MOST]
        for line in wrapped(f"Curing: {curing_sentence(one, now)}.", width, more="  ")
    ]
    more = len(found) - _CURING_MOST
    return out + ([f"… and {more} more: lastcoat curing"] if more > 0 else [])


def _left_off(answer: TonightAnswer, width: int) -> list[str]:
    last = answer.left_off
    if last is None:
        return []
    day = "tonight" if last.day == answer.now.date() else f"on {date_words(last.day)}"
    models = f"{count_words(last.models, 'model')} of " if last.models else ""
    hand = "" if last.finished else ", still in hand"
    left = f"{last.models_left:,} left for this step" if last.models_left else "this step is done"
    words = f"Left off {day}: {last.step}, {models}{clip(last.unit, 40)}{hand}; {left}."
    return wrapped(words + (f" Note: {last.note}" if last.note else ""), width)


def _finishable(answer: TonightAnswer, width: int) -> list[str]:
    time = minutes_words(answer.minutes or 0.0)
    if not answer.finishable:
        return wrapped(f"Nothing that is ready is likely to be finished in {time}.", width)
    columns = (
        Column("Unit", gives=True), Column("Step", gives=True), Column("Models", right=True),
        Column("Takes", right=True), Column("Chance"), Column("Buys", gives=True),
    )  # fmt: skip
    rows = [
        (
            one.unit,
            one.step,
            f"{one.models:,}",
            span_words(one.low_minutes, one.high_minutes),
            chance_words(one.chance),
            buys_words(one),
        )
        for one in answer.finishable[:12]
    ]
    return [f"You can finish in {time}:", *table(columns, rows, width)]


def buys_words(one: Finishable) -> str:
    """What finishing it buys: models that are table-ready, or a step that is done with."""
    words = [f"{one.makes_ready:,} table-ready"] if one.makes_ready else []
    words += ["ends the step"] if one.models >= one.models_left else []
    words += [f"needs {one.gate}"] if one.gate else []
    words += ["tools out"] if one.tools_out else []
    return ", ".join(words)


def _nearest(answer: TonightAnswer) -> str:
    near = answer.nearest
    if near is None:
        return ""
    done = near.cells - near.cells_left
    return (
        f"Nearest its finish line: {clip(near.unit, 40)}, {done:,} of {count_words(near.cells, 'step')} done,"
        f" {count_words(near.models_left, 'model')} not table-ready."
    )


def _goal(answer: TonightAnswer) -> str:
    goal = answer.goal
    if goal is None:
        return ""
    what = f" ({clip(goal.goal, 40)})" if goal.goal else ""
    words = f"Next goal: {clip(goal.unit, 40)} by {date_words(goal.goal_date)}{what}"
    if goal.chance is None or goal.as_of is None:
        return f"{words}. Its chance: lastcoat forecast."
    old = "" if goal.fresh else f" (as of {date_words(goal.as_of)})"
    return f"{words}: chance {chance_words(goal.chance)}{old}."


def tonight_json(answer: TonightAnswer) -> dict[str, object]:
    """All of it, numbers as they are."""
    return {
        "as_of": answer.now.date().isoformat(),
        "doubts": [],
        "models_left": answer.models_left,
        "left_off": answer.left_off and answer.left_off._asdict() | {"day": answer.left_off.day.isoformat()},
        "ready": [ready_line_json(line) for line in answer.ready],
        "waits_for_dry_weather": [ready_line_json(line) for line in answer.weather],
        "drying": [ready_line_json(line) for line in answer.drying],
        "curing": [curing_row_json(one) for one in answer.curing],
        "nearest_finish_line": answer.nearest and answer.nearest._asdict(),
        "next_goal": answer.goal
        and answer.goal._asdict()
        | {
            "goal_date": answer.goal.goal_date.isoformat(),
            "as_of": answer.goal.as_of.isoformat() if answer.goal.as_of else None,
        },
        "minutes": answer.minutes,
        "finishable": [one._asdict() for one in answer.finishable],
    }
