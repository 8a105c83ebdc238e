"""Loss of power: what was acknowledged was synchronised before, and the rest leaves nothing half stored."""

from __future__ import annotations

from pathlib import Path
from random import Random

from tests.faults.power import A_LOG, FEW
from tests.faults.synced import Call, Synced
from tests.faults.telling import ran

FILE, FOLDER = 3, 4


def opened(number: int, path: bytes, flags: str) -> Call:
    return Call("openat", (), (path,), flags, number)


def test_a_loss_of_power_loses_nothing_that_was_acknowledged() -> None:
    found = ran("power")
    assert found.operations == FEW + FEW // A_LOG  # each log's own making is acknowledged too
    assert found.faults > 3 * FEW
    assert found.is_clean


def test_only_what_was_synchronised_is_sure() -> None:
    disk = Synced("/desk")
    disk.take(opened(FILE, b"/desk/log", "O_RDWR|O_CREAT"))
    disk.take(Call("write", (FILE, 3), (b"one",), "", 3))
    disk.take(Call("fsync", (FILE,), (), "", 0))
    assert disk.left() == {}  # its name is not sure yet
    disk.take(opened(FOLDER, b"/desk", "O_RDONLY"))
    disk.take(Call("fsync", (FOLDER,), (), "", 0))
    disk.take(Call("pwrite64", (FILE, 3, 0), (b"two",), "", 3))
    disk.take(Call("unlink", (), (b"/desk/log",), "", 0))
    assert disk.left() == {"/log": b"one"}
    random = Random(1)
    assert {tuple(disk.left(random).values()) for _ in range(40)} == {(), (b"one",), (b"two",)}


def test_a_file_in_a_folder_that_is_not_sure_is_gone(tmp_path: Path) -> None:
    disk = Synced(str(tmp_path))
    inside = bytes(tmp_path / "photos")
    disk.take(Call("mkdir", (), (inside,), "", 0))
    disk.take(opened(FILE, inside + b"/one", "O_CREAT"))
    disk.take(opened(FOLDER, inside, "O_RDONLY"))
    disk.take(Call("fsync", (FOLDER,), (), "", 0))
    assert disk.left() == {}
    disk.take(opened(5, bytes(tmp_path), "O_RDONLY"))
    disk.take(Call("fsync", (5,), (), "", 0))
    assert disk.left() == {"/photos/one": b""}
