"""Names that a person says: which unit, which step; and texts and numbers that can be stored."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from tracker.domain.problems import DataError, Problem, did_you_mean, nearest
from tracker.domain.steps import CATALOGUE, find_step
from tracker.domain.text import NAME_LETTERS_MOST, printable, same_name, tidy
from tracker.store.journal import Store
from tracker.store.units import all_unit_names, find_units, own_steps

SHOWN_LETTERS = 60


class KnownUnit(NamedTuple):
    """A unit that is in the log, by its names as they were first written."""

    id: int
    army: str
    name: str


def shown(name: str) -> str:
    """A name as a sentence shows it: harmless, quoted, and not longer than a line."""
    text = printable(name)
    return f'"{text if len(text) <= SHOWN_LETTERS else text[: SHOWN_LETTERS - 1] + "…"}"'


def the_unit(store: Store, name: str, army: str | None = None) -> KnownUnit:
    """The unit of that name; a `DataError` offers the nearest names, or asks for the army."""
    found = [KnownUnit(*row) for row in find_units(store, name)]
    if army is not None:
        found = [unit for unit in found if same_name(unit.army, army)]
    if len(found) == 1:
        return found[0]
    if found:
        armies = " or ".join(shown(unit.army) for unit in found)
        raise DataError(
            Problem("--unit", f"{shown(name)} stands in more than one army", f"Say --army {armies}")
        )
    of_army = "" if army is None else f" in the army {shown(army)}"
    known = [unit for _, _, unit in all_unit_names(store)]
    otherwise = f"Add it: lastcoat add --unit {shown(name)} --models N"
    raise DataError(
        Problem("--unit", f"there is no unit {shown(name)}{of_army}", did_you_mean(name, known, otherwise))
    )


def the_step(route: Sequence[str], said: str, unit: str) -> str:
    """The step of this route that was said, by its name or a word for it; else a `DataError`."""
    found = on_route(route, said)
    if found is not None:
        return found
    what = f"{shown(said)} is not on the route of {shown(unit)}"
    raise DataError(Problem("--step", what, f"{near_steps(route, said)} Or add it with --add-step"))


def near_steps(route: Sequence[str], said: str) -> str:
    """A question that offers the steps most like what was said, by name or by a word for them."""
    meant = {word: step for step in route if (known := find_step(step)) for word in known.words}
    meant |= {step: step for step in route}
    close = dict.fromkeys(meant[word] for word in nearest(said, meant))
    if not close:
        return f"Its steps: {', '.join(map(printable, route))}."
    return "Did you mean " + " or ".join(map(shown, close)) + "?"


def on_route(route: Sequence[str], said: str) -> str | None:
    """The step of the route with that name, or the only one that is also called so."""
    for step in route:
        if same_name(step, said):
            return step
    key = tidy(said).casefold()
    called = [step for step in route if (known := find_step(step)) and key in known.words]
    return called[0] if len(called) == 1 else None


def catalogue_name(said: str) -> str:
    """The catalogue step that is also called so, if it is only one; else what was said."""
    key = tidy(said).casefold()
    called = [step.name for step in CATALOGUE.values() if key in step.words]
    return called[0] if len(called) == 1 and find_step(said) is None else said


def new_step_name(store: Store, said: str) -> str:
    """How a step that is new to a unit is written: as the catalogue has it, as before, or as said."""
    known = find_step(said)
    return known.name if known else own_steps(store).get(tidy(said).casefold(), tidy(said))


def place_step(route: Sequence[str], step: str) -> tuple[str, ...]:
    """The route with one more step: a catalogue step where the catalogue has it, another at the end."""
    order = {name: place for place, name in enumerate(CATALOGUE)}
    if step in order:
        for i, other in enumerate(route):
            if order.get(other, -1) > order[step]:
                return (*route[:i], step, *route[i:])
    return (*route, step)


def good_name(where: str, text: str) -> str:
    """The name without blanks at its ends; a `DataError` when it is empty, too long or no text."""
    name = tidy(text)
    if not name:
        raise DataError(Problem(where, "the name is empty", "Say a name"))
    if len(name) > NAME_LETTERS_MOST:
        raise DataError(
            Problem(where, f"the name has {len(name)} letters", f"Shorten it to {NAME_LETTERS_MOST}")
        )
    return good_text(where, name)


def good_text(where: str, text: str) -> str:
    """The text itself; a `DataError` when it holds bytes that are no letters of UTF-8."""
    try:
        text.encode()
    except UnicodeEncodeError:
        raise DataError(Problem(where, "the text is not UTF-8", "Type it again")) from None
    return text


def good_minutes(where: str, minutes: float | None, most: float) -> float | None:
    """The minutes; a `DataError` unless they are more than 0 and at most `most`."""
    if minutes is None or 0 < minutes <= most:
        return minutes
    raise DataError(
        Problem(where, f"{minutes:g} minutes cannot be", f"Say more than 0 and at most {most:g} minutes")
    )
