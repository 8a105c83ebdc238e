"""Commands that answer: words or one JSON document, the same twice, kind when there is nothing yet."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from demo_db.army import LAST_DAY
from tests.workbench.answering import empty_desk, small_desk
from tracker.cli.main import main
from tracker.workbench.desk import Desk

LEVELS = [str(level) for level in range(5, 100, 5)]


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Desk:
    return small_desk(tmp_path_factory.mktemp("desk"))


def _run(desk: Desk, *args: str) -> Result:
    return CliRunner().invoke(main, args, obj=desk)


COMMANDS = [
    ("forecast", "--draws", "200"),
    ("forecast", "--track-record"),
    ("backlog", "--draws", "200"),
    ("pace",),
    ("estimate", "--unit", "Spears", "--step", "shade", "--models", "3"),
    ("ready",),
]


@pytest.mark.parametrize("args", COMMANDS, ids=lambda args: args[0])
def test_words_fit_and_json_is_one_document_and_repeats(desk: Desk, args: tuple[str, ...]) -> None:
    said = _run(desk, *args)
    assert said.exit_code == 0, said.output
    assert max(map(len, said.stdout.splitlines())) <= 80
    one, other = _run(desk, *args, "--json"), _run(desk, *args, "--json")
    assert one.stdout == other.stdout
    document = json.loads(one.stdout)
    assert document["as_of"] == "2026-10-31"
    assert "doubts" in document
    assert one.stderr == ""


@pytest.mark.parametrize("args", COMMANDS, ids=lambda args: args[0])
def test_an_empty_log_gets_a_kind_line_and_valid_json(tmp_path: Path, args: tuple[str, ...]) -> None:
    nothing = empty_desk(tmp_path)
    said = _run(nothing, *args)
    assert said.exit_code == 0, said.output
    assert said.stdout.strip()
    assert json.loads(_run(nothing, *args, "--json").stdout)["as_of"] == "2026-10-31"


def test_nothing_planned_names_the_command_to_begin_with(tmp_path: Path) -> None:
    for args in (["forecast"], ["backlog"], ["ready"], []):
        assert "lastcoat add" in _run(empty_desk(tmp_path), *args).stdout


def test_bare_is_what_is_ready(desk: Desk) -> None:
    assert _run(desk).stdout == _run(desk, "ready").stdout
    assert "base colours" in _run(desk).stdout


def test_as_of_and_seed_are_in_the_answer(desk: Desk) -> None:
    document = json.loads(
        _run(desk, "forecast", "--as-of", "2026-10-08", "--seed", "9", "--draws", "300", "--json").stdout
    )
    assert (document["as_of"], document["seed"], document["draws"]) == ("2026-10-08", 9, 300)
    assert list(document["units"][0]["ready"]) == LEVELS


def test_a_planned_sheet(desk: Desk, tmp_path: Path) -> None:
    text = "army,unit,step,models,guess_minutes\nHost,Spears,shade,4,\nElsewhere,Strangers,Bug,2,30\n"
    (tmp_path / "planned.csv").write_text(text, encoding="utf-8")
    one = _run(desk, "estimate", "--sheet", str(tmp_path / "planned.csv"), "--json")
    document = json.loads(one.stdout)
    assert [(x["unit"], x["step"], x["models"]) for x in document["lines"]] == [
        ("Spears", "shade", 4), ("Strangers", "Bug", 2),
    ]  # fmt: skip
    assert list(document["total"]["minutes"]) == LEVELS
    assert "All together" in _run(desk, "estimate", "--sheet", str(tmp_path / "planned.csv")).stdout


@pytest.mark.parametrize(
    ("args", "status"),
    [
        (["estimate"], 2),
        (["estimate", "--unit", "Spears"], 2),
        (["estimate", "--unit", "Spears", "--step", "  "], 2),
        (["estimate", "--sheet", "x.csv", "--unit", "Spears"], 2),
        (["estimate", "--unit", "Spears", "--step", "shade", "--models", "0"], 2),
        (["estimate", "--sheet", "no/such/file.csv"], 1),
        (["report", "no/such/folder/page.html", "--draws", "100"], 1),
        (["report", "."], 2),
        (["forecast", "--as-of", "2026-02-30"], 2),
        (["forecast", "--draws", "0"], 2),
        (["forecast", "--track-record", "--fan"], 2),
    ],
)
def test_what_cannot_be_is_one_line_and_a_status(desk: Desk, args: list[str], status: int) -> None:
    said = _run(desk, *args)
    assert said.exit_code == status
    assert said.stdout == ""
    assert len(said.stderr.strip().splitlines()) == 1


def test_the_report_says_where_it_is(desk: Desk, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    said = _run(desk, "report", str(page), "--draws", "200")
    assert said.stdout == f"Wrote {page}\n"
    assert page.exists()


def test_the_demo(tmp_path: Path) -> None:
    own = empty_desk(tmp_path / "own")
    said = _run(own, "demo", "--folder", str(tmp_path / "demo"))
    assert said.exit_code == 0, said.output
    text = said.stdout
    assert max(map(len, text.splitlines()[:-1])) <= 90
    for words in (
        "One more evening:",
        "Old Pondback",
        "All of Barleywick",
        "Backlog, as of 31 Oct 2026",
    ):
        assert words in text
    assert (tmp_path / "demo" / "demo.html").read_text(encoding="utf-8").startswith("<!doctype html>")
    assert not Path(own.path).exists(), "the person's own log is not touched"
    records = Desk(str(tmp_path / "demo" / "demo.db")).records()
    assert max(session.date for session in records.sessions) == LAST_DAY
    assert sum(model.left_how == "sold" for model in records.models) == 8
    assert max(unit.added_on for unit in records.units) < LAST_DAY - timedelta(days=30)
    again = _run(own, "demo", "--folder", str(tmp_path / "demo"))
    assert (again.exit_code, again.stdout) == (1, "")
    assert "already" in again.stderr


def test_the_demo_takes_a_fresh_folder_by_itself(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    assert _run(empty_desk(tmp_path), "demo").exit_code == 0
    (folder,) = tmp_path.glob("lastcoat-demo-*")
    assert {path.name for path in folder.iterdir()} >= {"demo.db", "demo.html"}


def test_the_demos_log_is_what_the_builder_knows(tmp_path: Path) -> None:
    from demo_db.builder import SHIPPED_SEED, build
    from demo_db.records import to_records
    from tracker.domain.work import work_left
    from tracker.workbench.demo import make_demo

    stored = work_left(make_demo(tmp_path / "demo").records())
    built = work_left(to_records(build(SHIPPED_SEED)))
    for one, other in ((stored, built), (built, stored)):
        left = {(u.unit.name, line.step): (line.models, line.in_hand) for u in one for line in u.lines}
        assert left == {
            (u.unit.name, line.step): (line.models, line.in_hand) for u in other for line in u.lines
        }


def test_bare_needs_nothing_heavy(desk: Desk) -> None:
    script = (
        "import sys; from tracker.cli.main import main\n"
        f"sys.argv = ['lastcoat', '--db', {desk.path!r}]\n"
        "try: main()\nexcept SystemExit: pass\n"
        "print(sorted({'numpy', 'scipy', 'plotly', 'jinja2', 'sqlite_utils', 'textual'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
