"""Plain words for recurring evenings as a recurrence rule (RFC 5545, 3.3.10), and back into words."""

from __future__ import annotations

import re

from tracker.domain.problems import Problem

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_CODES = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
_FILLERS = frozenset({"every", "each", "on", "and", "the", "evening", "evenings", "night", "nights"})
_MEND = 'Write it like "every Tuesday and Thursday", "weekends", or "FREQ=WEEKLY;BYDAY=TU,TH"'
_GROUPS = {
    "day": tuple(range(7)), "days": tuple(range(7)), "daily": tuple(range(7)),
    "weekend": (5, 6), "weekends": (5, 6),
    "weekday": tuple(range(5)), "weekdays": tuple(range(5)),
}  # fmt: skip
_ORDINALS = {"first": "1", "second": "2", "third": "3", "fourth": "4", "last": "-1"}
_LETTERS_MOST = 300


def read_rule(said: str) -> str | Problem:
    """The rule that words mean; a rule in the standard's own form is passed on in capitals.

    Known are weekdays ("every Tuesday and Thursday"), "every day", "weekends", "weekdays", every other
    week ("every other Friday") and days of a month ("first Saturday of the month").
    """
    if len(said) > _LETTERS_MOST:
        return Problem("the evenings", f"they have {len(said)} letters", _MEND)
    if "=" in said:
        return said.strip().upper().removeprefix("RRULE:")
    words = re.findall(r"[a-z]+", said.casefold())
    interval = 2 if "other" in words or ("second" in words[:2] and "month" not in words) else 1
    ordinal = next((_ORDINALS[word] for word in words if word in _ORDINALS), "") if "month" in words else ""
    rest = [word for word in words if word not in _FILLERS | {"other", "of", "month", "week", "a"}]
    rest = [word for word in rest if word not in _ORDINALS]
    found: set[int] = set()
    for word in rest:
        days = _GROUPS.get(word) or _weekday(word)
        if not days:
            return Problem("the evenings", f'"{word}" is not understood', _MEND)
        found.update(days)
    if not found or ("month" in words and not ordinal):
        return Problem("the evenings", "no weekday is said", _MEND)
    by_day = ",".join(ordinal + _CODES[day] for day in sorted(found))
    if ordinal:
        return f"FREQ=MONTHLY;BYDAY={by_day}"
    return f"FREQ=WEEKLY;INTERVAL=2;BYDAY={by_day}" if interval == 2 else f"FREQ=WEEKLY;BYDAY={by_day}"


def _weekday(word: str) -> tuple[int, ...]:
    """The one weekday that a word begins, in the plural or short ("tuesdays", "tue"); () for none."""
    name = word.removesuffix("s") if word.endswith("days") else word
    found = [place for place, day in enumerate(_DAYS) if day.startswith(name)]
    return tuple(found) if len(name) >= 3 and len(found) == 1 else ()


def rule_words(rule: str) -> str:
    """A rule as people say it, where it is a plain one; else the rule itself."""
    parts = dict(part.partition("=")[::2] for part in rule.split(";"))
    codes = parts.pop("BYDAY", "").split(",")
    frequency, interval = parts.pop("FREQ", ""), parts.pop("INTERVAL", "1")
    if parts or (frequency, interval) not in {("WEEKLY", "1"), ("WEEKLY", "2"), ("MONTHLY", "1")}:
        return rule
    ordinals = {code[:-2] for code in codes}
    places = [_CODES.index(code[-2:]) for code in codes if code[-2:] in _CODES]
    names = {number: word for word, number in _ORDINALS.items()}
    if len(places) != len(codes) or len(ordinals) != 1 or (frequency == "MONTHLY") == (ordinals == {""}):
        return rule
    days = _and([_DAYS[place].capitalize() for place in places])
    if frequency == "MONTHLY":
        (number,) = ordinals
        return f"{names[number]} {days} of the month" if number in names else rule
    if ordinals != {""}:
        return rule
    if len(set(places)) == 7:
        days = "day"
    return f"every other {days}" if interval == "2" else f"every {days}"


def _and(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
