"""A small writer of SVG 1.1: a figure is drawn at a width, for the page or as a file of its own.

Marks are plain strings; names pass through `text` and `told`, which make them printable and escape
them. Colours are classes of one style sheet, so that a figure follows the reader's light or dark.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from html import escape
from typing import NamedTuple

from tracker.report.plain import clip

WIDE, NARROW = 720, 328
"""Widths in CSS pixels: of a desk's screen or a sheet of paper, and of a phone."""
LETTER = 6.6
"""About how wide a letter of 12 pixels is."""

LIGHT = {"paper": "#ffffff", "ink": "#23262b", "soft": "#5d636d", "rule": "#d9d6ce",
         "blue": "#0072b2", "band": "#cfe6f5", "mark": "#d55e00", "green": "#00805c"}  # fmt: skip
DARK = {"paper": "#1e2227", "ink": "#e6e4df", "soft": "#a3a8b0", "rule": "#363b43",
        "blue": "#56b4e9", "band": "#2c4657", "mark": "#e69f00", "green": "#00b586"}  # fmt: skip
"""Blue, sky blue, orange, vermilion and bluish green of the set that Okabe and Ito (Color Universal
Design, 2008) made to stay apart for colour-blind readers; the green is darkened on white and lightened
on dark until it stands out 3 to 1. No colour says anything that a shape or a word does not."""

STYLE = """.figure text { font: 12px system-ui, sans-serif; fill: var(--ink); }
.figure .name { paint-order: stroke; stroke: var(--paper); stroke-width: 3px; }
.figure .small { font-size: 9.5px; }
.figure .quiet { fill: var(--soft); } .figure .strong { font-weight: 600; }
.figure .grid { stroke: var(--rule); } .figure .now { stroke: var(--soft); stroke-dasharray: 2 3; }
.figure .luck { stroke: var(--mark); stroke-dasharray: 4 4; stroke-width: 1.5; }
.figure .thin { stroke: var(--blue); stroke-width: 3; }
.figure .thick { stroke: var(--blue); stroke-width: 11; }
.figure .course { stroke: var(--blue); stroke-width: 2; fill: none; } .figure .band { fill: var(--band); }
.figure .full { fill: var(--blue); } .figure .empty { fill: none; stroke: var(--rule); }
.figure .middle { fill: var(--paper); stroke: var(--blue); stroke-width: 3; }
.figure .goal { fill: none; stroke: var(--mark); stroke-width: 2.5; } .figure .in { fill: var(--mark); }
.figure .out { fill: var(--green); } .figure .paper { fill: var(--paper); }"""


class Drawing(NamedTuple):
    """Marks on a sheet of a size in pixels."""

    height: float
    marks: Sequence[str]


class Figure(NamedTuple):
    """A figure that can be drawn at any width, and what it says in words."""

    name: str
    """Short, of letters: the file is called after it."""
    title: str
    words: str
    draw: Callable[[int], Drawing]


def variables(colours: dict[str, str]) -> str:
    """The colours as custom properties of a style sheet."""
    return " ".join(f"--{name}: {colour};" for name, colour in colours.items())


def svg_fragment(figure: Figure, width: int, kind: str) -> str:
    """The figure as part of a page that holds `STYLE`; `kind` is a class of the page."""
    drawing = figure.draw(width)
    label = _safe(f"{figure.title}. {figure.words}", 2000)
    return (
        f'<svg class="figure {kind}" viewBox="0 0 {width} {_n(drawing.height)}" width="{width}"'
        f' height="{_n(drawing.height)}" role="img" aria-label="{label}">{"".join(drawing.marks)}</svg>'
    )


def svg_file(figure: Figure, width: int = WIDE) -> str:
    """The figure as a file of its own: a heading, its words, its style, nothing from elsewhere."""
    drawing, head = figure.draw(width), 34
    dark = f"@media (prefers-color-scheme: dark) {{ svg {{ {variables(DARK)} }} }}"
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" class="figure" viewBox="0 0 {width}'
        f' {_n(drawing.height + head)}" width="{width}" height="{_n(drawing.height + head)}" role="img"'
        f' aria-labelledby="title desc" xml:lang="en">\n'
        f'<title id="title">{_safe(figure.title, 200)}</title>\n'
        f'<desc id="desc">{_safe(figure.words, 2000)}</desc>\n'
        f"<style>svg {{ {variables(LIGHT)} }}\n{dark}\n{STYLE}</style>\n"
        + rect(0, 0, width, drawing.height + head, "paper")
        + text(10, 22, figure.title, "strong")
        + f'\n<g transform="translate(0 {head})">{"".join(drawing.marks)}</g>\n</svg>\n'
    )


def _n(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")


def _safe(words: str, most: int) -> str:
    return escape(clip(words, most))


def _told(tag: str, told: str) -> str:
    """An element, with what is said where a pointer rests on it."""
    return f"<{tag}><title>{_safe(told, 300)}</title></{tag.partition(' ')[0]}>" if told else f"<{tag}/>"


def line(  # noqa: PLR0917 - the order of SVG
    x1: float, y1: float, x2: float, y2: float, kind: str, told: str = ""
) -> str:
    """A straight line."""
    return _told(f'line x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}" class="{kind}"', told)


def rect(  # noqa: PLR0917 - the order of SVG
    x: float, y: float, width: float, height: float, kind: str, told: str = ""
) -> str:
    """A rectangle."""
    size = f'width="{_n(max(width, 0))}" height="{_n(max(height, 0))}"'
    return _told(f'rect x="{_n(x)}" y="{_n(y)}" {size} class="{kind}"', told)


def dot(x: float, y: float, radius: float, kind: str, told: str = "") -> str:
    """A circle."""
    return _told(f'circle cx="{_n(x)}" cy="{_n(y)}" r="{_n(radius)}" class="{kind}"', told)


def shape(points: Iterable[tuple[float, float]], kind: str, told: str = "", *, closed: bool = True) -> str:
    """A polygon, or a line with corners."""
    corners = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
    return _told(f'{"polygon" if closed else "polyline"} points="{corners}" class="{kind}"', told)


def diamond(x: float, y: float, size: float, kind: str, told: str = "") -> str:
    """A square that stands on a corner."""
    return shape(((x, y - size), (x + size, y), (x, y + size), (x - size, y)), kind, told)


def text(x: float, y: float, words: str, kind: str = "", *, anchor: str = "start", room: float = 0) -> str:
    """Words that begin, are centred or end at x; cut where there is `room` in pixels for less."""
    shown = _safe(words, max(int(room / LETTER), 2) if room else 200)
    said = f' class="{kind}"' if kind else ""
    return f'<text x="{_n(x)}" y="{_n(y)}"{said} text-anchor="{anchor}">{shown}</text>'
