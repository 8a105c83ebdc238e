"""The short form of recipes in pieces: words, quotations, mixes, marks; and what is wrong with a step's."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple

from tracker.domain.problems import Problem
from tracker.domain.text import tidy

EXAMPLE = '"cloth: dark red, wash, mid red 2:1 water, orange edge?"'
_MIX = r"[0-9]{1,4}(?:\.[0-9]{1,3})?(?::[0-9]{1,4}(?:\.[0-9]{1,3})?)+"
_SWATCH = r"\#[0-9a-fA-F]{6}"
MIX, SWATCH = re.compile(_MIX), re.compile(_SWATCH)
_END = r"(?=\?*(?:[\s,;:]|$))"
_TOKEN = re.compile(
    rf"""(?P<line>[\n;])|(?P<blank>\s)|(?P<comma>,)
    |(?P<quoted>"(?:[^"]|"")*"){_END}
    |(?P<own>\[(?:"(?:[^"]|"")*"|[^\[\]"]*)\])(?=[\s,;?]|$)
    |(?P<mark>\?+)(?=[\s,;]|$)
    |(?P<mix>{_MIX})(?=[\s,;?]|$)
    |(?P<swatch>{_SWATCH})(?=[\s,;?]|$)
    |(?P<thinned>thinned(?:[ ]with)?)(?=[ ])
    |(?P<colon>:)
    |(?P<word>(?:(?!\?+(?:[\s,;]|$))[^\s,;:])+)""",
    re.VERBOSE | re.IGNORECASE,
)


class Token(NamedTuple):
    """A piece of the text: what it is, and what it says."""

    kind: str
    text: str


def tokens_of(text: str) -> Iterator[Token]:
    """The pieces of a text in order."""
    for found in _TOKEN.finditer(text):
        yield Token(found.lastgroup or "word", found.group())


def split(tokens: Iterable[Token], kind: str) -> list[list[Token]]:
    """The tokens between those of a kind; what holds nothing but blanks is left out."""
    parts: list[list[Token]] = [[]]
    for token in tokens:
        if token.kind == kind:
            parts.append([])
        else:
            parts[-1].append(token)
    return [part for part in parts if any(token.kind != "blank" for token in part)]


def words_of(tokens: Iterable[Token]) -> str:
    """Words with one blank between them, quoted ones as they are."""
    out = [unquoted(token) for token in tokens if token.kind != "blank"]
    return tidy(" ".join(out))


def unquoted(token: Token) -> str:
    """What a piece says, without its quotation marks."""
    if token.kind == "quoted":
        return token.text[1:-1].replace('""', '"')
    return token.text


def plain_words(tokens: Sequence[Token]) -> str:
    """Words as they are compared; empty where one of them stands in quotation marks."""
    if any(token.kind != "word" for token in tokens):
        return ""
    return " ".join(token.text for token in tokens).casefold()


def problem(what: str) -> Problem:
    """A mistake that is mended by an example."""
    return Problem("the text", what, f"Write it like {EXAMPLE}")


def mistake(tokens: Sequence[Token], said: str) -> Problem | None:
    """What cannot be in the pieces of one step; None where all is well."""
    for is_wrong, what, mend in _MISTAKES:
        if is_wrong(tokens):
            return Problem("the text", what.format(said=said), mend)
    return None


def _twice(kind: str) -> Callable[[Sequence[Token]], bool]:
    return lambda tokens: sum(token.kind == kind for token in tokens) > 1


def _has_colon(tokens: Sequence[Token]) -> bool:
    return any(token.kind == "colon" for token in tokens)


def _begins(signs: str) -> Callable[[Sequence[Token]], bool]:
    return lambda tokens: any(token.kind == "word" and token.text[0] in signs for token in tokens)


def _mixes_nothing(tokens: Sequence[Token]) -> bool:
    mixes = [token.text for token in tokens if token.kind == "mix"]
    return any(not any(float(part) for part in mix.split(":")) for mix in mixes)


def _too_many_marks(tokens: Sequence[Token]) -> bool:
    marks = [token.text for token in tokens if token.kind == "mark"]
    return len(marks) > 1 or any(len(mark) > 2 for mark in marks)


_MISTAKES: tuple[tuple[Callable[[Sequence[Token]], bool], str, str], ...] = (
    (_has_colon, "{said} has a colon", 'Put ";" before the name of another area'),
    (_twice("mix"), "{said} has two mixes", "Put a comma between two steps"),
    (_twice("swatch"), "{said} has two colours", "Put a comma between two steps"),
    (_twice("own"), "{said} has two techniques", "Put a comma between two steps"),
    (_begins('"'), "the quotation marks of {said} do not add up", "Close each of them"),
    (_begins("[]"), "the brackets of {said} do not add up", "Close each of them"),
    (_begins("#"), "{said} has a colour that cannot be read", 'Write it like "#7a1f1f"'),
    (_mixes_nothing, "{said} mixes nothing", 'Write the parts like "2:1"'),
    (_too_many_marks, "{said} has too many question marks", '"?" = probable, "??" = a guess'),
)
