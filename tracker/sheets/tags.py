r"""A person's own words in one cell, separated by ";", written as the steps of a roster are."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.domain.bases import parse_base
from tracker.domain.problems import Problem
from tracker.sheets.cells import Cells
from tracker.sheets.roster import join_steps, take_apart
from tracker.sheets.shown import shown
from tracker.sheets.table import unguard

HEIGHT_MOST_MM = 1000
TAGS_MOST = 50
_LETTERS_MOST = 1000


def read_tags(cells: Cells, column: str = "tags") -> tuple[str, ...]:
    """The words of a cell, each once."""
    found: dict[str, str] = {}
    for tag in take_apart(unguard(cells.raw(column))):
        words = " ".join(tag.split())
        if len(words) > _LETTERS_MOST:
            cells.wrong(f"a word of {column} has {len(words)} letters", f"Shorten it to {_LETTERS_MOST}")
        found.setdefault(words.casefold(), words)
    if len(found) > TAGS_MOST:
        cells.wrong(f"{column} has {len(found)} words", f"Write at most {TAGS_MOST}")
    return tuple(found.values())


def write_tags(tags: Sequence[str]) -> str:
    """The words as one cell; `read_tags` takes them apart again."""
    return join_steps(tags)


def read_base(cells: Cells) -> str:
    """A base size in the person's words, or nothing."""
    text = cells.name("base")
    if text and not cells.problems:
        base = parse_base(text)
        if isinstance(base, Problem):
            cells.wrong(f"{shown(text)} is not a base size", base.mend)
    return text
