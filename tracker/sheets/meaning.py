"""Which step and which unit the words of a sentence mean, or why that cannot be told."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import NamedTuple

from tracker.domain.problems import Problem, did_you_mean
from tracker.domain.text import tidy
from tracker.sheets.names import (
    FILLERS,
    Phrases,
    UnitWords,
    Words,
    step_costs,
    unit_cost,
    words_of,
)
from tracker.sheets.quantities import Text, number_word, refuse
from tracker.sheets.shown import shown

_PHRASE_WORDS_MOST = 4
_WORDS_MOST = 60
_PLAIN = re.compile(r"[^\W\d_]+")
_TIME_BEHIND = r"(?!\s*(?:h|hrs?|hours?|m|mins?|minutes?)\b)"
_OWN_WORDS = 'Leave it out, or put it behind "note:"'


class Meaning(NamedTuple):
    """A step and a unit, and how far the words are from their names."""

    cost: int
    step: str
    unit: UnitWords
    said: Words
    """The words that were read as the step."""


class Known(NamedTuple):
    """What can be named."""

    units: Sequence[UnitWords]
    phrases: Phrases
    route_of: Callable[[str], Sequence[str]] | None = None

    def mask(self, text: Text) -> list[UnitWords] | Problem:
        """Take full unit names out of the text before numbers are read: "7th Riders" is no count.

        Names of a single plain word stay, since the ordinary matching finds them.
        """
        folded = text.rest.casefold()
        found: list[UnitWords] = []
        for unit in sorted(self.units, key=lambda unit: -len(unit.unit)):
            name = tidy(unit.unit)
            if not name or name.casefold() not in folded or _PLAIN.fullmatch(name):
                continue
            again = bool(found) and same_unit_name([found[0], unit])
            if again or text.take(_whole(name)):
                found.append(unit)
        if found and not same_unit_name(found):
            return two_units(found)
        return found


def _whole(name: str) -> re.Pattern[str]:
    """The name as whole words, not running into a time ("spears 10 min")."""
    return re.compile(rf"(?<!\w){re.escape(name)}(?!\w){_TIME_BEHIND}", re.IGNORECASE)


def mask_steps(text: Text, steps: Sequence[str], phrases: Phrases) -> Phrases:
    """Put a word of letters for each step's name that has a number in it: "coat 2" is no count.

    The phrases that come back know these words too.
    """
    folded = text.rest.casefold()
    more: dict[Words, tuple[str, ...]] = {}
    for name in sorted(steps, key=len, reverse=True):
        if name.casefold() in folded and _has_number(name):
            word = f"zqx{chr(ord('a') + len(more) % 26)}q"
            if text.take(_whole(name), word):
                more[(word,)] = (name,)
    return Phrases({**phrases.steps, **more}, phrases.names)


def _has_number(name: str) -> bool:
    return any(sign.isdigit() for sign in name) or any(map(number_word, name.split()))


def same_unit_name(units: Sequence[UnitWords]) -> bool:
    """Whether all of them have the same name (in different armies)."""
    return len({tidy(unit.unit).casefold() for unit in units}) == 1


def two_units(units: Sequence[UnitWords]) -> Problem:
    """The problem of two units that are equally near."""
    if same_unit_name(units):
        armies = " and ".join(shown(unit.army) for unit in units[:3])
        return refuse(f"there is a unit {shown(units[0].unit)} in {armies}", "Say the army too")
    names = " and ".join(shown(unit.unit) for unit in units[:3])
    return refuse(f"two units can be meant: {names}", "Say more of the name, one unit at a time")


def find_meaning(text: str, known: Known, masked: Sequence[UnitWords]) -> Meaning | Problem:
    """The one step and unit that the words mean; typing errors are allowed when nothing else fits."""
    words = words_of(text)
    if len(words) > _WORDS_MOST:
        return refuse(f"it has {len(words)} words", 'Say less, or put the rest behind "note:"')
    units = masked or known.units
    for typing_errors in (False, True):
        found = list(_meanings(words, units, known.phrases, bool(masked), typing_errors))
        if found:
            return _choose(found, known)
    return _explain(text, words, units, known.phrases, bool(masked))


def _spans(words: Sequence[str]) -> Iterator[tuple[int, int]]:
    for begin in range(len(words)):
        for end in range(begin + 1, min(begin + _PHRASE_WORDS_MOST, len(words)) + 1):
            yield begin, end


def _meanings(
    words: Sequence[str], units: Sequence[UnitWords], phrases: Phrases, masked: bool, typing_errors: bool
) -> Iterator[Meaning]:
    for begin, end in _spans(words):
        said = tuple(words[begin:end])
        steps = step_costs(said, phrases, typing_errors=typing_errors)
        if not steps:
            continue
        others = (*words[:begin], *words[end:])
        for unit, unit_far in _units(others, units, masked, typing_errors):
            for step_far, step in steps:
                yield Meaning(step_far + unit_far, step, unit, said)


def _units(
    words: Words, units: Sequence[UnitWords], masked: bool, typing_errors: bool
) -> Iterator[tuple[UnitWords, int]]:
    rest = tuple(word for word in words if word not in FILLERS)
    if masked or (not rest and len(units) == 1):
        for unit in units:
            if all(word in unit.army_words for word in rest):
                yield unit, 0
    elif rest:
        for unit in units:
            cost = unit_cost(rest, unit, typing_errors=typing_errors)
            if cost is not None:
                yield unit, cost


def _choose(found: Sequence[Meaning], known: Known) -> Meaning | Problem:
    least = min(meaning.cost for meaning in found)
    best = [meaning for meaning in found if meaning.cost == least]
    units = list({(meaning.unit.unit, meaning.unit.army): meaning.unit for meaning in best}.values())
    if len(units) > 1:
        return two_units(units)
    by_step = {meaning.step: meaning for meaning in best}
    if len(by_step) > 1 and known.route_of is not None:
        route = {name.casefold() for name in known.route_of(units[0].unit)}
        on_route = {step: meaning for step, meaning in by_step.items() if step.casefold() in route}
        by_step = on_route or by_step
    if len(by_step) == 1:
        return next(iter(by_step.values()))
    return _usual(by_step) or _two_steps(best[0].said, list(by_step))


def _usual(by_step: dict[str, Meaning]) -> Meaning | None:
    """A bath in soap for "washed", the shade for "wash", where the route does not tell."""
    if {step.casefold() for step in by_step} != {"washing", "shade"}:
        return None
    wanted = "washing" if next(iter(by_step.values())).said[-1].endswith("d") else "shade"
    return next(meaning for step, meaning in by_step.items() if step.casefold() == wanted)


def _two_steps(said: Words, steps: Sequence[str]) -> Problem:
    names = " and ".join(shown(step) for step in steps[:3])
    return refuse(f"{shown(' '.join(said))} can mean the steps {names}", "Say the step's name")


def _explain(
    text: str, words: Sequence[str], units: Sequence[UnitWords], phrases: Phrases, masked: bool
) -> Problem:
    """Why the words mean nothing: a step or a unit is missing, unknown, or said twice."""
    typed = {folded: raw for raw in re.findall(r"[^\W_]+(?:['’][^\W_]+)*", text) for folded in words_of(raw)}
    steps, left = _steps_said(words, phrases)
    rest = [word for word in left if word not in FILLERS]
    meant = {} if masked else {word: [u for u in units if unit_cost((word,), u) is not None] for word in rest}
    strange = " ".join(typed.get(word, word) for word in rest if not meant.get(word))
    if len(steps) > 1:
        both = " and ".join(shown(step) for step in steps[:3])
        return refuse(f"two steps are said: {both}", "Log one line for each")
    if not steps:
        return _no_step(strange, sorted({name for names in phrases.steps.values() for name in names}))
    names = [unit.unit for unit in units]
    if not rest:
        first = ", ".join(shown(name) for name in names[:3])
        mend = f"Name one, such as {first}" if names else "Add a unit first"
        return refuse("no unit is said", mend)
    if not strange:
        return two_units([near[0] for near in meant.values() if near])
    if masked or any(meant.values()):
        return refuse(f"{shown(strange)} is not understood", _OWN_WORDS)
    return refuse(f"there is no unit {shown(strange)}", did_you_mean(strange, names, "Add the unit first"))


def _steps_said(words: Sequence[str], phrases: Phrases) -> tuple[list[str], list[str]]:
    """The steps that stand in the words by name, longest phrases first, and the words left over."""
    steps: list[str] = []
    left = list(words)
    for begin, end in sorted(_spans(words), key=lambda span: span[0] - span[1]):
        said = words[begin:end]
        names = phrases.steps.get(tuple(said))
        if names and all(word in left for word in said):
            for word in said:
                left.remove(word)
            if names[0] not in steps:
                steps.append(names[0])
    return steps, left


def _no_step(strange: str, steps: Sequence[str]) -> Problem:
    if not strange:
        return refuse("no step is said", 'Say what was done, such as "primed" or "highlights"')
    otherwise = "Name a step that is known, or add this one to the unit's route first"
    return refuse(f"there is no step {shown(strange)}", did_you_mean(strange, steps, otherwise))
