"""Axes: where a day or a number lies on a sheet, and the marks beside it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from tracker.report.drawings.svg import line, text
from tracker.report.plain import month_words

_MONTH_ROOM = 62.0
"""Pixels that "Mar 2027" and a gap take."""


class TimeAxis(NamedTuple):
    """Days from left to right, in pixels."""

    first: date
    last: date
    left: float
    right: float

    def x(self, day: date) -> float:
        """Where a day lies; days beyond the ends lie at the ends."""
        share = (day - self.first).days / max((self.last - self.first).days, 1)
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)

    def marks(self, top: float, bottom: float) -> list[str]:
        """A line at the first of as many months as have room, with their names below."""
        out = []
        for month in self._months():
            x = self.x(month)
            out += [
                line(x, top, x, bottom, "grid"),
                text(x, bottom + 16, month_words(month), "quiet", anchor="middle"),
            ]
        return out

    def _months(self) -> list[date]:
        most = max(int((self.right - self.left) / _MONTH_ROOM), 1)
        firsts = []
        month = (self.first.replace(day=1) + timedelta(days=32)).replace(day=1)
        while month <= self.last:
            firsts.append(month)
            month = (month + timedelta(days=32)).replace(day=1)
        # Every 1st, 2nd, 3rd, 6th month or year, so that January is met where it can be.
        for every in (1, 2, 3, 6, 12, 24, 48):
            kept = [month for month in firsts if (month.month - 1 + 12 * month.year) % every == 0]
            if len(kept) <= most:
                break
        inside = [m for m in kept if self.left + 24 <= self.x(m) <= self.right - 24]
        return inside or kept[:1]


def nice_steps(top: float, most: int = 5) -> list[float]:
    """0 and round numbers up to the first that is not below `top` (1, 2 or 5 times a power of ten)."""
    if top <= 0:
        return [0.0, 1.0]
    rough = top / most
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(power * times for times in (1, 2, 5, 10) if power * times >= rough * 0.999)
    return [step * i for i in range(math.ceil(top / step - 1e-9) + 1)]


def height_marks(steps: Sequence[float], y: Callable[[float], float], left: float, right: float) -> list[str]:
    """Lines across at these heights, with their numbers at the left."""
    out = []
    for step in steps:
        shown = f"{step:,.0f}" if step == round(step) else f"{step:g}"
        out += [
            line(left, y(step), right, y(step), "grid"),
            text(left - 6, y(step) + 4, shown, "quiet", anchor="end"),
        ]
    return out


def stairs(points: Sequence[tuple[float, float]], right: float) -> list[tuple[float, float]]:
    """The corners of what holds until the next point, up to the right end."""
    out: list[tuple[float, float]] = []
    for x, y in points:
        if x > right:
            break
        if out:
            out.append((x, out[-1][1]))
        out.append((x, y))
    return [*out, (right, out[-1][1])]
