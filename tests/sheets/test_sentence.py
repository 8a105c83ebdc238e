"""Plain sentences: what they mean, and what is said where they cannot be told.

Tuesday 2026-03-10 is today (ISO 8601 calendar). Which word means which step is common practice, no source.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.domain.problems import Problem
from tracker.domain.steps import CATALOGUE
from tracker.sheets.names import errors_between, fold, stem
from tracker.sheets.sentence import Sentence, UnitName, read_sentence

TODAY = date(2026, 3, 10)
YESTERDAY = date(2026, 3, 9)
UNITS = (
    UnitName("Spears"), UnitName("Riders"), UnitName("Captain"), UnitName("Old Spears"),
    UnitName("Guard of the Gate"), UnitName("Gate Archers"), UnitName("7th Riders"), UnitName("Swordsmen"),
    UnitName("🐉"), UnitName("Bows", "North"), UnitName("Bows", "South"), UnitName("King's Wolves"),
)  # fmt: skip
SPEARS, CAPTAIN, GUARD = "Spears", "Captain", "Guard of the Gate"
MARCH_4 = date(2026, 3, 4)
STEPS = (*CATALOGUE, "Stippling", "coat 2")


def read(text: str, units: Sequence[tuple[str, str]] = UNITS, **more: Any) -> Sentence | Problem:
    return read_sentence(text, units, STEPS, TODAY, **more)


def understood(text: str, units: Sequence[tuple[str, str]] = UNITS, **more: Any) -> Sentence:
    sentence = read(text, units, **more)
    assert isinstance(sentence, Sentence), sentence
    return sentence


def refused(text: str, units: Sequence[tuple[str, str]] = UNITS, **more: Any) -> str:
    problem = read(text, units, **more)
    assert isinstance(problem, Problem), problem
    assert problem.mend
    return str(problem)


@pytest.mark.parametrize(
    ("text", "unit", "step", "said"),
    [
        ("washed 10 spears, 50 min", SPEARS, "washing", {"models": 10, "minutes": 50}),
        ("primed 8 riders yesterday", "Riders", "priming", {"models": 8, "day": YESTERDAY}),
        (
            "30 min highlights captain not finished",
            "Captain",
            "highlights",
            {"minutes": 30, "finished": False},
        ),
        ("1h20 layering spears", SPEARS, "layering", {"minutes": 80}),
        ("layering spears 1 h 20", SPEARS, "layering", {"minutes": 80}),
        ("layering spears, 1 h 20 min", SPEARS, "layering", {"minutes": 80}),
        ("layering spears 1 hour and 20 minutes", SPEARS, "layering", {"minutes": 80}),
        ("layering 1 h 20 spears", SPEARS, "layering", {"minutes": 60, "models": 20}),
        ("shade 7 of 12 spears 1 1/2 h", SPEARS, "shade", {"models": 7, "minutes": 90}),
        ("shade 7/12 spears 1½h", SPEARS, "shade", {"models": 7, "minutes": 90}),
        ("shade spears x7 1.5 hours", SPEARS, "shade", {"models": 7, "minutes": 90}),
        ("shade 7x spears 1,5 hrs", SPEARS, "shade", {"models": 7, "minutes": 90}),
        ("90m varnish riders on tuesday", "Riders", "varnish", {"minutes": 90, "day": TODAY}),
        ("varnished riders last tuesday", "Riders", "varnish", {"day": date(2026, 3, 3)}),
        ("varnished riders on wed", "Riders", "varnish", {"day": date(2026, 3, 4)}),
        ("Monday evening: varnished riders", "Riders", "varnish", {"day": YESTERDAY}),
        ("varnished riders last night", "Riders", "varnish", {"day": YESTERDAY}),
        ("varnished riders the day before yesterday", "Riders", "varnish", {"day": date(2026, 3, 8)}),
        ("varnished riders 3 days ago", "Riders", "varnish", {"day": date(2026, 3, 7)}),
        ("varnished riders a week ago", "Riders", "varnish", {"day": date(2026, 3, 3)}),
        ("tonight varnished riders", "Riders", "varnish", {"day": TODAY}),
        (
            "1h30 base colours guard 2026-03-04",
            "Guard of the Gate",
            "base colours",
            {"day": date(2026, 3, 4)},
        ),
        ("guess 40 min, 50 min details captain", CAPTAIN, "details", {"guess_minutes": 40, "minutes": 50}),
        ("details captain 50 min thought 1 h", CAPTAIN, "details", {"guess_minutes": 60, "minutes": 50}),
        ("details captain 50 min guessed 40", CAPTAIN, "details", {"guess_minutes": 40, "minutes": 50}),
        (
            "details captain 50 min, 40 min guessed",
            "Captain",
            "details",
            {"guess_minutes": 40, "minutes": 50},
        ),
        ("eyes captain, I thought it would take 20 min", CAPTAIN, "details", {"guess_minutes": 20}),
        ("half an hour on the eyes of the captain", CAPTAIN, "details", {"minutes": 30}),
        ("an hour and a half of layering on spears", SPEARS, "layering", {"minutes": 90}),
        ("layering spears three quarters of an hour", SPEARS, "layering", {"minutes": 45}),
        ("layering spears twenty minutes", SPEARS, "layering", {"minutes": 20}),
        ("layering three spears", SPEARS, "layering", {"models": 3}),
        ("layering a dozen spears", SPEARS, "layering", {"models": 12}),
        ("layering half a dozen spears", SPEARS, "layering", {"models": 6}),
        ("layering both riders", "Riders", "layering", {"models": 2}),
        ("layering 0 spears 20 min", SPEARS, "layering", {"models": 0, "minutes": 20}),
        ("primed all riders", "Riders", "priming", {"all_left": True, "models": None}),
        ("primed the rest of the old spears", "Old Spears", "priming", {"all_left": True}),
        ("primed the captain: note: 2 coats, 3 thin", "Captain", "priming", {"note": "2 coats, 3 thin"}),
        ("note: washed 10 spears. primed", "", "", None),
        ("spears shade still in hand 20 min", SPEARS, "shade", {"finished": False}),
        ("spears shade half-done", SPEARS, "shade", {"finished": False}),
        ("spears shade isn't done", SPEARS, "shade", {"finished": False}),
        ("finished shade on spears", SPEARS, "shade", {"finished": True}),
        ("PRIMED 10 SPEARS", SPEARS, "priming", {"models": 10}),
        ("primed 1 spear", SPEARS, "priming", {"models": 1}),
        ("primed 3 swordsman", "Swordsmen", "priming", {"models": 3}),
        ("primed kings wolf", "King's Wolves", "priming", {}),
        ("primed king’s wolves", "King's Wolves", "priming", {}),
        ("primed 7th riders 10 min", "7th Riders", "priming", {"models": None, "minutes": 10}),
        ("primed 5 7th riders", "7th Riders", "priming", {"models": 5}),
        ("primed 🐉 for an hour", "🐉", "priming", {"minutes": 60}),
        ("primed archers", "Gate Archers", "priming", {}),
        ("primed sword", "Swordsmen", "priming", {}),
        ("varn 5 spears", SPEARS, "varnish", {"models": 5}),
        ("prime 10 spears", SPEARS, "priming", {}),
        ("ranked up riders", "Riders", "ranking up", {}),
        ("stippled 5 spears", SPEARS, "Stippling", {"models": 5}),
        ("coat 2 on 5 spears", SPEARS, "coat 2", {"models": 5}),
        ("coat 2 spears 10 min", SPEARS, "coat 2", {"models": None, "minutes": 10}),
        ("primd 8 ridrs", "Riders", "priming", {"models": 8}),
        ("highlihgts captian 20 min", CAPTAIN, "highlights", {"minutes": 20}),
        ("washd spaers", SPEARS, "washing", {}),
        ("wash on 10 spears", SPEARS, "shade", {"models": 10}),
        ("washing 10 spears", SPEARS, "washing", {"models": 10}),
        ("mould lines riders", "Riders", "cleaning", {}),
    ],
)
def test_sentences(text: str, unit: str, step: str, said: dict[str, object] | None) -> None:
    if said is None:
        assert "no step is said" in refused(text)
        return
    sentence = understood(text)
    assert (sentence.unit, sentence.step) == (unit, step)
    for field, value in said.items():
        assert getattr(sentence, field) == value, field


@pytest.mark.parametrize(
    ("text", "what", "mend"),
    [
        ("", "nothing is said", "washed 10 spears"),
        ("   ", "nothing is said", "washed 10 spears"),
        ("spears", "no step is said", "primed"),
        ("50 min", "no step is said", "primed"),
        ("primed 10 min", "no unit is said", "Spears"),
        ("spears shields done", 'no step "shields"', 'Did you mean "shade"?'),
        ("spears qqqq", 'no step "qqqq"', "add this one to the unit's route"),
        ("primed wolverines", 'no unit "wolverines"', "Wolves"),
        ("primed qqqq", 'no unit "qqqq"', "Add the unit first"),
        ("primed and varnished spears", 'two steps are said: "priming" and "varnish"', "one line for each"),
        ("primed spears and riders", 'two units can be meant: "Spears" and "Riders"', "one unit at a time"),
        ("primed gate", 'two units can be meant: "Guard of the Gate" and "Gate Archers"', "more of the name"),
        ("primed Old Spears and Gate Archers", "two units can be meant", "one unit"),
        ("primed bows", 'a unit "Bows" in "North" and "South"', "Say the army too"),
        ("primed blue spears", '"blue" is not understood', "note:"),
        ("primed blue old spears", '"blue" is not understood', "note:"),
        ("10 min each priming spears", '"each" is not understood', "note:"),
        ("primed spears 10 min 20 min", 'two times are said: "10 min" and "20 min"', "one line"),
        ("primed spears guess 10 guess 20", "two guesses are said", "Say one"),
        ("primed 10 spears 50", 'two counts are said: "10" and "50"', "minutes with min"),
        ("primed spears yesterday today", "two days are said", "one evening"),
        ("primed spears 1:20", "is not understood", "note:"),
        ("primed spears 5-7", "is not understood", "note:"),
        ("primed spears -5 min", '"-5" is below zero', "above 0"),
        ("primed -5 spears", '"-5" is below zero', "above 0"),
        ("primed spears 0 min", '"0 min" is no time', "1440"),
        ("primed spears 25 h", '"25 h" is no time', "1440"),
        ("primed spears guess 0", "is no time", "more than 0"),
        ("primed 20000 spears", "are too many", "10000"),
        ("primed 12 of 7 spears", "more than there are", "Check"),
        ("primed spears 2026-02-30", "2026-02-30 does not exist", "2026-03-04"),
        ("primed spears 2026-3-4", "does not exist", "2026-03-04"),
        ("primed spears 2026-03-11", "lies in the future", "once they have been"),
        ("primed spears 4/3/2026", '"4/3/2026" is not clear', "2026-03-04"),
        ("primed spears 99999 days ago", "too far back", "2026-03-04"),
        ("x" * 5000, "5000 letters", "4000"),
        ("spears " * 100, "100 words", "note:"),
    ],
)
def test_refusals(text: str, what: str, mend: str) -> None:
    line = refused(text)
    assert line.startswith("the sentence: ")
    assert what in line
    assert mend in line


def test_an_army_tells_units_of_one_name_apart() -> None:
    assert understood("primed south bows").army == "South"
    two = (UnitName("Old Bows", "North"), UnitName("Old Bows", "South"))
    assert understood("primed old bows north", two).army == "North"
    assert "Say the army too" in refused("primed old bows", two)


def test_the_route_decides_what_washed_means() -> None:
    assert understood("washed spears", route_of=lambda _: ("priming", "shade")).step == "shade"
    assert understood("wash spears", route_of=lambda _: ("washing", "priming")).step == "washing"
    assert understood("washed spears", route_of=lambda _: ("washing", "shade")).step == "washing"


def test_own_words_win() -> None:
    assert understood("washed spears", own_words={"washed": "shade"}).step == "shade"
    assert understood("zapped spears", own_words={"zapped": "priming"}).step == "priming"
    assert "no step" in refused("zapped spears", own_words={"zapped": "unknown"})


def test_the_only_unit_need_not_be_said() -> None:
    assert understood("primed 10, 20 min", [UnitName("Spears")]).unit == "Spears"
    assert "Add a unit first" in refused("primed 10, 20 min", [])


def test_two_steps_that_share_a_beginning() -> None:
    text = "sea spears"
    assert understood(text).step == "sealing"
    coats = ("coat one", "coat two")
    two = read_sentence("coat spears", UNITS, coats, TODAY)
    assert isinstance(two, Problem)
    assert 'can mean the steps "coat one" and "coat two"' in two.what
    one = read_sentence("coat one on two spears", UNITS, coats, TODAY)
    assert isinstance(one, Sentence)
    assert (one.step, one.models) == ("coat one", 2)
    told = read_sentence("coat spears", UNITS, coats, TODAY, route_of=lambda _: ["coat two"])
    assert isinstance(told, Sentence)
    assert told.step == "coat two"


def test_what_was_understood_in_one_harmless_line() -> None:
    sentence = understood("washed 1 spear, 1 h, guess 40 min, not finished, note: a\x1b[2J\nb")
    assert sentence.words() == (
        "Spears (My army): washing, 1 model, 60 min, guessed 40 min, 2026-03-10, not finished, "
        "note: a\\x1b[2J\\x0ab"
    )
    assert "all that are left" in understood("primed all spears").words()


def test_typing_errors_by_length() -> None:
    # Optimal string alignment (Boytsov 2011): a swap of neighbours counts once.
    assert errors_between("spaers", "spears") == 1
    assert errors_between("eye", "dye") is None
    assert errors_between("highlihgst", "highlights") == 2
    assert errors_between("spears", "shields") is None


def test_folding_and_stems() -> None:
    assert [fold(word) for word in (SPEARS, "Éclair", "wolves", "GLASS", "men")] == [
        "spear", "eclair", "wolf", "glass", "men",
    ]  # fmt: skip
    assert stem("pinned") == stem("pinning") == "pin"


HOSTILE = (
    "=1+1",
    "[red]x[/red]",
    "<script>",
    'a "quote", b',
    "رماة",
    "x" * 500,
    "\x1b[2J",
    "(a|b)*+?\\",
    "\u202ex",
)


@pytest.mark.parametrize("name", HOSTILE)
def test_any_unit_name_can_be_said(name: str) -> None:
    assert understood(f"primed {name} 10 min", [UnitName(name), UnitName("Spears")]).unit == name


@settings(deadline=None, max_examples=150)
@given(
    st.lists(
        st.sampled_from(
            ["primed", "10", "spears", "min", "h", "1/2", "of", "not", "done", "guess", "-", "on"]
        )
        | st.text(max_size=8),
        max_size=12,
    ).map(" ".join)
)
def test_any_text_is_a_sentence_or_one_clear_line(text: str) -> None:
    said = read(text)
    line = said.words() if isinstance(said, Sentence) else str(said)
    assert line.isprintable() or any(ord(sign) > 127 for sign in line)


def test_nothing_heavy_is_imported_for_a_plain_sentence() -> None:
    program = (
        "import sys; from datetime import date\n"
        "from tracker.sheets.sentence import read_sentence\n"
        "today = date(2026, 3, 10)\n"
        "print(read_sentence('primed spears', [('Spears', 'My army')], ['priming'], today).step)\n"
        "heavy = {'rapidfuzz', 'numpy', 'csv', 'difflib', 'sqlite3'}\n"
        "print(sorted({name.split('.')[0] for name in sys.modules} & heavy))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.split("\n")[:2] == ["priming", "[]"]


def test_typing_errors_import_no_numpy() -> None:
    program = (
        "import sys; from tracker.sheets.names import errors_between\n"
        "print(errors_between('spaers', 'spears'), 'numpy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "1 False"
