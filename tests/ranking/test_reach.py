"""Reaches are read, turned, lifted and put into other bands without ever claiming too little."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.domain.problems import Problem
from tracker.domain.ranks import EDGES, Reach, own_edge
from tracker.ranking.reach import at_edge, in_bands, lifted, reach_text, read_reach, turned

_MM = st.one_of(st.none(), st.integers(-30, 60))


def reaches(bands: int) -> st.SearchStrategy[Reach]:
    """Any reach of so many bands."""
    column = st.tuples(*[_MM] * bands)
    return st.builds(Reach, column, column, column, column)


def test_four_numbers_are_front_right_back_left() -> None:
    """Clockwise from the front."""
    assert read_reach(" 6  -4 0 +2 ") == Reach((6,), (-4,), (0,), (2,))


def test_twelve_numbers_are_low_middle_high_at_each_edge() -> None:
    """A dot where nothing is; a typeset minus is a minus."""
    read = read_reach("6/2/. \u22124/-4/-1 0/0/0 2/./.")
    assert read == Reach((6, 2, None), (-4, -4, -1), (0, 0, 0), (2, None, None))


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("6 -4 0", "not four edges"),
        ("", "not four edges"),
        ("6 -4 0 2 1", "not four edges"),
        ("6/1 -4 0 2", "as many bands"),
        ("6 -4 0 two", '"two" is no whole mm'),
        ("6 -4 0 2.5", "is no whole mm"),
        ("6 -4 0 999", "reaches so far"),
        ("1/1/1/1/1/1/1 " * 4, "as many bands"),
        ("6 -4 0 \x1b[31m", "\\x1b"),
    ],
)
def test_what_is_no_reach_is_said(said: str, what: str) -> None:
    """One line each, harmless to a terminal."""
    read = read_reach(said)
    assert isinstance(read, Problem)
    assert what in str(read)
    assert "\n" not in str(read)
    assert "\x1b" not in str(read)


@given(reaches(3))
def test_a_reach_comes_back_as_it_was_written(reach: Reach) -> None:
    """Typed, read and typed again."""
    assert read_reach(reach_text(reach)) == reach


def test_a_quarter_turn_brings_the_front_to_the_right() -> None:
    """Clockwise, as seen from above."""
    assert turned(Reach((1,), (2,), (3,), (4,)), 90) == Reach((4,), (1,), (2,), (3,))


@given(reaches(1), st.sampled_from((0, 90, 180, 270)), st.sampled_from((0, 90, 180, 270)))
def test_turns_add_up(reach: Reach, one: int, other: int) -> None:
    """Two turns are one, and each side shows the edge that is said to be there."""
    assert turned(turned(reach, one), other) == turned(reach, (one + other) % 360)
    for side in EDGES:
        assert at_edge(turned(reach, one), side) == at_edge(reach, own_edge(side, one))


def test_a_stem_lifts_what_is_low() -> None:
    """From 0-14 to 15-29 mm: into the middle and the high band, and out of the low one."""
    assert lifted(Reach((6, None, None), (None,) * 3, (None,) * 3, (None,) * 3), (14, 26), 15).front == (
        None, 6, 6,
    )  # fmt: skip


@given(reaches(3), st.integers(0, 60))
def test_a_stem_never_hides_anything(reach: Reach, stem: int) -> None:
    """Some band has every number that was there, so no claim is lost on two models of one height."""
    after = lifted(reach, (14, 26), stem)
    for edge in EDGES:
        assert max((mm for mm in at_edge(reach, edge) if mm is not None), default=None) == max(
            (mm for mm in at_edge(after, edge) if mm is not None), default=None
        )


@given(reaches(3))
def test_bands_that_are_merged_keep_the_greatest(reach: Reach) -> None:
    """Three bands as one: what four numbers would have been."""
    one = in_bands(reach, (14, 26), ())
    for edge in EDGES:
        there = [mm for mm in at_edge(reach, edge) if mm is not None]
        assert at_edge(one, edge) == (max(there, default=None),)


@given(reaches(1))
def test_one_band_counts_for_all_heights(reach: Reach) -> None:
    """Four numbers among models measured by twelve."""
    assert in_bands(reach, (), (14, 26)).front == reach.front * 3
