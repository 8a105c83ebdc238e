"""The writing commands: their lines, their exit status, and that a refusal stores nothing."""

from __future__ import annotations

import errno
import json
import os
import stat
import subprocess
import sys
from pathlib import Path

import click
import pytest
from click.testing import CliRunner, Result

from tests.desks import a_desk, with_spears
from tracker.cli.common import INTERRUPTED, help_text, run_verb, say
from tracker.cli.main import COMMANDS, main
from tracker.domain.text import printable
from tracker.workbench.desk import Desk
from tracker.workbench.whole import export_document

LASTCOAT = [sys.executable, "-m", "tracker.cli.main"]
HEADER = "date,unit,step,models,minutes\n"
GROUPS = {
    "completion", "config", "goal", "keys", "paint", "photo", "plan", "ranks", "recipe", "role", "source",
    "spare", "unit",
}  # fmt: skip
"""Commands whose acts take the log."""
NOT_WRITING = {"demo", "tonight", "ready", "pace", "estimate", "forecast", "backlog", "report"}


def run(desk: Desk, *words: str) -> Result:
    return CliRunner().invoke(main, list(words), obj=desk)


def done(desk: Desk, *words: str) -> str:
    result = run(desk, *words)
    assert result.exit_code == 0, result.output
    return result.stdout.strip()


def refused(desk: Desk, status: int, *words: str) -> str:
    """The one line of a refusal, after which the log is as it was."""
    before = export_document(desk)
    result = run(desk, *words)
    assert result.exit_code == status, result.output
    assert result.stdout == ""
    assert export_document(desk) == before
    (line,) = result.stderr.splitlines()
    return line


@pytest.mark.parametrize("name", sorted(set(COMMANDS) - NOT_WRITING))
def test_every_command_has_help_with_an_example(tmp_path: Path, name: str) -> None:
    said = done(a_desk(tmp_path), name, "--help")
    assert "lastcoat " + name in said.split("\n", 1)[1]
    assert name in GROUPS or "--db FILE" in said


def test_the_list_of_commands_is_whole(tmp_path: Path) -> None:
    said = done(a_desk(tmp_path), "--help")
    assert all(f"\n  {name} " in said for name in COMMANDS)


