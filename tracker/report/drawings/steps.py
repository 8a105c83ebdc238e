"""Units by steps: a column per step, a square per unit that fills up as its models get it behind them."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.steps_left import StepMinutes, UnitSteps
from tracker.report.drawings.svg import LETTER, Drawing, Figure, rect, text
from tracker.report.plain import at_level, clip, count_words, span_words

_NAME_LETTERS = 16


def steps_in_order(units: Sequence[UnitSteps]) -> list[str]:
    """Every step once, so that no unit's own order is broken where that can be."""
    order: list[str] = []
    for unit in sorted(units, key=lambda one: -len(one.steps)):
        place = 0
        for step in unit.steps:
            if step.step in order:
                place = max(place, order.index(step.step) + 1)
            else:
                order.insert(place, step.step)
                place += 1
    return order


def steps_figure(units: Sequence[UnitSteps]) -> Figure:
    """Filled from below by the share of models done; the number is how many still need the step."""
    order = steps_in_order(units)

    def draw(width: int) -> Drawing:
        is_narrow = width < 560
        left = 12.0 if is_narrow else 190.0
        pitch = min((width - left - 12) / max(len(order), 1), 56.0)
        head = 10 + LETTER * max((len(clip(step, _NAME_LETTERS)) for step in order), default=0)
        row = 46.0 if is_narrow else 30.0
        marks = [_head(step, left + pitch * (i + 0.5), head) for i, step in enumerate(order)]
        for place, unit in enumerate(units):
            top = head + 6 + row * place
            if is_narrow:
                marks.append(text(left, top + 13, unit.unit, room=width - 24))
            else:
                marks.append(text(left - 12, top + 17, unit.unit, anchor="end", room=left - 16))
            for step in unit.steps:
                x = left + pitch * order.index(step.step)
                marks += _cell(unit, step, x, top + (18 if is_narrow else 2), pitch)
        return Drawing(head + 6 + row * len(units) + 4, marks)

    words = "; ".join(
        f"{unit.unit}: " + ", ".join(f"{step.step} {step.models:,}" for step in unit.steps if step.models)
        for unit in units
    )
    return Figure("steps", "Units and their steps", f"Models that still need a step. {words}.", draw)


def _head(step: str, x: float, bottom: float) -> str:
    words = text(0, 0, clip(step, _NAME_LETTERS), "quiet")
    return f'<g transform="translate({x + 4:.1f} {bottom:.1f}) rotate(-90)">{words}</g>'


def _cell(unit: UnitSteps, step: StepMinutes, x: float, y: float, pitch: float) -> list[str]:
    share, side = 1 - step.models / max(unit.models, 1), 24.0
    width = pitch - 3
    told = f"{unit.unit}, {step.step}: {_left(unit, step)}"
    out = [rect(x + 1.5, y, width, side, "empty")]
    out.append(rect(x + 1.5, y + side * (1 - share), width, side * share, "band", told))
    if step.models:
        out.append(
            text(x + pitch / 2, y + 16, f"{step.models}", "" if pitch > 22 else "small", anchor="middle")
        )
    return out


def _left(unit: UnitSteps, step: StepMinutes) -> str:
    if step.minutes is None:
        return f"all {count_words(unit.models, 'model')} done"
    span = span_words(at_level(step.minutes, 10), at_level(step.minutes, 90))
    return f"{step.models:,} of {count_words(unit.models, 'model')} to go, {span}"
