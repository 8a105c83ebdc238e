"""A small writer of SVG 1.1 at true scale: one unit of the drawing is one millimetre.

Names pass through `text`, which makes them printable and escapes them.
"""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import NamedTuple

from tracker.report.drawings.svg import LIGHT
from tracker.report.plain import clip

LETTER_WIDE = 0.6
"""How wide a letter is, in its height; generous, since fonts differ."""

# Plain colours, not variables: a cutter's program or a drawing program reads them too.
STYLE = (
    ".ranks text {{ font-family: system-ui, sans-serif; fill: {ink}; }}"
    " .ranks .name {{ paint-order: stroke; stroke: #fff; stroke-width: .6; }}"
    " .ranks .quiet {{ fill: {soft}; }} .ranks .strong {{ font-weight: 600; }}"
    " .ranks .base {{ fill: #fff; stroke: {ink}; stroke-width: .25; }}"
    " .ranks .block {{ fill: #fff; stroke: {ink}; stroke-width: .5; }}"
    " .ranks .hatch {{ stroke: {rule}; stroke-width: .3; }}"
    " .ranks .empty {{ fill: none; stroke: {soft}; stroke-width: .25; stroke-dasharray: .3 1.2; }}"
    " .ranks .front {{ stroke: {blue}; stroke-width: .8; }} .ranks .looks {{ fill: {blue}; }}"
    " .ranks .claim {{ fill: #fff; stroke: {mark}; stroke-width: .35; stroke-dasharray: .9 .6; }}"
    " .ranks .clash {{ fill: {ink}; stroke: {ink}; stroke-width: .35; }} .ranks .on {{ fill: #fff; }}"
    " .ranks .past {{ stroke: {green}; stroke-width: .5; }}"
    " .ranks .cut {{ fill: none; stroke: {ink}; stroke-width: .3; stroke-dasharray: 3 1.5; }}"
    " .ranks .seam {{ stroke: {soft}; stroke-width: .2; stroke-dasharray: 4 1 .5 1; }}"
    " .ranks .tick {{ stroke: {ink}; stroke-width: .2; }}"
    " .ranks .bar {{ fill: none; stroke: {ink}; stroke-width: .2; }} .ranks .ink {{ fill: {ink}; }}"
).format(**LIGHT)


class Box(NamedTuple):
    """A rectangle in mm; y grows from the front to the back."""

    x: float
    y: float
    width: float
    depth: float


def n(number: float) -> str:
    """A length to a thousandth of a millimetre, no needless zeros."""
    said = f"{number:.3f}".rstrip("0").rstrip(".")
    return "0" if said == "-0" else said


def safe(words: str, most: int) -> str:
    """Words that no reader of the file can take for marks."""
    return escape(clip(words, most))


def rect(box: Box, kind: str) -> str:
    """A rectangle."""
    size = f'width="{n(box.width)}" height="{n(box.depth)}"'
    return f'<rect x="{n(box.x)}" y="{n(box.y)}" {size} class="{kind}"/>'


def line(x1: float, y1: float, x2: float, y2: float, kind: str) -> str:
    """A straight line."""
    return f'<line x1="{n(x1)}" y1="{n(y1)}" x2="{n(x2)}" y2="{n(y2)}" class="{kind}"/>'


def polygon(points: Iterable[tuple[float, float]], kind: str) -> str:
    """A closed shape."""
    corners = " ".join(f"{n(x)},{n(y)}" for x, y in points)
    return f'<polygon points="{corners}" class="{kind}"/>'


def text(
    x: float, y: float, words: str, high: float, kind: str = "", *, anchor: str = "middle", room: float = 0
) -> str:
    """Words of a height; cut where there is `room` in mm for less."""
    shown = safe(words, max(int(room / (LETTER_WIDE * high)), 2) if room else 200)
    said = f' class="{kind}"' if kind else ""
    return f'<text x="{n(x)}" y="{n(y)}" font-size="{n(high)}"{said} text-anchor="{anchor}">{shown}</text>'
