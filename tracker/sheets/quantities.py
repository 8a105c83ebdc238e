"""What a sentence says in numbers: minutes, a guess, the day, how many models, finished or not.

Each reader takes its words out of the text, so that names are looked for in what is left.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

from tracker.domain.problems import Problem
from tracker.domain.records import MINUTES_A_DAY
from tracker.sheets.shown import shown

MODELS_MOST = 10_000
GUESS_MINUTES_MOST = 1_000_000
WHERE = "the sentence"
_NUMBERS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "eleven": 11, "twelve": 12, "fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40,
    "forty-five": 45, "fifty": 50, "sixty": 60, "ninety": 90,
}  # fmt: skip
_WORDS = re.compile(r"[a-z]+(?:-five)?", re.IGNORECASE)
_FIRST = r"(?<![\w/:.-])(?<!\d,)"
_N = r"(?:\d+\s+[1-9]/[1-9]|[1-9]/[1-9]|\d+[.,]\d+|\d*[½¼¾]|\d+)"
_H = r"(?:hours?|hrs?|h)"
_M = r"(?:minutes?|mins?|m)"
_TIME = rf"""(?:
    (?P<part>half\s+an?\s+hour|(?:a\s+)?quarter\s+of\s+an\s+hour|3\s+quarters\s+of\s+an\s+hour)
  | (?P<hours>{_N}|an?)\s*{_H}
    (?:(?P<half>\s+and\s+a\s+half)|\s*,?\s*(?:and\s+)?(?P<more>\d+)\s*{_M}|(?P<joined>\d\d?)
       |\s+(?P<last>\d\d?)(?=\s*(?:[,;.]|$)))?
  | (?P<minutes>{_N})\s*{_M}
)(?![^\W_])"""
_FLAGS = re.IGNORECASE | re.VERBOSE
_GUESS = (
    r"\b(?:my\s+)?(?:guess(?:ed)?|thought|reckoned|expected|estimated?)"
    r"(?:\s+(?:it|would|be|take|was|of|about|at|to))*\s*[:=]?\s*"
)
_TIMES = re.compile(
    rf"(?:(?P<guess>{_GUESS})|{_FIRST}){_TIME}(?P<behind>\s+(?:guessed|expected)(?=\s*(?:[,;.]|$)))?", _FLAGS
)
_BARE_GUESSES = re.compile(rf"{_GUESS}(?P<bare>\d+(?:[.,]\d+)?)(?![\w.,]*\w)", _FLAGS)
_PARTS = {"h": 30.0, "a": 15.0, "q": 15.0, "3": 45.0}
_SIGNS = {"½": 0.5, "¼": 0.25, "¾": 0.75}

_NOT_FINISHED = re.compile(
    r"\b(?:not\s+(?:yet\s+)?(?:quite\s+)?(?:finished|done|ready|complete)(?:\s+yet)?|unfinished"
    r"|(?:still\s+)?in\s+hand|to\s+be\s+continued|(?:is|are)n['’]t\s+(?:finished|done|ready)"
    r"|half[\s-](?:done|finished))\b",
    re.IGNORECASE,
)
_FINISHED = re.compile(r"\b(?:done|finished|completed?|ready)\b", re.IGNORECASE)

_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_DAY_WORDS = ("yesterday", "tonight", *_WEEKDAYS)
_PART_OF_DAY = r"(?:\s+(?:morning|afternoon|evening|night))?"
_DAYS = re.compile(
    rf"""\b(?:
    (?P<iso>\d{{4}}-\d\d?-\d\d?)
  | (?P<two>(?:the\s+)?day\s+before\s+yesterday)
  | (?P<one>yesterday{_PART_OF_DAY}|last\s+(?:night|evening))
  | (?P<none>today|tonight|this\s+(?:morning|afternoon|evening)|just\s+now)
  | (?P<count>\d+|an?)\s+(?P<span>days?|nights?|weeks?)\s+ago
  | (?:on\s+|this\s+|(?P<before>last\s+))?(?P<weekday>{"|".join(_WEEKDAYS)}){_PART_OF_DAY}
  | (?:on\s+|(?P<before_short>last\s+))(?P<short>mon|tues?|wed|thu(?:rs?)?|fri|sat|sun)
    )\b(?!-)""",
    _FLAGS,
)
_OTHER_DATES = re.compile(r"(?<![\w.,/])\d{1,2}[./]\d{1,2}[./](?:\d{4}|\d\d)?(?!\w)")

_COUNTS = re.compile(
    rf"""{_FIRST}(?:
    (?P<some>\d+)\s*(?:/|(?:out\s+)?of)\s*(?:the\s+|my\s+)?(?P<whole>\d+)
  | (?P<times>\d+)\s*[x×] | [x×]\s*(?P<by>\d+)
  | (?P<all>all(?:\s+(?:of\s+)?(?:the|my|them))?|the\s+rest(?:\s+of)?|the\s+remaining)
  | (?P<both>both|a\s+couple) | (?P<six>half\s+a\s+dozen) | (?P<twelve>(?:a\s+)?dozen)
  | (?P<plain>\d+)
    )(?![\w/:-]|[.,]\d)""",
    _FLAGS,
)

_NUMBERED_HINTS = ("#", "no", "nr", "num")
_NUMBERED = (
    r"(?:#|\b(?:no|nos|nr|number|numbers)\b\.?\s*#?)\s*"
    r"(?P<list>\d{1,5}(?:\s*-\s*\d{1,5})?(?:\s*(?:,|and|&)\s*#?\s*\d{1,5}(?:\s*-\s*\d{1,5})?(?!\w))*)"
    r"(?!\s*(?:hours?|hrs?|h|minutes?|mins?|m)\b)(?!\w)"
)
_TOTAL_HINTS = ("total", "in all", "all told", "altogether", "all in all")
_TOTALS = (
    rf"\b(?:(?:in\s+)?total|in\s+all|altogether)\s*(?:of|was|:|=)?\s*{_TIME}",
    rf"{_FIRST}{_TIME}\s*,?\s*(?:all\s+)?(?:in\s+all|in\s+total|total|altogether|all\s+told)\b",
)


class Text:
    """A sentence from which understood words are taken, each leaving a gap."""

    def __init__(self, text: str) -> None:
        self.rest = text

    def take(self, pattern: re.Pattern[str], instead: str = ",") -> list[re.Match[str]]:
        """Every match of the pattern; another sign stands in its place afterwards."""
        found = list(pattern.finditer(self.rest))
        if found:
            self.rest = pattern.sub(f" {instead} ", self.rest)
        return found


def number_word(word: str) -> bool:
    """Whether a word is a number."""
    return word.casefold() in _NUMBERS


def digits_for_words(text: Text) -> None:
    """Put digits for number words ("ten spears"), so that numbers are read in one way only."""
    text.rest = _WORDS.sub(lambda said: str(_NUMBERS.get(said[0].lower(), said[0])), text.rest)


def refuse(what: str, mend: str) -> Problem:
    """A problem of the sentence."""
    return Problem(WHERE, what, mend)


def _twice(found: list[re.Match[str]], what: str, mend: str) -> Problem:
    one, other = shown(found[0][0].strip()), shown(found[1][0].strip())
    return refuse(f"{what}: {one} and {other}", mend)


def take_times(text: Text) -> tuple[float | None, float | None] | Problem:
    """Minutes spent ("50 min", "1h20", "1 1/2 h") and guessed beforehand ("guess 40 min", "thought 1 h")."""
    found = text.take(_TIMES)
    guesses = [said for said in found if said["guess"] or said["behind"]] + text.take(_BARE_GUESSES)
    spent = [said for said in found if not (said["guess"] or said["behind"])]
    if len(spent) > 1:
        return _twice(spent, "two times are said", "Log one line at a time")
    if len(guesses) > 1:
        return _twice(guesses, "two guesses are said", "Say one")
    minutes = _bounded(spent[0], MINUTES_A_DAY) if spent else None
    guess = _bounded(guesses[0], GUESS_MINUTES_MOST) if guesses else None
    if isinstance(minutes, Problem):
        return minutes
    return guess if isinstance(guess, Problem) else (minutes, guess)


def _bounded(said: re.Match[str], most: int) -> float | Problem:
    minutes = _minutes(said)
    if not 0 < minutes <= most:
        return refuse(
            f"{shown(said[0].strip())} is no time to log", f"Say more than 0 and at most {most} minutes"
        )
    return minutes


def _minutes(said: re.Match[str]) -> float:
    groups = said.groupdict()
    if groups.get("bare"):
        return _number(groups["bare"])
    if groups["part"]:
        return _PARTS[groups["part"][0].lower()]
    if groups["minutes"]:
        return _number(groups["minutes"])
    extra = groups["more"] or groups["joined"] or groups["last"]
    return 60 * _number(groups["hours"]) + (float(extra) if extra else 30.0 if groups["half"] else 0.0)


def _number(text: str) -> float:
    """A number in digits, perhaps with a fraction; "a" and "an" are one."""
    text = text.lower()
    if text in ("a", "an"):
        return 1.0
    if text[-1] in _SIGNS:
        return float(text[:-1] or 0) + _SIGNS[text[-1]]
    if "/" in text:
        *whole, fraction = text.split()
        upper, lower = fraction.split("/")
        return float(whole[0] if whole else 0) + int(upper) / int(lower)
    return float(text.replace(",", "."))


def _hinted(text: Text, hints: tuple[str, ...]) -> bool:
    """Whether any of these stands in the text, before a costly pattern is made."""
    folded = " ".join(text.rest.casefold().split())
    return any(hint in folded for hint in hints)


def take_total(text: Text) -> float | Problem | None:
    """The minutes of the whole evening ("2 h in all", "total 90 min"); None when they are not said."""
    if not _hinted(text, _TOTAL_HINTS):
        return None  # compiling the patterns costs a good part of logging a line
    found = [said for pattern in _TOTALS for said in text.take(re.compile(pattern, _FLAGS))]
    if len(found) > 1:
        return _twice(found, "two totals are said", "Say one")
    return _bounded(found[0], MINUTES_A_DAY) if found else None


def take_numbered(text: Text) -> tuple[int, ...] | Problem:
    """Which models, by number: "#3", "#1-4, 7", "numbers 2 and 5"; empty when none are said."""
    numbers: set[int] = set()
    hinted = _hinted(text, _NUMBERED_HINTS)
    for said in text.take(re.compile(_NUMBERED, re.IGNORECASE)) if hinted else ():
        for first, last in re.findall(r"(\d+)(?:\s*-\s*(\d+))?", said["list"]):
            numbers.update(range(int(first), int(last or first) + 1))
    if len(numbers) > MODELS_MOST or 0 in numbers:
        return refuse("these numbers cannot be", "Number models from 1 on, as in #1-5")
    return tuple(sorted(numbers))


def mended_days(text: str) -> str:
    """The text with mistyped words for a day put right ("yestrday"), for when it is not understood."""
    from tracker.sheets.names import errors_between

    def mended(said: re.Match[str]) -> str:
        word = said[0].lower()
        near = [day for day in _DAY_WORDS if errors_between(word, day) in (1, 2)] if len(word) > 4 else []
        return near[0] if len(near) == 1 else said[0]

    return _WORDS.sub(mended, text)


def take_finished(text: Text) -> bool:
    """Whether the step is finished; yes, unless the sentence says it is not."""
    unfinished = bool(text.take(_NOT_FINISHED))
    text.take(_FINISHED)
    return not unfinished


def take_day(text: Text, today: date) -> date | Problem | None:
    """The day that is said, never after `today`; a weekday is the most recent one, today included."""
    other = _OTHER_DATES.search(text.rest)
    if other:
        return refuse(
            f"{shown(other[0])} is not clear as a date", "Write it as 2026-03-04 (year, month, day)"
        )
    found = text.take(_DAYS)
    if len(found) > 1:
        return _twice(found, "two days are said", "Log one evening at a time")
    return _day(found[0], today) if found else None


def _day(said: re.Match[str], today: date) -> date | Problem:
    if said["iso"]:
        return _iso(said["iso"], today)
    if said["count"]:
        back = _number(said["count"]) * (7 if said["span"].lower().startswith("week") else 1)
    elif said["weekday"] or said["short"]:
        name = (said["weekday"] or said["short"]).lower()[:3]
        place = [weekday[:3] for weekday in _WEEKDAYS].index(name)
        back = (today.weekday() - place) % 7
        if back == 0 and (said["before"] or said["before_short"]):
            back = 7
    else:
        back = 2 if said["two"] else 1 if said["one"] else 0
    if back > 36_500:
        return refuse(f"{shown(said[0])} lies too far back", "Say the date, such as 2026-03-04")
    return today - timedelta(days=int(back))


def _iso(text: str, today: date) -> date | Problem:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return refuse(f"the date {text} does not exist", "Write it as 2026-03-04 (year, month, day)")
    if day > today:
        return refuse(f"{text} lies in the future", "Log evenings once they have been")
    return day


def take_models(text: Text) -> int | str | Problem | None:
    """How many models: a number, "all" for all that are left, None when nothing is said."""
    found = text.take(_COUNTS)
    if len(found) > 1:
        return _twice(found, "two counts are said", "Say how many models once, and write minutes with min")
    return _count(found[0]) if found else None


def _count(said: re.Match[str]) -> int | str | Problem:
    if said["all"]:
        return "all"
    for group, count in (("both", 2), ("six", 6), ("twelve", 12)):
        if said[group]:
            return count
    text = said["some"] or said["times"] or said["by"] or said["plain"]
    count_said = _number(text) if len(text) < 12 else float(MODELS_MOST + 1)
    if count_said > MODELS_MOST:
        return refuse(f"{shown(said[0])} models are too many", f"Say at most {MODELS_MOST}")
    if said["whole"] and count_said > _number(said["whole"]):
        return refuse(f"{shown(said[0])} is more than there are", "Check the numbers")
    return int(count_said)
