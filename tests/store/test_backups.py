"""Backups: which are kept, and that each is whole, checked and private."""

from __future__ import annotations

import os
import resource
import sqlite3
import stat
import subprocess
import sys
import threading
from contextlib import closing
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from tests.desks import NOW, a_desk, with_spears
from tracker.domain.backups import KEPT_NEWEST, backup_name, named, to_drop
from tracker.domain.problems import DataError
from tracker.store.backups import UNREADY_SECONDS, back_up, default_folder, is_ours, kept, make, tidy
from tracker.store.units import insert_army
from tracker.workbench.desk import Desk


def at(text: str) -> datetime:
    return datetime.fromisoformat(f"{text}T21:30:00")


def left(days: list[str], now: str) -> list[str]:
    """Days of which the backup is kept, where ten newer ones of one day stand before them."""
    today = at(now)
    tens = [(f"now {i}", today - timedelta(minutes=i)) for i in range(KEPT_NEWEST)]
    gone = to_drop([*tens, *((day, at(day)) for day in days)], today)
    assert not [name for name in gone if name.startswith("now")]
    return [day for day in days if day not in gone]


@pytest.mark.parametrize(
    ("now", "days", "stay"),
    [
        # Weeks and their years from the calendar of ISO 8601; checked with `date +%G-W%V` of GNU coreutils.
        # 2026-11-25 is a Wednesday of week 48; Monday to Sunday before it are week 47.
        ("2026-11-25", ["2026-11-22", "2026-11-20", "2026-11-16", "2026-11-15"],
         ["2026-11-22", "2026-11-15"]),
        # A day of the same week as the ten newest is not the newest of its week.
        ("2026-11-25", ["2026-11-23"], []),
        # 2020 has a week 53: Monday 28 December 2020 to Sunday 3 January 2021.
        ("2021-02-01", ["2021-01-04", "2021-01-03", "2020-12-28", "2020-12-27"],
         ["2021-01-04", "2021-01-03", "2020-12-27"]),
        # Monday 30 December 2024 begins week 1 of 2025.
        ("2025-02-01", ["2025-01-05", "2024-12-30", "2024-12-29"], ["2025-01-05", "2024-12-29"]),
        # Week 9 of 2024 runs over the leap day, a Thursday.
        ("2024-04-01", ["2024-03-03", "2024-02-29", "2024-02-26", "2024-02-25"],
         ["2024-03-03", "2024-02-25"]),
        # On the leap day: 366 days back is 28 February 2023.
        ("2024-02-29", ["2023-03-01", "2023-02-26"], ["2023-03-01"]),
        # A year back and further: week 48 of 2025 began on Monday 24 November.
        ("2026-11-25", ["2025-11-26", "2025-11-23", "2024-11-27"], ["2025-11-26"]),
        # A clock that was wrong: kept, and counted for nothing.
        ("2026-11-25", ["2036-01-01", "2026-11-11"], ["2036-01-01", "2026-11-11"]),
    ],
)  # fmt: skip
def test_one_a_week_for_a_year_is_kept(now: str, days: list[str], stay: list[str]) -> None:
    assert left(days, now) == stay


def test_the_newest_ten_are_kept_whatever_their_age() -> None:
    old = [(f"old {i}", NOW - timedelta(days=1000 + i)) for i in range(12)]
    assert to_drop(old, NOW) == ("old 10", "old 11")
    assert to_drop([], NOW) == ()


def test_two_years_of_an_evening_every_day() -> None:
    # By hand: 10 newest; 366 days back from Tuesday 10 March 2026 is Sunday 9 March 2025, which ends the
    # first week that counts; from it to the week of 10 March 2026 are 53 weeks, of which the newest two
    # weeks' newest days (10 and 8 March) stand among the ten.
    days = [(f"{i}", NOW - timedelta(days=i)) for i in range(730)]
    assert len(days) - len(to_drop(days, NOW)) == 10 + 53 - 2


