"""A short run of the fuzzer over every reader; the longer one is told in `fuzz.py`."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.faults.fuzz import CORPUS, bent, blind, fuzz, names, seeds_of, target_named

GUIDED = ("evenings", "sentence")
"""Started in processes of their own, which cost a second or two each; the others are bent blindly here."""
FINDINGS: tuple[tuple[str, bytes], ...] = (
    ("recipe", b'rim: "a, b" 1f??\nfa: pink + e 1:1:3 thinned with wate\x9a, matt varnish'),
    ("recipe", b'rim: "a, b"?'),
    ("recipe", b"face: matt varnish 1:1:3 thinned with water"),
    ("recipe", b"face: matt varnish thinned with water"),
    ("recipe", b'" [a: "g"""""""""""""""'),
    ("recipe", b"trim: gold; tRim: old"),
    ("recipes", b"recipe,area,place,paint\nCloaks,cloth,,red\n"),
    ("money", b"1,0250EUR"),
    ("rule", b"FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30"),
    ("rule", b"FREQ=DAILY;BYSETPOS=366"),
    ("rule", b"FREQ=DAILY;BYEASTER=500"),
    ("rule", b"FREQ=DAILY;BYHOUR=1,2,3"),
    ("rule", b"FREQ=WEEKLY;UNTIL=20270101T000000ZR"),
    ("roster", b"unit,models,steps,finish_line\nTom,7,assem\0\0nks; dots,assemks\n"),
    ("restored", b"\xb7\xf4\xfc\xf4\x90=\x03"),
)
"""What was found and mended: bytes that once broke a promise."""


@pytest.mark.parametrize(("target", "data"), FINDINGS)
def test_what_was_found_stays_mended(tmp_path: Path, target: str, data: bytes) -> None:
    target_named(target, tmp_path)(data)


@pytest.mark.parametrize("target", GUIDED)
def test_bytes_bent_under_the_eyes_of_the_fuzzer(tmp_path: Path, target: str) -> None:
    done = fuzz(target, 1, tmp_path)
    print(done)  # noqa: T201 - measured
    assert done.finding == ""
    assert done.runs > 0


@pytest.mark.parametrize("target", names())
def test_bytes_bent_blindly(tmp_path: Path, target: str) -> None:
    assert blind(target, 0.5, tmp_path, 7) > 0
    assert not list(tmp_path.glob("crash-*"))


def test_every_target_has_a_small_corpus() -> None:
    for target in names():
        assert seeds_of(target), target
    assert sum(path.stat().st_size for path in CORPUS.iterdir()) < 100_000


def test_bytes_are_bent_the_same_way_again() -> None:
    seeds = seeds_of("evenings")
    one, other = ([bent(Random(3), seeds) for _ in range(20)] for _ in range(2))
    assert one == other
