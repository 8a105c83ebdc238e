"""Recipes in a line: "cloth: dark red, wash, mid red 2:1 water, orange edge?; trim: gold".

An area, a colon, its steps with commas between them; areas are parted by ";" or stand on lines of
their own. A technique's word stands alone or ends its step; "2:1" is the mix and what follows it the
medium ("thinned with water" where nobody counted); "?" at the end = probable, "??" = a guess; "#7a1f1f"
is a swatch. Quotation marks keep words as they are, square brackets make any words a technique.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.problems import Problem
from tracker.domain.recipe_words import BEGINNING_WORDS, TECHNIQUE_WORDS
from tracker.domain.recipes import SHEENS, RecipeStep
from tracker.domain.text import NAME_LETTERS_MOST, tidy
from tracker.sheets.recipe_tokens import Token, mistake, plain_words, problem, split, tokens_of, words_of
from tracker.sheets.shown import shown

STEPS_MOST = 200


class ReadRecipe(NamedTuple):
    """What a text says: its steps in order, and every mistake in it."""

    steps: tuple[RecipeStep, ...]
    """With id and version 0; places count from 1."""
    problems: tuple[Problem, ...] = ()


def read_recipe_text(text: str) -> ReadRecipe:
    """The steps of a text in the short form; a mistake costs the step it is in."""
    steps: list[RecipeStep] = []
    problems: list[Problem] = []
    for part in split(tokens_of(text), "line"):
        area, pieces, wrong = _area_of(part)
        problems += wrong
        for piece in pieces if not wrong else ():
            step = _step(area, piece)
            if isinstance(step, Problem):
                problems.append(step)
            else:
                steps.append(step._replace(place=len(steps) + 1))
        if not pieces and not wrong:
            problems.append(problem(f"the area {shown(area)} has no steps"))
    if not steps and not problems:
        problems.append(problem("there are no steps in it"))
    if len(steps) > STEPS_MOST:
        problems.append(Problem("the text", f"it has {len(steps)} steps", f"Write at most {STEPS_MOST}"))
    return ReadRecipe(tuple(steps), tuple(problems))


def _area_of(part: Sequence[Token]) -> tuple[str, list[list[Token]], list[Problem]]:
    """(area, the tokens of each of its steps, what is wrong with it)."""
    said = shown("".join(token.text for token in part).strip())
    at = next((i for i, token in enumerate(part) if token.kind == "colon"), None)
    if at is None:
        return "", [], [problem(f"{said} names no area")]
    area = words_of(part[:at])
    if not area or any(token.kind == "comma" for token in part[:at]):
        return area, [], [problem(f"{said} names no area")]
    if len(area) > NAME_LETTERS_MOST:
        return area, [], [Problem("the text", "the name of an area is too long", "Shorten it")]
    return area, split(part[at + 1 :], "comma"), []


def _step(area: str, piece: Sequence[Token]) -> RecipeStep | Problem:
    said = shown("".join(token.text for token in piece).strip())
    tokens = [token for token in piece if token.kind != "blank"]
    wrong = mistake(tokens, said)
    if wrong:
        return wrong
    certainty, tokens = _certainty(tokens)
    swatch, tokens = _taken(tokens, "swatch")
    own, tokens = _taken(tokens, "own")
    before, mix, after = _around_mix(tokens)
    technique = _own_technique(own)
    if not technique:
        technique, before, after = _technique(before, after)
    sheen = ""
    if technique == "varnish" and len(before) == 1 and plain_words(before) in SHEENS:
        sheen, before = plain_words(before), []
    step = RecipeStep(
        0,
        0,
        0,
        area,
        technique,
        words_of(before),
        mix,
        words_of(after),
        "",
        sheen,
        certainty,
        swatch.casefold(),
    )
    if not step.paint and not step.technique:
        return problem(f"{said} names no paint and no technique")
    if any(len(value) > NAME_LETTERS_MOST for value in (step.paint, step.medium, step.technique)):
        return Problem("the text", f"{said} is too long", f"Shorten it to {NAME_LETTERS_MOST} letters")
    return step


def _certainty(tokens: list[Token]) -> tuple[str, list[Token]]:
    if tokens and tokens[-1].kind == "mark":
        return ("probable" if tokens[-1].text == "?" else "guess"), tokens[:-1]
    return "sure", tokens


def _taken(tokens: list[Token], kind: str) -> tuple[str, list[Token]]:
    """The text of the token of a kind, and the others."""
    said = next((token.text for token in tokens if token.kind == kind), "")
    return said, [token for token in tokens if token.kind != kind]


def _own_technique(said: str) -> str:
    inside = tidy(said[1:-1])
    if inside.startswith('"'):
        return tidy(inside[1:-1].replace('""', '"'))
    return TECHNIQUE_WORDS.get(inside.casefold(), inside)


def _around_mix(tokens: list[Token]) -> tuple[list[Token], str, list[Token]]:
    """(what stands before the mix, the mix, what stands behind it)."""
    for kind in ("mix", "thinned"):
        at = next((i for i, token in enumerate(tokens) if token.kind == kind), None)
        if at is not None and (kind == "mix" or (at > 0 and at + 1 < len(tokens))):
            return tokens[:at], tokens[at].text if kind == "mix" else "", tokens[at + 1 :]
    return tokens, "", []


def _technique(before: list[Token], after: list[Token]) -> tuple[str, list[Token], list[Token]]:
    """The technique whose word ends the step or its paint, or begins it; and what is left."""
    found, rest = _ending(after)
    if found:
        return found, before, rest
    found, rest = _ending(before)
    if found:
        return found, rest, after
    if len(before) > 1 and plain_words(before[:1]) in BEGINNING_WORDS:
        return TECHNIQUE_WORDS[plain_words(before[:1])], before[1:], after
    return "", before, after


def _ending(tokens: list[Token]) -> tuple[str, list[Token]]:
    for length in (2, 1):
        said = plain_words(tokens[-length:]) if len(tokens) >= length else ""
        if said in TECHNIQUE_WORDS:
            return TECHNIQUE_WORDS[said], tokens[:-length]
    return "", tokens
