"""Names as people type them: folded words, and which unit or step a few words mean.

A match has a cost: 0 the very name, 1 to 3 a part or beginning of it, 10 and more typing errors
(two for each, by the optimal string alignment distance; one more for a name said in part). Lower is nearer.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from tracker.domain.steps import find_step

# fmt: off
FILLERS = frozenset((
    "the", "of", "on", "for", "some", "my", "with", "and", "at", "in", "to", "a", "an", "it", "them", "i",
    "we", "spent", "took", "worked", "working", "work", "did", "was", "were", "have", "has", "been", "now",
    "more", "another", "model", "models", "mini", "minis", "miniature", "miniatures", "figure", "figures",
    "from", "up", "about", "roughly", "around", "approx", "approximately", "nearly", "almost",
))
# fmt: on
_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
_EITHER = {"washing": ("wash", "washed"), "shade": ("wash", "washed")}
"""Words that mean one step or another: a bath in soap, or thin paint that runs into the recesses."""
TYPING_ERRORS = 10
Words = tuple[str, ...]


def words_of(text: str) -> list[str]:
    """The words of a text, folded: capitals, accents, plural and possessive endings do not count."""
    return [fold(word) for word in _WORD.findall(text)]


def fold(word: str) -> str:
    """One word folded. Both sides are folded, so it only matters that it is the same each time."""
    word = word.casefold()
    if not word.isascii():
        parts = unicodedata.normalize("NFKD", word)
        word = "".join(sign for sign in parts if not unicodedata.combining(sign)) or word
        word = word.replace("’", "'")
    word = word.removesuffix("'s").replace("'", "")
    if len(word) > 3:
        for ending, instead in (("men", "man"), ("ies", "y"), ("ves", "f"), ("fe", "f"), ("ses", "s"),
                                ("xes", "x"), ("ches", "ch"), ("shes", "sh")):  # fmt: skip
            if word.endswith(ending):
                return word.removesuffix(ending) + instead
        if word.endswith("s") and not word.endswith("ss"):
            return word[:-1]
    return word


def stem(word: str) -> str:
    """A folded word without the ending of a verb: "stippled" and "stippling" are one."""
    for ending in ("ing", "ed", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word.removesuffix(ending)
            break
    return word[:-1] if len(word) > 3 and word[-1] == word[-2] else word


class UnitWords(NamedTuple):
    """A unit and the words that may stand for it."""

    unit: str
    army: str
    name: Words
    army_words: Words


def unit_words(unit: str, army: str) -> UnitWords:
    """A unit's words, without the small ones that people leave out."""
    name = words_of(unit)
    return UnitWords(
        unit, army, tuple(w for w in name if w not in FILLERS) or tuple(name), tuple(words_of(army))
    )


def unit_cost(said: Words, unit: UnitWords, *, typing_errors: bool = False) -> int | None:
    """How far these words are from the unit's name; None when they do not mean it."""
    known = (*unit.name, *unit.army_words)
    if said in (unit.name, (*unit.name, *unit.army_words), (*unit.army_words, *unit.name)):
        return 0
    if not any(_likely(word, name, typing_errors) for word in said for name in unit.name):
        return None
    if all(word in known for word in said):
        return 1
    partly = int(len(said) < len(unit.name))
    if all(any(_begins(word, name) for name in known) for word in said):
        return 2 + partly
    errors = _errors_in(said, known) if typing_errors else None
    return None if errors is None else TYPING_ERRORS + 2 * errors + partly


def _errors_in(said: Words, known: Words) -> int | None:
    total = 0
    for word in said:
        errors = [count for name in known if (count := errors_between(word, name)) is not None]
        if not errors:
            return None
        total += min(errors)
    return total


def _begins(word: str, name: str) -> bool:
    return word == name or (len(word) >= 3 and name.startswith(word))


def _likely(word: str, name: str, typing_errors: bool) -> bool:
    return _begins(word, name) or (typing_errors and errors_between(word, name) is not None)


def errors_between(one: str, other: str) -> int | None:
    """Typing errors between two words, None when they are too many: 1 from 4 letters on, 2 from 8."""
    shorter = min(len(one), len(other))
    allowed = 0 if shorter < 4 else 1 if shorter < 8 else 2
    if abs(len(one) - len(other)) > allowed:
        return None
    from rapidfuzz.distance import OSA  # only where a word is not known as it stands

    errors = OSA.distance(one, other, score_cutoff=allowed)
    return errors if errors <= allowed else None


class Phrases(NamedTuple):
    """What steps are called: the words of each phrase and the steps it may mean."""

    steps: Mapping[Words, tuple[str, ...]]
    names: frozenset[Words]
    """Phrases that are a step's own name; only these may be shortened."""


def step_phrases(steps: Sequence[str], own_words: Mapping[str, str]) -> Phrases:
    """Every phrase of these steps. The person's own words win over the catalogue's."""
    found: dict[Words, tuple[str, ...]] = {}
    names = {tuple(words_of(name)): name for name in steps if words_of(name)}
    for name in steps:
        step = find_step(name)
        for phrase in (*step.words, *_EITHER.get(step.name, ())) if step else ():
            key = tuple(words_of(phrase))
            if name not in found.get(key, ()):
                found[key] = (*found.get(key, ()), name)
    by_folded = {name.casefold(): name for name in steps}
    for phrase, name in own_words.items():
        if name.casefold() in by_folded:
            found[tuple(words_of(phrase))] = (by_folded[name.casefold()],)
    found.update({key: (name,) for key, name in names.items()})
    return Phrases(found, frozenset(names))


def step_costs(said: Words, phrases: Phrases, *, typing_errors: bool = False) -> Iterable[tuple[int, str]]:
    """The steps that these words may mean, each with its cost."""
    exact = phrases.steps.get(said)
    if exact:
        return [(0, name) for name in exact]
    found: dict[str, int] = {}
    for phrase, names in phrases.steps.items():
        cost = _step_cost(said, phrase, phrase in phrases.names, typing_errors)
        if cost is not None:
            for name in names:
                found[name] = min(cost, found.get(name, cost))
    return [(cost, name) for name, cost in found.items()]


def _step_cost(said: Words, phrase: Words, is_name: bool, typing_errors: bool) -> int | None:
    if len(said) == len(phrase) and all(stem(a) == stem(b) for a, b in zip(said, phrase, strict=True)):
        return 1
    if is_name and len(said) <= len(phrase):
        pairs = list(zip(said, phrase, strict=False))
        if all(_begins(word, name) for word, name in pairs) and any(word not in FILLERS for word in said):
            return 2
    if typing_errors and len(said) == len(phrase):
        errors = [errors_between(a, b) for a, b in zip(said, phrase, strict=True)]
        if None not in errors:
            return TYPING_ERRORS + 2 * sum(count for count in errors if count is not None)
    return None