@pytest.mark.parametrize(
    ("why", "turn"), [("daily", 1), ("before-import", 1), ("by-hand", 3), ("schema-5", 1), ("schema-5", 2)]
)
@pytest.mark.parametrize("stem", ["lastcoat", "my log-20260101-000000-daily", "[a](.*)$", "🐉\x1b[2J", "-"])
def test_a_name_is_read_as_it_was_written(stem: str, why: str, turn: int) -> None:
    name = backup_name(stem, NOW, why, turn)
    said = named(name, stem)
    assert said is not None
    assert said[1:] == (NOW, why, turn)


@pytest.mark.parametrize(
    "name",
    ["lastcoat.db", "lastcoat-20260231-000000-daily.db", "lastcoat-20260101-000000-Daily.db",
     "other-20260101-000000-daily.db", "lastcoat-20260101-000000-daily.db\n",
     "lastcoat-2-20260101-000000-daily.db", "lastcoat-20260101-000000-../x.db",
     "lastcoat-20260101-000000-daily.db.17.unready"],
)  # fmt: skip
def test_other_names_are_no_backups(name: str) -> None:
    assert named(name, "lastcoat") is None


def test_the_name_of_the_brief() -> None:
    name = backup_name("lastcoat", datetime(2026, 11, 25, 21, 30), "before-import")
    assert name == "lastcoat-20261125-213000-before-import.db"


def make_one(desk: Desk, why: str = "daily", now: datetime = NOW) -> Path:
    return Path(make(desk.path, default_folder(desk.path), why, now))


def test_a_backup_is_private_whole_and_one_file(tmp_path: Path) -> None:
    old = os.umask(0)
    try:
        one = make_one(with_spears(tmp_path))
    finally:
        os.umask(old)
    assert stat.S_IMODE(one.stat().st_mode) == 0o600
    assert stat.S_IMODE(one.parent.stat().st_mode) == 0o700
    assert [path.name for path in one.parent.iterdir()] == ["log-20260310-213000-daily.db"]
    # sqlite.org/fileformat2.html, 1.3: bytes 18 and 19 are 1 without a write-ahead log.
    assert one.read_bytes()[18:20] == b"\x01\x01"


