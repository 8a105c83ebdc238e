"""`lastcoat pace`: the table, one estimate explained, past estimates held against what came of them."""

from __future__ import annotations

import json
import math
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result

from tests.workbench.answering import empty_desk, small_desk
from tracker.cli.main import main
from tracker.domain.rows import EveningRow, RosterRow
from tracker.workbench.adding import add_unit
from tracker.workbench.answers import track_record
from tracker.workbench.desk import Desk
from tracker.workbench.evenings_in import import_evenings

EVENINGS = 60
STEPS = ("cleaning", "assembly", "priming", "base colours", "shade", "highlights")


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    """Sixty evenings of one step each; guesses for highlights run short, the others are kept or not."""
    desk = small_desk(tmp_path_factory.mktemp("desk"))
    add_unit(desk, RosterRow("Captain", 1, "Host", kind="character", added=date(2026, 9, 1)))
    add_unit(desk, RosterRow("Spears", 5, "Other host", added=date(2026, 9, 1)))
    rng = np.random.default_rng(8)
    rows = []
    for evening in range(EVENINGS):
        step = STEPS[evening % len(STEPS)]
        minutes = round(float(40 * np.exp(0.3 * rng.standard_normal())))
        guess = round(minutes / 1.6) if step == "highlights" else minutes if evening % 2 else None
        day = date(2026, 8, 1) + timedelta(days=evening)
        rows.append(EveningRow(day, f"Pikes {evening // 6}", step, "Host", models=5, minutes=minutes,
                               guess_minutes=guess))  # fmt: skip
    import_evenings(desk, rows)
    return desk


def _run(desk: Desk, *args: str) -> Result:
    return CliRunner().invoke(main, ["pace", *args], obj=desk)


def _document(desk: Desk, *args: str) -> dict[str, object]:
    said = _run(desk, *args, "--json")
    assert said.exit_code == 0, said.output
    assert said.stdout == _run(desk, *args, "--json").stdout
    document: dict[str, object] = json.loads(said.stdout)
    return document


def test_why_is_a_product(desk: Desk) -> None:
    said = _run(desk, "--why", "riders", "base coat")
    assert said.exit_code == 0, said.output
    lines = said.stdout.splitlines()
    # Only two riders are left to paint, so the line holds two, fewer than the usual five.
    assert lines[0] == "Riders, base colours: 2 models at a time"
    assert any(line.startswith("x cavalry") for line in lines)
    assert any(line.startswith("x good standard") for line in lines)
    assert any(line.startswith("x 2 at a time, not 5") for line in lines)
    assert max(map(len, lines)) <= 80
    document = _document(desk, "--why", "riders", "base coat")
    factors = document["factors"]
    assert isinstance(factors, list)
    assert [factor["code"] for factor in factors] == [
        "kind", "material", "standard", "batch", "guess", "practice", "unit", "lately",
    ]  # fmt: skip
    plain, middle = document["plain_minutes_per_model"], document["middle_minutes_per_model"]
    assert isinstance(plain, float)
    assert plain * math.prod(factor["times"] for factor in factors) == pytest.approx(middle, rel=1e-4)


def test_a_unit_of_one_is_never_done_in_fives(desk: Desk) -> None:
    assert _run(desk, "--why", "Captain", "shade").stdout.startswith("Captain, shade: 1 model at a time")


def test_a_step_behind_every_model_is_explained_from_the_first(desk: Desk) -> None:
    document = _document(desk, "--why", "Spears", "priming", "--army", "Host")
    factors = document["factors"]
    assert isinstance(factors, list)
    assert document["models"] == 4
    assert {factor["code"]: factor["times"] for factor in factors}["practice"] == 1


def test_a_unit_that_only_evenings_know_has_the_usual_number(desk: Desk) -> None:
    assert _run(desk, "--why", "Pikes 0", "shade").stdout.startswith("Pikes 0, shade: 5 models at a time")


def test_what_the_log_does_not_know_is_the_trades(desk: Desk) -> None:
    text = _run(desk, "--why", "Riders", "tufts").stdout
    assert "The trade's tufts, a plain model" in text
    assert "the trade's minutes stand in: tufts" in text


