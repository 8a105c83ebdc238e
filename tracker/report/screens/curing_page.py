"""What cures as a page: a row for each, and how a timer is said in one line."""

from __future__ import annotations

import re
from typing import NamedTuple

from tracker.domain.answers_curing import CuringAnswer
from tracker.report.curing_words import LABEL_FIRST, NOTHING, curing_sentence, own_sentences, since_words
from tracker.report.plain import clip, wrapped
from tracker.report.screens.chrome import NOT_YET_READ
from tracker.report.screens.line import BLANK, PageLine, sentences

ASK_CURE = 'What cures? "putty on the captain", or with its hours: "water effect, 36" or "clay, 12-24-48"'
ASK_DRY = 'Since when is it dry? Nothing = now; or "20:15", "30 min ago"'
ASK_WAIT = 'Your usual wait after {step} in hours? "usual" is the one of the trade'
_KEYS = "n begins a timer."
_SAID = re.compile(r"(?P<what>.*?)(?:\s*,\s*(?P<hours>[0-9.][0-9.\-]*)\s*h?)?", re.DOTALL)


class SaidCure(NamedTuple):
    """A timer as it was typed."""

    what: str
    hours: str = ""
    """As typed: "16" or "4-16-24"; empty = not said."""


def read_cure(text: str) -> SaidCure:
    """The words, and behind a comma the hours."""
    said = _SAID.fullmatch(text.strip())
    return SaidCure(said["what"], said["hours"] or "") if said else SaidCure(text.strip())


def curing_lines(answer: CuringAnswer | None, width: int) -> list[PageLine]:
    """A row for everything that cures; below, how the person's own waits came out."""
    if answer is None:
        return [PageLine(NOT_YET_READ, "quiet")]
    if not answer.curing:
        out = sentences(f"{NOTHING} {_KEYS}", width, "quiet")
    else:
        out = []
        for place, one in enumerate(answer.curing):
            words = curing_sentence(one, answer.now)
            words += f" (since {since_words(one.begun, answer.now)})"
            first, *rest = wrapped(words, width, more="  ")
            out.append(PageLine(clip(first, width), "row", str(place)))
            out += [PageLine(line, "quiet") for line in rest]
        out += [BLANK, *sentences(LABEL_FIRST, width, "quiet")]
    own = own_sentences(answer.own)
    return [*out, *([BLANK] if own else []), *(line for said in own for line in sentences(said, width))]
