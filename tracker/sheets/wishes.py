"""A sentence of wishes, parted by semicolons: "one more evening a week; without Riders".

Each part is one wish; a unit is named as in an evening's sentence, and everything must be understood.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from datetime import date

from tracker.domain.problems import Problem, did_you_mean
from tracker.domain.records import KINDS, MATERIALS, STANDARDS
from tracker.domain.text import tidy
from tracker.domain.wishes import (
    AtStandard,
    Away,
    FewerModels,
    Filler,
    First,
    InOrder,
    MoreEvenings,
    NewUnit,
    OnlyModels,
    Wish,
    Without,
)
from tracker.sheets.meaning import two_units
from tracker.sheets.names import FILLERS, unit_cost, unit_words, words_of
from tracker.sheets.shown import shown

WHERE = "what if"
EXAMPLE = 'Say it like "one more evening a week" or "without Riders"; several with a ; between'
LETTERS_MOST = 2000
MODELS_MOST = 10_000
EVENINGS_MOST = 7.0
_COUNTS = {
    "a": 1.0, "an": 1.0, "one": 1.0, "another": 1.0, "half an": 0.5, "two": 2.0, "three": 3.0,
}  # fmt: skip
_N = r"(?P<n>\d{1,6})"
_NAME = r"(?P<name>\S.*)"
_DAY = r"\d{4}-\d\d?-\d\d?"
_COUNT = r"(?P<count>half\s+an|an?|one|another|two|three|\d(?:\.\d+)?)"
_MORE = r"more|extra|fewer|less"
_WEEKLY = r"(?:a|per|each|every)\s+week"
_STANDARD = rf"(?P<standard>{'|'.join(STANDARDS)})"

Units = Sequence[tuple[str, str]]
Form = Callable[[re.Match[str], Units, date], Wish | Problem]


def read_wishes(text: str, units: Units, today: date) -> tuple[Wish, ...] | Problem:
    """The wishes of a sentence, or why it cannot be told. `units` are (unit, army) pairs."""
    if len(text) > LETTERS_MOST:
        return _refuse(f"it has {len(text)} letters", f"Keep it under {LETTERS_MOST}")
    parts = [tidy(part) for part in text.split(";") if tidy(part)]
    if not parts:
        return _refuse("nothing is wished", EXAMPLE)
    wishes: list[Wish] = []
    for part in parts:
        wish = _read(part, units, today)
        if isinstance(wish, Problem):
            return wish
        wishes.append(wish)
    return tuple(wishes)


def _read(part: str, units: Units, today: date) -> Wish | Problem:
    for pattern, make in _FORMS:
        found = pattern.fullmatch(part)
        if found:
            return make(found, units, today)
    return _refuse(f"{shown(part)} is not understood", EXAMPLE)


def _evenings(said: re.Match[str], _units: Units, _today: date) -> Wish | Problem:
    word = " ".join(said["count"].lower().split())
    count = _COUNTS.get(word)
    count = float(word) if count is None else count
    if not 0 < count <= EVENINGS_MOST:
        return _refuse(f"{count:g} evenings a week more cannot be", "Say 1 to 7")
    how = (said["how"] or said["behind"] or "more").lower()
    return MoreEvenings(-count if how in ("fewer", "less") else count)


def _away(said: re.Match[str], _units: Units, today: date) -> Wish | Problem:
    days = []
    for text in (said["first"], said["last"] or said["first"]):
        try:
            days.append(date(*map(int, text.split("-"))))
        except ValueError:
            return _refuse(f"the date {text} does not exist", "Write it as 2026-03-04 (year, month, day)")
    first, last = days
    return away(first, last, today)


def away(first: date, last: date, today: date) -> Away | Problem:
    """Days away, unless they end before they begin or lie behind."""
    if last < first:
        return _refuse(f"{last.isoformat()} is before {first.isoformat()}", "Say the first day first")
    if last < today:
        return _refuse(f"{last.isoformat()} lies behind", "Say days to come")
    return Away(first, last)


def _about(make: Callable[[str, str, re.Match[str]], Wish]) -> Form:
    """A form that names one unit."""

    def read(said: re.Match[str], units: Units, _today: date) -> Wish | Problem:
        unit = _unit(said["name"], units)
        return unit if isinstance(unit, Problem) else make(*unit, said)

    return read


def _order(said: re.Match[str], units: Units, _today: date) -> Wish | Problem:
    found: list[tuple[str, str]] = []
    for name in filter(None, map(tidy, said["name"].split(","))):
        unit = _unit(name, units)
        if isinstance(unit, Problem):
            return unit
        found.append(unit)
    return InOrder(tuple(found))


def _new(said: re.Match[str], _units: Units, _today: date) -> Wish | Problem:
    name, *rest = (tidy(part) for part in said["name"].split(","))
    models = int(said["n"])
    if not 0 < models <= MODELS_MOST:
        return _refuse(f"{models} models cannot be", f"Say 1 to {MODELS_MOST}")
    wish = NewUnit(name, models)
    for word in filter(None, rest):
        folded = word.casefold()
        if folded in KINDS:
            wish = wish._replace(kind=folded)
        elif folded in MATERIALS:
            wish = wish._replace(material=folded)
        elif folded in STANDARDS:
            wish = wish._replace(standard=folded)
        else:
            known = (*KINDS, *MATERIALS, *STANDARDS)
            mend = did_you_mean(word, known, f"Say one of: {', '.join(known)}")
            return _refuse(f"{shown(word)} is no kind, material or standard", mend)
    return wish


def _unit(name: str, units: Units) -> tuple[str, str] | Problem:
    """The one unit that the words mean; typing errors are allowed when nothing else fits."""
    said = tuple(word for word in words_of(name) if word not in FILLERS) or tuple(words_of(name))
    known = [unit_words(*pair) for pair in units]
    for typing_errors in (False, True):
        costs = [(unit_cost(said, unit, typing_errors=typing_errors), unit) for unit in known]
        found = [(cost, unit) for cost, unit in costs if cost is not None]
        if found:
            least = min(cost for cost, _ in found)
            nearest = [unit for cost, unit in found if cost == least]
            if len(nearest) > 1:
                return two_units(nearest)._replace(where=WHERE)
            return nearest[0].unit, nearest[0].army
    mend = did_you_mean(name, [unit for unit, _ in units], "See lastcoat army for their names")
    return _refuse(f"there is no unit {shown(name)}", mend)


def _refuse(what: str, mend: str) -> Problem:
    return Problem(WHERE, what, mend)


def _form(pattern: str, make: Form) -> tuple[re.Pattern[str], Form]:
    return re.compile(pattern, re.IGNORECASE | re.DOTALL), make


_FIRST = _about(lambda unit, army, _: First(unit, army))
_WITHOUT = _about(lambda unit, army, _: Without(unit, army))
_FILLER = _about(lambda unit, army, said: Filler(unit, int(said["n"]), army))
_FEWER = _about(lambda unit, army, said: FewerModels(unit, int(said["n"]), army))
_ONLY = _about(lambda unit, army, said: OnlyModels(unit, int(said["n"]), army))
_AT_STANDARD = _about(lambda unit, army, said: AtStandard(unit, said["standard"].lower(), army))
_FORMS = (
    _form(rf"(?:with\s+)?{_COUNT}\s+(?:(?P<how>{_MORE})\s+)?evenings?(?:\s+{_WEEKLY})?(?:\s+(?P<behind>{_MORE}))?"
          rf"(?:\s+{_WEEKLY})?", _evenings),
    _form(rf"(?:away|holidays?|gone)\s+(?:from\s+)?(?P<first>{_DAY})"
          rf"(?:\s*(?:to|until|till|-|,)?\s*(?P<last>{_DAY}))?", _away),
    _form(rf"(?:without|no|leave\s+out)\s+{_NAME}", _WITHOUT),
    _form(rf"(?:in\s+)?(?:the\s+)?order\s*:?\s+{_NAME}", _order),
    _form(rf"(?:with\s+)?(?:a\s+)?filler\s+(?:for|instead\s+of|in\s+place\s+of)\s+{_N}\s+{_NAME}", _FILLER),
    _form(rf"{_NAME}\s+(?:with\s+)?(?:a\s+)?filler\s+(?:for\s+|instead\s+of\s+)?{_N}", _FILLER),
    _form(rf"{_N}\s+(?:fewer|less)\s+{_NAME}", _FEWER),
    _form(rf"{_N}\s+{_NAME}\s+(?:fewer|less)", _FEWER),
    _form(rf"only\s+{_N}\s+{_NAME}", _ONLY),
    _form(rf"{_NAME}\s+(?:only\s+)?{_N}\s+models?", _ONLY),
    _form(rf"{_N}\s+new\s+{_NAME}", _new),
    _form(rf"(?:new|plus)\s*:?\s*{_N}\s+{_NAME}", _new),
    _form(rf"{_NAME}\s+(?:at\s+|to\s+)?(?:a\s+)?{_STANDARD}(?:\s+standard)?", _AT_STANDARD),
    _form(rf"(?:first\s+)?{_NAME}\s+first", _FIRST),
    _form(rf"first\s+{_NAME}", _FIRST),
)  # fmt: skip
