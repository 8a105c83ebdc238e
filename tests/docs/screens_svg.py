"""A screen as a small SVG (W3C, SVG 2): text that can be selected, no outside font, nothing fetched."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple
from xml.sax.saxutils import escape

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style

CELL, LINE, BASE = 9, 18, 14
"""A cell is 0.6 of the letter size wide, as in most fonts of one width; where the letters stand in a line."""
EDGE = 10
_HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}"'
    ' role="img" font-family="monospace" font-size="15">\n<title>{title}</title>\n'
    '<rect width="{wide}" height="{high}" rx="6" fill="{ground}"/>\n'
)
_WORDS = re.compile(r"\S+(?: \S+)*")


class Run(NamedTuple):
    """Signs of one look, one after the other on a line."""

    text: str
    column: int
    ink: str
    ground: str
    bold: bool
    italic: bool


def svg(lines: Sequence[Sequence[Segment]], title: str) -> str:
    """The lines of a terminal as one picture; the first sign of the second line says what the ground is."""
    rows = [list(_runs(line)) for line in lines]
    columns = max(run.column + cell_len(run.text) for row in rows for run in row)
    ground = rows[1][0].ground
    wide, high = columns * CELL + 2 * EDGE, len(rows) * LINE + 2 * EDGE
    out = [_HEAD.format(wide=wide, high=high, title=escape(title), ground=ground)]
    for place, row in enumerate(rows):
        out += [_ground(run, place) for run in row if run.ground != ground]
        words = "".join(_words(run) for run in row)
        if words:
            out.append(f'<text y="{EDGE + place * LINE + BASE}">{words}</text>\n')
    return "".join([*out, "</svg>\n"])


def _runs(line: Sequence[Segment]) -> Iterator[Run]:
    column = 0
    for text, style, _ in Segment.simplify(line):
        yield _looked_up(text, column, style or Style())
        column += cell_len(text)


def _looked_up(text: str, column: int, style: Style) -> Run:
    ink, ground = (
        "#" + "".join(f"{part:02x}" for part in color.triplet) if color and color.triplet else "none"
        for color in ((style.bgcolor, style.color) if style.reverse else (style.color, style.bgcolor))
    )
    return Run(text, column, ink, ground, bool(style.bold), bool(style.italic))


def _ground(run: Run, place: int) -> str:
    x, y = EDGE + run.column * CELL, EDGE + place * LINE
    return (
        f'<rect x="{x}" y="{y}" width="{cell_len(run.text) * CELL}" height="{LINE}" fill="{run.ground}"/>\n'
    )


def _words(run: Run) -> str:
    """Words with wide gaps between them stand each in their own place, so that columns stay columns."""
    look = f' fill="{run.ink}"' + ' font-weight="bold"' * run.bold + ' font-style="italic"' * run.italic
    out = []
    for found in _WORDS.finditer(run.text):
        x = EDGE + (run.column + cell_len(run.text[: found.start()])) * CELL
        out.append(
            f'<tspan x="{x}" textLength="{cell_len(found[0]) * CELL}"{look}>{escape(found[0])}</tspan>'
        )
    return "".join(out)
