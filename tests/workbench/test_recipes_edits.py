"""Random edits of recipes against a plain model: versions never change, whoever is painted with them."""

from __future__ import annotations

import copy
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.desks import with_spears
from tracker.domain.problems import LastcoatError
from tracker.domain.rows import RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.desk import Desk
from tracker.workbench.past import redo, undo
from tracker.workbench.recipes import add_recipe, copy_recipe, drop_recipe, rename_recipe
from tracker.workbench.recipes_known import list_recipes, show_recipe, show_unit
from tracker.workbench.recipes_steps import StepWish, set_step
from tracker.workbench.recipes_used import stop_using, use_recipe

UNITS = ("Spears", "Riders")
NAMES = ("a", "b", "c")


class Plain:
    """Recipes as lists of lists of paints; what cannot be is a KeyError or a ValueError."""

    def __init__(self) -> None:
        self.versions: dict[str, list[list[str]]] = {}
        self.like: dict[str, tuple[str, int]] = {}
        self.uses: dict[tuple[str, str], int] = {}

    def add(self, name: str, paint: str) -> None:
        self._free(name)
        self.versions[name] = [[paint]]

    def step(self, name: str, paint: str, at: int) -> None:
        last = self.versions[name][-1]
        if at > len(last) + 1:
            raise ValueError(at)
        self.versions[name].append([*last[: at - 1], paint, *last[at - 1 :]])

    def out(self, name: str, at: int) -> None:
        last = self.versions[name][-1]
        if at > len(last):
            raise ValueError(at)
        self.versions[name].append(last[: at - 1] + last[at:])

    def copy(self, name: str, new: str, number: int) -> None:
        self._version(name, number)
        self._free(new)
        self.versions[new] = [list(self.versions[name][number - 1])]
        self.like[new] = (name, number)

    def use(self, name: str, unit: str, number: int) -> None:
        self._version(name, number)
        if self.uses.get((unit, name)) == number:
            raise ValueError(number)
        self.uses[unit, name] = number

    def unuse(self, name: str, unit: str) -> None:
        del self.uses[unit, name]

    def rename(self, name: str, new: str) -> None:
        found = self.versions[name]
        self._free(new)
        del self.versions[name]
        self.versions[new] = found
        names = {name: new}
        self.like = {names.get(key, key): (names.get(of, of), at) for key, (of, at) in self.like.items()}
        self.uses = {(unit, names.get(key, key)): at for (unit, key), at in self.uses.items()}

    def drop(self, name: str) -> None:
        kept = {key for _, key in self.uses} | {of for of, _ in self.like.values()}
        if name in kept:
            raise ValueError(name)
        del self.versions[name]
        self.like.pop(name, None)

    def _free(self, name: str) -> None:
        if name in self.versions:
            raise ValueError(name)

    def _version(self, name: str, number: int) -> None:
        if number > len(self.versions[name]):
            raise ValueError(number)


def do(desk: Desk, verb: str, said: tuple[Any, ...]) -> None:
    """The same by the verbs."""
    verbs: dict[str, Any] = {
        "add": lambda name, paint: add_recipe(desk, name, f"cloth: {paint}"),
        "step": lambda name, paint, at: set_step(desk, name, StepWish("cloth", paint=paint), at=at),
        "out": lambda name, at: set_step(desk, name, StepWish(), out=at),
        "copy": lambda name, new, number: copy_recipe(desk, name, new, version=number),
        "use": lambda name, unit, number: use_recipe(desk, name, unit=unit, version=number),
        "unuse": lambda name, unit: stop_using(desk, name, unit=unit),
        "rename": lambda name, new: rename_recipe(desk, name, new),
        "drop": lambda name: drop_recipe(desk, name),
    }
    verbs[verb](*said)


def agree(desk: Desk, plain: Plain) -> None:
    """Every version of every recipe, and what every unit is painted with."""
    looks = {look.recipe.name: look for look in list_recipes(desk).looks}
    assert sorted(looks) == sorted(plain.versions)
    for name, versions in plain.versions.items():
        assert [one.number for one in looks[name].versions] == list(range(1, len(versions) + 1))
        for number, paints in enumerate(versions, start=1):
            look = show_recipe(desk, name, number)
            assert [(step.place, step.paint) for step in look.steps] == list(enumerate(paints, start=1))
            assert look.like == plain.like.get(name)
    for unit in UNITS:
        found = {look.recipe.name: look.version.number for look in show_unit(desk, unit).looks}
        assert found == {name: number for (whose, name), number in plain.uses.items() if whose == unit}


_NAME, _NEW, _UNIT = st.sampled_from(NAMES), st.sampled_from(NAMES), st.sampled_from(UNITS)
_PAINT, _NUMBER = st.sampled_from(["red", "blue", "bone"]), st.integers(1, 3)
_ACTS = st.one_of(
    st.tuples(st.just("add"), _NAME, _PAINT),
    st.tuples(st.just("step"), _NAME, _PAINT, _NUMBER),
    st.tuples(st.just("out"), _NAME, _NUMBER),
    st.tuples(st.just("copy"), _NAME, _NEW, _NUMBER),
    st.tuples(st.just("use"), _NAME, _UNIT, _NUMBER),
    st.tuples(st.just("unuse"), _NAME, _UNIT),
    st.tuples(st.just("rename"), _NAME, _NEW),
    st.tuples(st.just("drop"), _NAME),
    st.tuples(st.just("undo")),
    st.tuples(st.just("redo")),
)


@given(st.lists(_ACTS, min_size=8, max_size=30))
@settings(max_examples=15, deadline=None)
def test_any_edits_agree_with_plain_lists(acts: list[tuple[Any, ...]]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        desk = with_spears(Path(folder), 2)
        add_unit(desk, RosterRow("Riders", 2))
        plain, past, future = Plain(), list[Plain](), list[Plain]()
        for verb, *said in [("add", "a", "red"), *acts]:
            if verb in ("undo", "redo"):
                here, there = (past, future) if verb == "undo" else (future, past)
                if here:
                    there.append(plain)
                    plain = here.pop()
                    (undo if verb == "undo" else redo)(desk)
                continue
            wanted = copy.deepcopy(plain)
            try:
                getattr(wanted, verb)(*said)
            except (KeyError, ValueError):
                with pytest.raises(LastcoatError):
                    do(desk, verb, tuple(said))
            else:
                do(desk, verb, tuple(said))
                past, future, plain = [*past, plain], [], wanted
        agree(desk, plain)
