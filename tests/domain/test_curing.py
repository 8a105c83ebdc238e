"""What cures until when: by the usual range, by the person's wait, by the person's word."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.answers_curing import curing_of, own_waits
from tracker.domain.cures import Cure, Dried
from tracker.domain.progress import progress_of
from tracker.domain.records import Army, Line, Model, OwnStep, Records, Session, Unit
from tracker.domain.usual_cures import cure_word, usual_cure
from tracker.domain.work import work_left

DAY = date(2026, 3, 10)
TEN = datetime(2026, 3, 10, 22)
"""When a step of that evening counts as finished."""
UNIT = Unit(1, 1, "Spears", route=("priming", "base colours", "varnish"), added_on=date(2026, 3, 1))


def records(*lines: Line, dried: tuple[Dried, ...] = (), **more: object) -> Records:
    models = tuple(Model(n, 1, n, added_on=UNIT.added_on) for n in (1, 2))
    known = Records(
        (Army(1, "Host"),), (UNIT,), models, sessions=(Session(1, DAY),), lines=lines, dried=dried
    )
    return known._replace(**more)  # type: ignore[arg-type] # fields of the record


PRIMED = Line(1, 1, 1, "priming", 2, model_ids=(1, 2))


def test_a_step_cures_between_the_ends_of_its_range() -> None:
    (one,) = curing_of(records(PRIMED), progress_of(records(PRIMED)), TEN)
    # Primer dries 0.5, usually 2, at the latest 24 hours; common practice, no source.
    hours = [(end - TEN) / timedelta(hours=1) for end in (one.low, one.usual, one.high)]
    assert (one.what, one.unit, one.models, one.line_ids, hours) == (
        "priming",
        "Spears",
        2,
        (1,),
        [0.5, 2, 24],
    )
    assert curing_of(records(PRIMED), progress_of(records(PRIMED)), TEN + timedelta(hours=24)) == ()


def test_what_was_painted_over_cures_no_more() -> None:
    over = Line(2, 1, 1, "base colours", 1, finished=False, model_ids=(1,))
    known = records(PRIMED, over)
    assert [(one.what, one.model_ids) for one in curing_of(known, progress_of(known), TEN)] == [
        ("priming", (2,))
    ]


@given(st.integers(-3 * 60, 40 * 60))
@settings(max_examples=40, deadline=None)
def test_a_word_on_it_is_the_wait_wherever_it_is_asked(minutes: int) -> None:
    said = TEN + timedelta(minutes=minutes)
    known = records(PRIMED, dried=(Dried(1, 1, said),))
    progress = progress_of(known)
    assert progress.dry_at(1, "priming") == progress.waits_until(2, "priming") == said
    assert progress.state(1, "priming", said) == "done"
    assert progress.state(1, "priming", said - timedelta(minutes=1)) == "drying"
    assert work_left(known, progress)[0].dry_at["priming"] == said
    assert curing_of(known, progress, said) == ()


def test_a_word_is_of_its_line_alone() -> None:
    again = Line(2, 1, 1, "priming", 1, model_ids=(2,))
    progress = progress_of(records(PRIMED, again, dried=(Dried(1, 1, TEN - timedelta(hours=1)),)))
    assert progress.dry_at(1, "priming") == TEN - timedelta(hours=1)
    assert progress.dry_at(2, "priming") == TEN + timedelta(hours=2)


def test_an_own_wait_is_no_range() -> None:
    known = records(PRIMED, steps=(OwnStep(1, "priming", "priming", 6.0),))
    (one,) = curing_of(known, progress_of(known), TEN)
    assert {one.low, one.usual, one.high} == {TEN + timedelta(hours=6)}
    assert one.is_own


def test_as_of_an_evening_later_words_and_timers_are_unknown() -> None:
    cure = Cure(1, "clay", None, TEN, 12, 36, 72, TEN + timedelta(hours=20))
    late = Dried(1, 1, TEN + timedelta(hours=5))  # 3 in the night: still this evening
    later = Dried(1, 1, TEN + timedelta(hours=7))
    assert records(PRIMED, dried=(late,)).as_of(DAY).dried == (late,)
    assert records(PRIMED, dried=(later,)).as_of(DAY).dried == ()
    known = records(PRIMED, cures=(cure,))
    assert known.as_of(DAY).cures == (cure._replace(ended_at=None),)
    assert known.as_of(DAY - timedelta(days=1)).cures == ()


def test_three_words_make_an_own_wait_two_do_not() -> None:
    ended = [
        Cure(n, "putty", None, TEN, 4, 16, 24, TEN + timedelta(hours=h)) for n, h in ((1, 6), (2, 9), (3, 7))
    ]
    assert own_waits(records(cures=tuple(ended[:2]))) == ()
    (own,) = own_waits(records(cures=tuple(ended)))
    assert (own.what, own.words, own.low_hours, own.median_hours, own.high_hours) == ("putty", 3, 6, 7, 9)


@pytest.mark.parametrize(
    ("said", "word", "hours"),
    [
        ("putty on the captain", "putty", (4, 16, 24)), ("epoxy glue", "epoxy glue", (0.3, 4, 24)),
        ("Clay base", "clay", (12, 36, 72)), ("priming", "priming", (0.5, 2, 24)),
        ("PVA and sand", "pva", (1, 8, 24)), ("mystery", "", None), ("cleaning", "cleaning", None),
    ],
)  # fmt: skip
def test_words_have_usual_ranges(said: str, word: str, hours: tuple[float, ...] | None) -> None:
    # Ranges at 20 degrees and half humidity: common practice of the trade, no source.
    assert (cure_word(said), usual_cure(said)) == (word, hours)