def test_an_evening_from_the_first_unit_to_the_last_undo(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    done(desk, "add", "--unit", "Spears", "--models", "20", "--points", "120", "--goal-date", "2026-05-01")
    said = done(desk, "log", "cleaned 10 spears, 50 min")
    said, care = said.split("\n")
    assert said == "Logged: cleaning, 10 of 20 Spears, 50 min (Tue 10 Mar). 10 left for this step."
    assert care.startswith("Care: Blades")  # the first time
    words = (
        "--unit",
        "Spears",
        "--step",
        "cleaning",
        "--models",
        "2",
        "--date",
        "2026-03-03",
        "--not-finished",
    )
    said = done(desk, "log", *words, "--guess", "20", "--note", "slow", "--army", "My army")
    assert said == "Logged: cleaning, 2 of 20 Spears, still in hand (Tue 3 Mar). 10 left for this step."
    assert done(desk, "evening", "--minutes", "60") == "Set: the evening of Tue 10 Mar, 60 min."
    assert done(desk, "undo") == "Taken back: evening: the evening of Tue 10 Mar, 60 min."
    assert done(desk, "redo") == "Brought back: evening: the evening of Tue 10 Mar, 60 min."
    assert done(desk, "mark", "--unit", "spears", "--models", "1-3", "--step", "primed").endswith("1-3.")
    assert done(desk, "leave", "--unit", "spears", "--models", "20", "--how", "broken").endswith("20.")
    assert "shields, base texture" in done(
        desk, "route", "--unit", "Spears", "--add", "shields", "--after", "assembly"
    )
    line = desk.records().lines[1]
    assert (line.guess_minutes, line.note, line.finished) == (20.0, "slow", False)


def test_a_sentence_and_options_together(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    assert ", 35 min (Mon 9 Mar)" in done(desk, "log", "cleaned 2 spears yesterday", "--minutes", "35")
    assert refused(desk, 2, "log", "cleaned 2 spears", "--unit", "Spears").startswith("log: it was said in")
    assert refused(desk, 2, "log", "--unit", "Spears").startswith("--step: it is missing")
    assert refused(desk, 2, "log").startswith("--unit: it is missing")
    assert "how many is not said" in refused(desk, 1, "log", "cleaned spears")


def test_spares_and_second_hand(tmp_path: Path) -> None:
    desk = a_desk(tmp_path)
    assert done(desk, "add", "--spares", "3").startswith("Added: 3 spare models.")
    named = ("--figure", "Tom", "character", "--named", "Tim")
    steps = ("--already", "priming", "--steps", "priming;varnish")
    said = done(desk, "add", "--unit", "R", "--models", "2", *steps, *named)
    assert said == "Added: 2 models of R (My army). 2 steps: priming, varnish. 1 of them behind it already."
    assert [(model.name, model.kind) for model in desk.records().models[3:]] == [
        ("Tom", "character"),
        ("Tim", ""),
    ]
    assert refused(desk, 2, "add", "--unit", "X").startswith("--models: it is missing")


@pytest.mark.parametrize(
    ("words", "status", "said"),
    [
        ("log --unit Spers --step cleaning", 1, 'Did you mean "Spears"?'),
        ("log --unit Spears --step prining", 1, "add it with --add-step"),
        ("log --unit Spears --step cleaning --models 21", 1, "has 20 left for this step"),
        ("log --unit Spears --step cleaning --models 0", 1, "Say 1 or more"),
        ("log --unit Spears --step cleaning --minutes -5", 1, "--minutes: -5 minutes cannot be"),
        ("log --unit Spears --step cleaning --minutes x", 2, "'x' is not a valid float"),
        ("log --unit Spears --step cleaning --date 2026-02-30", 2, '"2026-02-30" is no date'),
        ("log --unit Spears --step cleaning --date 20260203", 2, '"20260203" is no date'),
        ("log --unit Spears --step cleaning --date 2026-03-11", 1, "lies in the future"),
        ("evening --minutes 1500", 1, "cannot be"),
        ("evening", 2, "Missing option '--minutes'"),
        ("add --unit New --models 0", 1, "0 models cannot be"),
        ("add --unit Spears --models 3", 1, "Say --more"),
        ("mark --unit Spears --step cleaning --state wet", 2, "'wet' is not one of"),
        ("leave --unit Spears --models 30", 1, "has no model 30"),
        ("route --unit Spears --drop nonsense", 1, "not on the route"),
        ("redo", 1, "nothing to bring back"),
        ("import evenings nowhere.csv", 1, "nowhere.csv: there is no such file"),
        ("import nonsense x.csv", 2, "'nonsense' is not one of"),
        ("import all x.csv --keep-good", 1, "no such file"),
        ("nonsense", 2, "No such command 'nonsense'"),
        ("export all /nowhere/x.json", 1, "/nowhere/x.json.unready: No such file or directory"),
    ],
)
def test_bad_input_is_one_line_and_nothing_is_stored(
    tmp_path: Path, words: str, status: int, said: str
) -> None:
    assert said in refused(with_spears(tmp_path), status, *words.split())


@pytest.mark.parametrize(
    ("sheet", "said"),
    [
        (b"\xff\xfe\x00", "it is UTF-16"),
        (HEADER.encode() + b"2026-03-01,Sp\xe4rs,cleaning,1,5\n", "not UTF-8"),
        (b"date,unit\n2026-03-01,Spears\n", "step"),
        (HEADER.encode() + b"2026-02-30,Spears,cleaning,1,5\n", "row 2"),
        (HEADER.encode() + b"2026-03-01,Spears,cleaning,1,-5\n", "row 2"),
        (HEADER.encode() + b"2026-03-01,Spears,cleaning,1,5\n2026-03-11,Spears,cleaning,1,5\n", "row 3"),
        (HEADER.encode() + b"2026-03-01,Spears,cleaning,21,5\n", "row 2: 21 models said"),
        (HEADER.encode() + b"2026-03-01,,cleaning,1,5\n", "row 2"),
    ],
)
def test_a_bad_sheet_is_told_and_nothing_is_stored(tmp_path: Path, sheet: bytes, said: str) -> None:
    file = tmp_path / "evenings.csv"
    file.write_bytes(sheet)
    assert said in refused(with_spears(tmp_path), 1, "import", "evenings", str(file))


def test_good_rows_are_kept_when_asked(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    file = tmp_path / "evenings.csv"
    file.write_text(
        HEADER + "2026-03-01,Spears,cleaning,21,5\n2026-03-02,Spears,cleaning,1,5\n2026-13-01,S,c,1,5\n"
    )
    result = run(desk, "import", "evenings", str(file), "--keep-good")
    assert (result.exit_code, result.stdout) == (0, "Stored: 1 line new.\n")
    assert [line[:5] for line in result.stderr.splitlines()] == ["row 4", "row 2"]
    dry = json.loads(done(desk, "import", "evenings", str(file), "--keep-good", "--dry-run", "--json"))
    assert (dry["added"], dry["unchanged"], dry["dry_run"], len(dry["problems"])) == (0, 1, True, 2)


@pytest.mark.parametrize("what", ["evenings", "roster", "all"])
def test_what_goes_out_comes_in_again(tmp_path: Path, what: str) -> None:
    desk = with_spears(tmp_path)
    done(desk, "log", "cleaned 10 spears, 50 min")
    file = tmp_path / "out"
    run(desk, "export", what, str(file))
    assert (
        done(desk, "export", what, "-").splitlines() == file.read_text(encoding="utf-8").strip().splitlines()
    )
    (tmp_path / "other").mkdir()
    other = a_desk(tmp_path / "other")
    assert done(other, "import", what, str(file)).startswith("Stored: ")
    if what != "all":
        assert done(other, "import", what, str(file)).startswith("Nothing to store")
        assert done(desk, "import", what, str(file)).startswith("Nothing to store")
    else:
        assert "only be read into an empty one" in refused(other, 1, "import", what, str(file))
    assert done(other, "export", what, "-") == done(desk, "export", what, "-")


def test_a_broken_document_is_one_line(tmp_path: Path) -> None:
    file = tmp_path / "all.json"
    file.write_text('{"lastcoat": 1, "data": {"format": "x"}}')
    desk = with_spears(tmp_path)
    assert "not a whole Lastcoat log" in refused(desk, 1, "import", "all", str(file))
    file.write_text("{")
    assert "this is not JSON" in refused(desk, 1, "import", "all", str(file))
    assert "a whole log is taken whole" in refused(desk, 2, "import", "all", str(file), "--keep-good")


def test_notes_are_told_but_not_for_ever(tmp_path: Path) -> None:
    file = tmp_path / "evenings.csv"
    file.write_text(HEADER + "".join(f"2026-03-01,unit {i},cleaning,1,5\n" for i in range(30)))
    said = done(a_desk(tmp_path), "import", "evenings", str(file)).splitlines()
    assert len(said) == 22
    assert said[-1] == "  and 10 more notes"


def test_a_link_and_a_device_are_written_to_as_they_are(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    (tmp_path / "link").symlink_to(tmp_path / "target")
    run(desk, "export", "roster", str(tmp_path / "link"))
    assert (tmp_path / "link").is_symlink()
    assert (tmp_path / "target").read_text().startswith("army,unit")
    assert run(desk, "export", "roster", os.devnull).exit_code == 0
    assert stat.S_ISCHR(Path(os.devnull).stat().st_mode)


@pytest.mark.parametrize("name", ["\x1b[2Jred", "\u202eback", "[bold]x", "=1+1", "a\rb", "x" * 500])
def test_no_control_character_reaches_the_terminal(tmp_path: Path, name: str) -> None:
    desk = a_desk(tmp_path)
    steps = f"{name};varnish"
    said = [
        done(desk, "add", "--unit", name, "--models", "3", "--steps", steps),
        done(desk, "log", "--unit", name, "--step", name),
        done(desk, "mark", "--unit", name, "--step", name),
        done(desk, "route", "--unit", name),
        done(desk, "undo"),
        refused(desk, 1, "log", "--unit", name, "--step", "nonsense"),
        refused(desk, 1, "log", "--unit", name + "z", "--step", name),
    ]
    assert all(printable(line) == line for text in said for line in text.splitlines())
    assert desk.records().units[0].name == name


def test_a_file_that_is_not_a_log(tmp_path: Path) -> None:
    file = tmp_path / "log.db"
    file.write_text("something else entirely, and long enough to be read as such " * 20)
    result = CliRunner().invoke(main, ["log", "x", "--db", str(file)])
    assert (result.exit_code, result.stderr) == (
        1,
        f"{file}: this is not a Lastcoat log. Give another file with --db\n",
    )


FULL = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[1]),) * 2)
sys.argv = ["lastcoat", *sys.argv[2:]]
from tracker.cli.main import main
main()
"""


def test_a_disk_that_takes_no_more_is_one_line(tmp_path: Path) -> None:
    # getrlimit(2): a write beyond RLIMIT_FSIZE fails with EFBIG, as a full disk does with ENOSPC.
    desk = with_spears(tmp_path)
    size = Path(desk.path).stat().st_size
    rows = "".join(f"2026-03-01,unit {i},cleaning,5,5\n" for i in range(2000))
    (tmp_path / "evenings.csv").write_text(HEADER + rows)
    before = export_document(desk)
    command = ["import", "evenings", str(tmp_path / "evenings.csv"), "--db", desk.path]
    full = subprocess.run(
        [sys.executable, "-c", FULL, str(size), *command], check=False, capture_output=True, text=True
    )
    assert full.returncode == 1
    assert full.stderr.count("\n") == 1
    assert "nothing was stored" in full.stderr
    assert export_document(desk) == before


@pytest.mark.parametrize("way", ["option", "program", "environment", "xdg"])
def test_where_the_log_lies(tmp_path: Path, way: str) -> None:
    path = str(tmp_path / "lastcoat" / "lastcoat.db")
    clean = {key: value for key, value in os.environ.items() if key not in {"LASTCOAT_DB", "XDG_DATA_HOME"}}
    more = {"environment": {"LASTCOAT_DB": path}, "xdg": {"XDG_DATA_HOME": str(tmp_path)}}.get(way, {})
    before = ["--db", path] if way == "program" else []
    after = ["--db", path] if way == "option" else []
    command = [*LASTCOAT, *before, "add", "--unit", "Spears", "--models", "2", *after]
    subprocess.run(command, env=clean | more, check=True, capture_output=True)
    assert len(Desk(path).records().models) == 2


def test_a_line_is_on_disk_when_the_command_returns(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    command = [*LASTCOAT, "log", "--unit", "Spears", "--step", "cleaning", "--db", desk.path]
    subprocess.run(command, check=True, capture_output=True)
    assert len(desk.records().lines) == 1


def test_a_reader_who_left_early_gets_no_complaint(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    rows = "".join(f"2026-03-01,unit {i},cleaning,5,5\n" for i in range(3000))
    (tmp_path / "evenings.csv").write_text(HEADER + rows)
    done(desk, "import", "evenings", str(tmp_path / "evenings.csv"))
    command = [*LASTCOAT, "export", "evenings", "-", "--db", desk.path]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout
        assert process.stderr
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait() == 0


def failing(error: BaseException) -> click.Command:
    @click.command(help=help_text("x", "y"))
    @run_verb
    def command() -> None:
        raise error

    return command


@pytest.mark.parametrize(
    ("error", "status", "said"),
    [
        (KeyboardInterrupt(), INTERRUPTED, "Stopped.\n"),
        (BrokenPipeError(), 0, ""),
        (
            OSError(errno.ENOSPC, "No space left on device", "f"),
            1,
            "f: the disk is full, so nothing was written. Make room and do it again\n",
        ),
        (PermissionError(errno.EACCES, "Permission denied", "a\nb"), 1, "a\\nb: Permission denied.\n"),
    ],
)
def test_what_happens_around_a_verb(error: BaseException, status: int, said: str) -> None:
    result = CliRunner().invoke(failing(error))
    assert (result.exit_code, result.stderr) == (status, said)


def test_a_terminal_that_cannot_show_a_letter(tmp_path: Path) -> None:
    env = os.environ | {"PYTHONIOENCODING": "latin-1"}
    command = [*LASTCOAT, "add", "--unit", "Späher 🐉", "--models", "1", "--db", str(tmp_path / "log.db")]
    done = subprocess.run(command, env=env, check=True, capture_output=True)
    assert b"Sp\xe4her \\U0001f409" in done.stdout


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_scripts_name_the_program(tmp_path: Path, shell: str) -> None:
    said = done(a_desk(tmp_path), "completion", shell)
    assert "_LASTCOAT_COMPLETE" in said
    assert "lastcoat" in said


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("lo", {"log"}),
        ("--", {"--db", "--help", "--version"}),
        ("res", {"restore"}),
        ("re", {"ready", "recipe", "redo", "report", "restore"}),
    ],
)
def test_names_are_completed(typed: str, offered: set[str]) -> None:
    env = os.environ | {
        "_LASTCOAT_COMPLETE": "bash_complete", "COMP_WORDS": f"lastcoat {typed}", "COMP_CWORD": "1",
    }  # fmt: skip
    code = "from tracker.cli.main import main; main(prog_name='lastcoat')"
    done = subprocess.run([sys.executable, "-c", code], env=env, check=False, capture_output=True, text=True)
    assert {line.removeprefix("plain,") for line in done.stdout.split()} == offered


def test_say_is_harmless_line_by_line(capsys: pytest.CaptureFixture[str]) -> None:
    say("a\x1bb\nc\td")
    assert capsys.readouterr().out == "a\\x1bb\nc\\x09d\n"


def test_the_version(tmp_path: Path) -> None:
    from tracker import __version__

    assert done(a_desk(tmp_path), "--version") == __version__


@pytest.mark.parametrize("group", sorted(GROUPS - {"completion", "config", "curing", "keys"}))
def test_a_command_with_acts_tells_them_when_none_is_said(group: str, tmp_path: Path) -> None:
    said = CliRunner().invoke(main, [group], obj=a_desk(tmp_path))
    assert said.exit_code == 2
    assert said.stderr.count("\n") > 8
    assert said.stderr.startswith(f"Usage: main {group}")
