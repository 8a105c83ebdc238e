"""What a spare's state says of a route, and finding spares by words."""

from __future__ import annotations

from datetime import date

import pytest

from tracker.domain.routes import usual_route
from tracker.domain.spares import Spare, steps_of_state, with_words

GOOD = usual_route("character", "good", "resin")
"""Cleaning, washing, dry fit, assembly … varnish, tufts."""


@pytest.mark.parametrize(
    ("state", "last"), [("built", "sanding"), ("primed", "priming"), ("begun", "priming")]
)
def test_a_state_puts_the_steps_up_to_it_behind_a_model(state: str, last: str) -> None:
    # Common practice, no source: what is built was cleaned first, what is primed was built first.
    behind = steps_of_state(GOOD, state)
    assert behind[0] == "cleaning"
    assert behind == GOOD[: GOOD.index(last) + 1]


def test_a_painted_one_has_its_colours_but_no_varnish_and_no_painted_base() -> None:
    behind = steps_of_state(GOOD, "painted")
    assert [step for step in GOOD if step not in behind] == ["base painting", "varnish", "tufts"]


def test_bare_and_unknown_say_nothing() -> None:
    assert steps_of_state(GOOD, "bare") == steps_of_state(GOOD, "") == ()


def test_a_route_of_ones_own_is_read_as_it_stands() -> None:
    based_last = (
        "cleaning",
        "assembly",
        "my wash",
        "priming",
        "base colours",
        "glow",
        "varnish",
        "base texture",
    )
    assert steps_of_state(based_last, "primed") == based_last[:4]
    assert steps_of_state(based_last, "built") == based_last[:2]
    assert steps_of_state(based_last, "painted") == based_last[:5]
    assert steps_of_state(("assembly", "base colours"), "primed") == ("assembly",)


def test_spares_are_found_by_all_of_the_words() -> None:
    one = Spare(1, "infantry", "Old Tam", "bent pike", date(2026, 3, 1), base="20x20", place="Drawer 2")
    two = Spare(2, "cavalry", "", "", date(2026, 3, 1), part="rider", tags=("lance",), height_mm=30.0)
    assert with_words((one, two), ("drawer", "TAM")) == (one,)
    assert with_words((one, two), ("lance", "30 mm")) == (two,)
    assert with_words((one, two), ("drawer", "lance")) == ()
    assert with_words((one, two), ()) == (one, two)
