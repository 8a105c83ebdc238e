"""What a part of the page is made of."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.report.drawings.svg import Figure
from tracker.report.plain import clip

RANGES = "The thin line holds 8 times in 10, the thick one 5 times in 10; the dot is the middle."
RANGES_WITHOUT_MIDDLE = "The thin line holds 8 times in 10, the thick one 5 times in 10."
_NAME_COLUMNS_MOST = 120


class Row(NamedTuple):
    """One row of a table; `whole` rows sum the others up."""

    cells: Sequence[str]
    whole: bool = False


class PagePicture(NamedTuple):
    """A picture within the page itself."""

    data_uri: str
    width_pixels: int
    height_pixels: int
    words: str


class Part(NamedTuple):
    """One part of the page."""

    name: str
    title: str
    sentences: Sequence[str] = ()
    figure: Figure | None = None
    heads: Sequence[str] = ()
    rows: Sequence[Row] = ()
    word_columns: Sequence[int] = ()
    folded: bool = False
    pictures: Sequence[tuple[PagePicture, ...]] = ()
    """Rows of pictures side by side."""


def shown(text: str, most: int = _NAME_COLUMNS_MOST) -> str:
    """A name or a sentence as a page can bear it."""
    return clip(text, most)
