"""A deal said in one line: "bought Spears 1-10 12.50 EUR from a club table: in a tin"."""

from __future__ import annotations

import re
from typing import NamedTuple

from tracker.domain.problems import Problem
from tracker.domain.sources import WAYS_IN, WAYS_OUT

ASK_DEAL = 'What came or went? "bought Spears 12.50 EUR from a club table", "bought 9 EUR: two brushes"'
MEND = 'Write it like "bought Spears 12.50 EUR from a club table", or "sold Spears 1-5 4 EUR to a friend"'
_MONEY = r"(?:[0-9][0-9.,]*\s*[A-Z]{3}|[A-Z]{3}\s*[0-9][0-9.,]*)(?![A-Za-z0-9])"
_POSTAGE = re.compile(rf"(?:\b(?:and|plus)\s+|\+\s*)?(?:postage\s+({_MONEY})|(?<!\S)({_MONEY})\s+postage)")
_COST = re.compile(rf"(?:\bfor\s+)?(?<!\S)({_MONEY})")
_WHOM = re.compile(r"\s(?:from|to)\s+(\S.*)$")
_GIVEN = re.compile(r"\sfor\s+(\S.*)$")
_NUMBERS = r"(?:[0-9]{1,5}(?:-[0-9]{1,5})?)(?:\s*,\s*[0-9]{1,5}(?:-[0-9]{1,5})?)*"
_SPARES = re.compile(rf"spares?\s+({_NUMBERS})", re.IGNORECASE)
_UNIT = re.compile(rf"(?P<unit>\S.*?)(?:\s+(?P<models>{_NUMBERS}|all))?", re.IGNORECASE)


class SaidDeal(NamedTuple):
    """A deal as it was typed; empty = not said."""

    how: str
    unit: str = ""
    models: str = ""
    spares: str = ""
    whom: str = ""
    cost: str = ""
    postage: str = ""
    exchange: str = ""
    note: str = ""


def read_deal_line(text: str) -> SaidDeal | Problem:
    """How, a unit (with numbers of models) or spares, money, whom; behind a colon a note.

    With no unit and no spares it is for the desk.
    """
    said, _, note = text.strip().partition(":")
    how = next((way for way in _LONGEST_FIRST if f"{said.lower()} ".startswith(f"{way} ")), None)
    if how is None:
        return Problem("the deal", "it has to begin with how it came or went", MEND)
    rest = " " + said[len(how) :]
    rest, postage = _taken(_POSTAGE, rest)
    rest, cost = _taken(_COST, rest)
    rest, whom = _taken(_WHOM, rest)
    rest, given = _taken(_GIVEN, rest)
    about = rest.strip(" ,")
    deal = SaidDeal(how, whom=whom, cost=cost, postage=postage, exchange=given, note=note.strip())
    spares = _SPARES.fullmatch(about)
    unit = _UNIT.fullmatch(about)
    if spares:
        return deal._replace(spares=spares[1])
    return deal._replace(unit=unit["unit"], models=unit["models"] or "") if unit else deal


_LONGEST_FIRST = sorted((*WAYS_IN, *WAYS_OUT), key=len, reverse=True)


def _taken(pattern: re.Pattern[str], text: str) -> tuple[str, str]:
    """(the text without what the pattern finds, what it found)."""
    found = pattern.search(text)
    if found is None:
        return text, ""
    what = next(group for group in found.groups() if group)
    return f"{text[: found.start()]} {text[found.end() :]}", " ".join(what.split()).strip(" ,")
