"""How large what a PDF's page shows is, in mm, read off its content stream (ISO 32000-1, 8.3, 8.5)."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from pypdf import PageObject
from pypdf.generic import ContentStream

MM_PER_POINT = 25.4 / 72
"""A point is a 72nd of an inch (ISO 32000-1, 8.3.2.3)."""
Matrix = tuple[float, float, float, float, float, float]


class Drawn(NamedTuple):
    """The box round a painted path as it lies on the paper, in mm from the paper's left and lower edge."""

    left: float
    bottom: float
    width: float
    height: float
    corners: int
    """Points of the path."""


def painted(page: PageObject) -> list[Drawn]:
    """The box round every path that is filled or stroked, its line's thickness not counted."""
    contents = page.get_contents()
    assert contents is not None
    now: Matrix = (1, 0, 0, 1, 0, 0)
    kept: list[Matrix] = []
    path: list[tuple[float, float]] = []
    out = []
    for operands, operator in ContentStream(contents, page.pdf).operations:
        numbers = [float(one) for one in operands] if operator in NUMBERS else []
        if operator == b"q":
            kept.append(now)
        elif operator == b"Q":
            now = kept.pop()
        elif operator == b"cm":
            now = times(numbers, now)
        elif operator == b"re":
            x, y, width, height = numbers
            path += [at(x + i * width, y + j * height, now) for i in (0, 1) for j in (0, 1)]
        elif operator in (b"m", b"l", b"c"):
            path += [at(x, y, now) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]
        elif operator in (b"S", b"s", b"f", b"f*", b"B", b"B*") and path:
            out.append(box(path))
            path = []
        elif operator == b"n":
            path = []
    return out


NUMBERS = (b"cm", b"re", b"m", b"l", b"c")


def times(one: Sequence[float], other: Matrix) -> Matrix:
    """First the one, then the other (ISO 32000-1, 8.3.4)."""
    a, b, c, d, e, f = one
    p, q, r, s, t, u = other
    return a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u


def at(x: float, y: float, under: Matrix) -> tuple[float, float]:
    """Where a point lies on the paper, in mm."""
    a, b, c, d, e, f = under
    return MM_PER_POINT * (a * x + c * y + e), MM_PER_POINT * (b * x + d * y + f)


def box(path: Sequence[tuple[float, float]]) -> Drawn:
    """Round all its points."""
    xs, ys = [x for x, _ in path], [y for _, y in path]
    return Drawn(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys), len(path))