@pytest.mark.parametrize(
    ("args", "status", "line"),
    [
        (["--why", "Rider", "shade"], 1, '--why: there is no unit "Rider". Did you mean "Riders"?'),
        (["--why", "Qqq", "shade"], 1, '--why: there is no unit "Qqq". Add it: lastcoat add'),
        (["--why", "Riders", "shadee"], 1, '--why: "shadee" is no step of "Riders". Did you mean "shade"'),
        (["--why", "Spears", "shade"], 1, '"Spears" stands in more than one army. Say --army "Host" or'),
        (["--why", "Riders", "shade", "--army", "Other host"], 1, '--army: "Riders" is not in "Other host".'),
        (["--why", "Riders", "shade", "--track-record"], 2, "Ask one at a time"),
        (["--army", "Host"], 2, "--army: it goes with --why."),
        (["--why", "Riders"], 2, "--why"),
    ],
)
def test_what_cannot_be_is_one_line_and_a_status(desk: Desk, args: list[str], status: int, line: str) -> None:
    said = _run(desk, *args)
    assert said.exit_code == status
    assert said.stdout == ""
    assert line in said.stderr
    assert len(said.stderr.strip().splitlines()) == 1


def test_an_army_tells_two_units_apart(desk: Desk) -> None:
    assert _run(desk, "--why", "Spears", "shade", "--army", "other host").exit_code == 0


def test_track_record(desk: Desk) -> None:
    said = _run(desk, "--track-record")
    assert said.exit_code == 0, said.output
    assert max(map(len, said.stdout.splitlines())) <= 80
    assert "The 80 % ranges held " in said.stdout
    assert "would be luck" in said.stdout
    assert "Against your own guesses" in said.stdout
    document = _document(desk, "--track-record")
    tenths, count = document["tenths"], document["estimates"]
    assert isinstance(tenths, list)
    assert sum(tenths) == count
    assert document["doubts"] == []


def test_a_track_record_is_worked_out_once_while_nothing_changes(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = track_record(desk)
    assert first.tenths_luck != (0, 0) != first.totals_luck

    def never(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr("tracker.pace.track_record.track_record", never)
    assert track_record(desk) == first
    with pytest.raises(AssertionError):
        track_record(desk, seed=2)


def test_a_short_log_has_no_track_record(tmp_path: Path) -> None:
    for here in (small_desk(tmp_path / "short"), empty_desk(tmp_path)):
        assert "Too little history" in _run(here, "--track-record").stdout
        document = _document(here, "--track-record")
        assert (document["estimates"], document["held"]) == (0, [])
        doubts = document["doubts"]
        assert isinstance(doubts, list)
        assert [doubt["code"] for doubt in doubts] == ["little-history"]


def test_the_track_record_of_a_past_day_knows_no_more_than_that_day_did(desk: Desk) -> None:
    early = _document(desk, "--track-record", "--as-of", "2026-09-01")
    late = _document(desk, "--track-record")
    assert isinstance(early["estimates"], int)
    assert isinstance(late["estimates"], int)
    assert 0 < early["estimates"] < late["estimates"]


def test_guesses_are_told(desk: Desk) -> None:
    said = _run(desk).stdout
    assert "Your guesses (" in said
    assert "Guessed shortest: highlights (1.6 times as long)." in " ".join(said.split())
    guesses = _document(desk)["guesses"]
    assert isinstance(guesses, dict)
    by_step = {one["step"]: one for one in guesses["steps"]}
    assert by_step["highlights"]["guesses"] == 10
    # Minutes and guesses are whole numbers, so their ratio is only about what was made.
    assert by_step["highlights"]["times"] == pytest.approx(1.6, abs=0.03)


def test_the_estimate_shows_the_guess_beside_the_range(desk: Desk) -> None:
    args = ["estimate", "--unit", "Riders", "--step", "shade", "--models", "2", "--guess", "30"]
    said = CliRunner().invoke(main, args, obj=desk)
    assert said.exit_code == 0, said.output
    assert "Your guess" in said.stdout
    assert said.stdout.splitlines()[2].endswith("30 min")
    document = json.loads(CliRunner().invoke(main, [*args, "--json"], obj=desk).stdout)
    assert document["lines"][0]["guess_minutes"] == 30