def test_two_in_one_second_are_two(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    names = [make_one(desk).name, make_one(desk).name, make_one(desk, "before-import").name]
    assert names == [
        "log-20260310-213000-daily.db", "log-20260310-213000-daily-2.db",
        "log-20260310-213000-before-import-3.db",
    ]  # fmt: skip
    assert [said.name for said in kept(desk.path, default_folder(desk.path))] == names[::-1]


def test_only_our_files_under_our_names_are_removed(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    folder = Path(default_folder(desk.path))
    for day in range(14):
        make_one(desk, now=NOW - timedelta(days=800 + day))
    by_hand = folder / "mine.db"
    back_up(desk.path, str(by_hand))
    others = folder / "log-20200101-000000-daily.db"
    others.write_text("a text under our name")
    link = folder / "log-20200102-000000-daily.db"
    link.symlink_to(by_hand)
    theirs = folder / "log-20200103-000000-daily.db"
    with closing(sqlite3.connect(theirs)) as other:
        other.execute("CREATE TABLE theirs (x)")
    another_log = folder / "other-20200103-000000-daily.db"
    back_up(desk.path, str(another_log))
    tidy(desk.path, str(folder), NOW)
    assert {by_hand, others, link, theirs, another_log} <= set(folder.iterdir())
    assert len(kept(desk.path, str(folder))) == KEPT_NEWEST


def test_what_a_stopped_program_left_goes_when_it_is_old(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    folder = make_one(desk).parent
    left_over = folder / "log-20260101-000000-daily.db.17.unready"
    foreign = folder / "letters.db.17.unready"
    for file in (left_over, foreign):
        file.touch()
    tidy(desk.path, str(folder), NOW)
    assert left_over.exists()
    old = left_over.stat().st_mtime - 2 * UNREADY_SECONDS
    for file in (left_over, foreign):
        os.utime(file, (old, old))
    tidy(desk.path, str(folder), NOW)
    assert not left_over.exists()
    assert foreign.exists()


def test_a_copy_never_holds_half_a_change(tmp_path: Path) -> None:
    # Each change stores a pair; a copy made at any moment holds whole pairs. sqlite.org/backup.html.
    desk = with_spears(tmp_path)
    stop = threading.Event()

    def write() -> None:
        number = 0
        with desk.open() as store:
            while not stop.is_set():
                with store.change("pair"):
                    insert_army(store, f"left {number}")
                    insert_army(store, f"right {number}")
                number += 1

    writer = threading.Thread(target=write)
    writer.start()
    seen = []
    try:
        for number in range(12):
            one = make_one(desk, now=NOW + timedelta(seconds=number))
            with closing(sqlite3.connect(one)) as copy:
                assert copy.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
                left, right = (
                    copy.execute("SELECT count(*) FROM army WHERE name GLOB ?", (f"{side} *",)).fetchone()[0]
                    for side in ("left", "right")
                )
                open_change = copy.execute("SELECT open_change FROM journal_head").fetchone()
            assert left == right
            assert open_change == (None,)
            seen.append(left)
    finally:
        stop.set()
        writer.join()
    assert seen == sorted(seen)


def test_an_uncommitted_change_is_not_in_it(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    with desk.open() as store, store.change("half"):
        insert_army(store, "half")
        one = make_one(desk)
    with closing(sqlite3.connect(one)) as copy:
        assert copy.execute("SELECT count(*) FROM army").fetchone() == (1,)


def damage(path: str) -> None:
    """Overwrite what lies behind the first page: every table's pages."""
    with closing(sqlite3.connect(path)) as log:
        log.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    data = bytearray(Path(path).read_bytes())
    for start in range(4096 * 2, len(data), 4096):
        data[start : start + 100] = b"\xa5" * 100
    Path(path).write_bytes(data)


def test_a_damaged_log_makes_no_backup_but_can_be_kept_as_it_is(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    damage(desk.path)
    target = tmp_path / "copy.db"
    with pytest.raises(DataError, match="the log is damaged, so no backup of it was made"):
        back_up(desk.path, str(target))
    assert not list(tmp_path.glob("copy*"))
    back_up(desk.path, str(target), check=False)
    assert is_ours(str(target))


FULL = """
import resource, sys
from datetime import datetime
from tracker.domain.problems import DataError
from tracker.store.backups import make
limit = int(sys.argv[3])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
try:
    make(sys.argv[1], sys.argv[2], "daily", datetime(2026, 3, 10))
except DataError as refusal:
    print(refusal)
"""


@pytest.mark.parametrize("thousands", [0, 1, 20, 150, 300])
def test_no_room_leaves_nothing_half_and_is_one_line(tmp_path: Path, thousands: int) -> None:
    # setrlimit(2): a write past RLIMIT_FSIZE fails with EFBIG, as one on a full disk does with ENOSPC.
    desk = with_spears(tmp_path)
    folder = tmp_path / "kept"
    done = subprocess.run(
        [sys.executable, "-c", FULL, desk.path, str(folder), str(thousands * 1000)],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    (line,) = done.stdout.splitlines()
    assert "the backup cannot be made" in line
    assert done.stderr == ""
    assert list(folder.iterdir()) == []
    assert resource.getrlimit(resource.RLIMIT_FSIZE)[0] == resource.RLIM_INFINITY
    assert len(desk.records().models) == 20


def test_a_folder_that_cannot_be_made(tmp_path: Path) -> None:
    desk = with_spears(tmp_path)
    (tmp_path / "file").touch()
    with pytest.raises(DataError, match="the backup cannot be made") as refused:
        make(desk.path, str(tmp_path / "file" / "kept"), "daily", NOW)
    assert "lastcoat config set backup_folder" in str(refused.value)


@pytest.mark.parametrize(
    "name", ["a 'b' \"c\".db", "?mode=ro#x.db", "[x]{y}*.db", "%41.db", "🐉.db", "-.db", "x"]
)
def test_any_name_of_a_log(tmp_path: Path, name: str) -> None:
    (tmp_path / "first").mkdir()
    here = with_spears(tmp_path / "first")
    Path(here.path).rename(tmp_path / name)
    desk = a_desk(tmp_path)._replace(path=str(tmp_path / name))
    one = make_one(desk)
    assert [said.name for said in kept(desk.path, str(one.parent))] == [one.name]
    assert one.parent.name == f"{Path(name).stem}-backups"
    assert date(2026, 3, 1) in {unit.added_on for unit in Desk(str(one)).records().units}
