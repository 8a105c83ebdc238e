"""A line of a screen: its text, how it looks, and what it stands for."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from tracker.domain.answers import Doubt
from tracker.report.plain import wrapped

Look = Literal["text", "head", "row", "quiet", "good", "late", "chart", "care"]


class PageLine(NamedTuple):
    """One line of a screen, at most as wide as the screen was said to be."""

    text: str
    look: Look = "text"
    key: str = ""
    """What the line stands for when it can be chosen; empty = it cannot."""


BLANK = PageLine("")


def head(text: str) -> PageLine:
    """The heading of a part."""
    return PageLine(text, "head")


def sentences(text: str, width: int, look: Look = "text") -> list[PageLine]:
    """A sentence over as many lines as it needs."""
    return [PageLine(line, look) for line in wrapped(text, width)]


def charted(lines: Iterable[str]) -> list[PageLine]:
    """Lines of a chart."""
    return [PageLine(line, "chart") for line in lines]


def doubted(doubts: Iterable[Doubt], width: int) -> list[PageLine]:
    """Each doubt as a sentence of its own, set off so that it is seen."""
    return [
        PageLine(line, "quiet") for doubt in doubts for line in wrapped(doubt.text, width, "Mind: ", "      ")
    ]
