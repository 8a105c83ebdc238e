"""A learned pace as bytes and back: nothing is lost, and what is no pace is none, without an error.

What is kept follows the product's own rules, no outside source.
"""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from tests.builders import STEPS, planned, steady_blocks
from tracker.domain.records import Records
from tracker.pace import learn
from tracker.pace.blocks import Block
from tracker.pace.fit import fit
from tracker.pace.kept import from_bytes, to_bytes
from tracker.pace.pace import Pace

Arrays = dict[str, Any]


def with_everything() -> Pace:
    """A pace that has guesses, round figures, an odd evening, a drift and wider ranges."""
    rng = np.random.default_rng(3)
    blocks = []
    for block in steady_blocks(60, rng):
        line = block.lines[0]._replace(guess_minutes=round(block.minutes * float(rng.uniform(0.5, 1.2))))
        blocks.append(Block((line,), max(5.0, 5.0 * round(block.minutes / 5)), block.evening))
    blocks[30] = blocks[30]._replace(minutes=40 * blocks[30].minutes)
    return fit(blocks)._replace(stretch=1.25)


@pytest.fixture(scope="module")
def pace() -> Pace:
    return with_everything()


@pytest.fixture(scope="module")
def small() -> bytes:
    return to_bytes(fit(steady_blocks(10, np.random.default_rng(1))))


def assert_same(one: object, other: object, where: str) -> None:
    """Equal to the last bit, type for type, arrays and records included."""
    assert type(one) is type(other), where
    if isinstance(one, np.ndarray) and isinstance(other, np.ndarray):
        assert one.dtype == other.dtype, where
        assert np.array_equal(one, other), where
    elif isinstance(one, tuple) and isinstance(other, tuple):
        assert len(one) == len(other), where
        for i, (a, b) in enumerate(zip(one, other, strict=True)):
            assert_same(a, b, f"{where}.{getattr(one, '_fields', range(len(one)))[i]}")
    elif isinstance(one, dict) and isinstance(other, dict):
        assert one.keys() == other.keys(), where
        for name, value in one.items():
            assert_same(value, other[name], f"{where}.{name}")
    else:
        assert one == other, where


def rewritten(kept: bytes, change: Callable[[Arrays, Arrays], object]) -> bytes:
    """The kept bytes with their arrays or the document beside them changed, otherwise in order."""
    with np.load(io.BytesIO(kept)) as members:
        arrays = dict(members)
    rest = json.loads(arrays["rest"].tobytes())
    change(arrays, rest)
    arrays["rest"] = np.frombuffer(json.dumps(rest).encode(), dtype=np.uint8)
    out = io.BytesIO()
    np.savez(out, **arrays)
    return out.getvalue()


def test_the_example_has_every_part(pace: Pace) -> None:
    assert pace.guess is not None
    assert pace.heaps is not None
    assert pace.odd_evenings
    assert pace.columns is not None
    assert pace.columns.periods > 1
    assert pace.grain_minutes == 5.0


def test_every_field_comes_back(pace: Pace) -> None:
    assert_same(from_bytes(to_bytes(pace)), pace, "pace")


def test_a_pace_without_a_log_comes_back() -> None:
    pace = learn(Records())
    assert_same(from_bytes(to_bytes(pace)), pace, "pace")


def test_changed_beliefs_come_back(pace: Pace) -> None:
    priors = pace.priors._replace(drift_memory=0.8, unit=pace.priors.unit._replace(sd=0.3))
    again = from_bytes(to_bytes(pace._replace(priors=priors)))
    assert again is not None
    assert_same(again.priors, priors, "priors")


def test_the_same_pace_is_the_same_bytes(pace: Pace) -> None:
    kept = to_bytes(pace)
    again = from_bytes(kept)
    assert again is not None
    assert to_bytes(again) == kept == to_bytes(with_everything())


def test_the_next_search_may_begin_from_a_kept_pace(pace: Pace) -> None:
    blocks = steady_blocks(64, np.random.default_rng(3))
    one, other = fit(blocks, start=pace), fit(blocks, start=from_bytes(to_bytes(pace)))
    asked = [planned("spears", step) for step in STEPS]
    first, second = (found.draw(asked, np.random.default_rng(1), 64) for found in (one, other))
    assert np.array_equal(first, second)


@pytest.mark.parametrize("blob", [b"", b"PK", b"{}", b"\x93NUMPY\x01\x00", b"\x80\x04K\x01.", bytes(999)])
def test_what_is_no_pace_is_none(blob: bytes) -> None:
    assert from_bytes(blob) is None


def test_a_single_array_is_none() -> None:
    out = io.BytesIO()
    np.save(out, np.zeros(3))
    assert from_bytes(out.getvalue()) is None


def test_an_archive_of_other_things_is_none() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("note.txt", "no pace")
    assert from_bytes(out.getvalue()) is None


def test_bytes_cut_short_are_none(small: bytes) -> None:
    for size in np.linspace(0, len(small) - 1, 60).astype(int).tolist():
        assert from_bytes(small[:size]) is None


def test_a_flipped_bit_gives_the_pace_or_none_and_never_another(small: bytes) -> None:
    # Where the archive describes itself and its first array: that is where damage is not just a number.
    first, last = range(300), range(len(small) - 700, len(small))
    for place in [*first, *last, *range(300, len(small) - 700, 4001)]:
        damaged = bytearray(small)
        damaged[place] ^= 1 << place % 8
        again = from_bytes(bytes(damaged))
        assert again is None or to_bytes(again) == small, place


def test_an_array_that_lost_rows_is_none(small: bytes) -> None:
    # 1024 draws that say they are 1020: readable, and yet not what was kept.
    assert b"(1024," in small
    assert from_bytes(small.replace(b"(1024,", b"(1020,", 1)) is None


@pytest.mark.parametrize(
    "change",
    [
        lambda arrays, _: arrays.pop("effects"),
        lambda _, rest: rest.pop("upper"),
        lambda _, rest: rest.update(priors=[1]),
        lambda _, rest: rest["priors"].update(unheard_of=1.0),
        lambda _, rest: rest.update(columns=5),
        lambda _, rest: rest.update(odd_evenings=[1]),
        lambda _, rest: rest.update(group_names=None),
    ],
)
def test_a_pace_of_another_form_is_none(small: bytes, change: Callable[[Arrays, Arrays], object]) -> None:
    assert from_bytes(rewritten(small, lambda _arrays, _rest: None)) is not None
    assert from_bytes(rewritten(small, change)) is None


def test_nothing_kept_can_run(small: bytes) -> None:
    # An array of objects is pickled, and unpickling can run anything (Python's manual, module pickle).
    with np.load(io.BytesIO(small)) as members:
        arrays = dict(members)
    arrays["effects"] = np.array([{"a": 1}], dtype=object)
    out = io.BytesIO()
    np.savez(out, **arrays)
    assert from_bytes(out.getvalue()) is None
