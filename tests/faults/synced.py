"""What a loss of power leaves of a folder, told from the system calls of the program that wrote to it.

A strict disk: of a file is left what stood in it when it was last synchronised, and of a folder the names
that it had when it was last synchronised; what was written since is left or not, each 512 bytes for
themselves and each folder for itself. Source: POSIX.1-2017, fsync: nothing is promised before it returns.
That 512 bytes are written whole or not at all is our simplification.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path, PurePosixPath
from random import Random
from typing import NamedTuple

SECTOR_BYTES = 512
TRACED = (
    "openat,close,write,pwrite64,ftruncate,fsync,fdatasync,unlink,unlinkat,rename,renameat,renameat2,mkdir,"
    "mkdirat,writev,pwritev,sendfile,copy_file_range,fallocate,link,linkat,symlink,symlinkat"
)
"""The calls that change files, by their names in strace(1); `?` before one that a machine may not have."""
_CALL = re.compile(r"(?P<name>\w+)\((?P<said>.*)\)\s+= (?P<result>-?\d+)")
_TEXT = re.compile(r'"((?:\\x[0-9a-f]{2})*)"')
_NOT_FOLLOWED = ("writev", "pwritev", "sendfile", "copy_file_range", "fallocate", "link", "linkat")
"""Nobody makes these on the folder; where somebody begins to, the test says so."""


class Call(NamedTuple):
    """One call that went well."""

    name: str
    numbers: tuple[int, ...]
    """The file's number, or the numbers after the text."""
    texts: tuple[bytes, ...]
    flags: str
    result: int


class File:
    """A file: what stands in it, what is sure to stand in it, and what was written since."""

    def __init__(self) -> None:
        self.now = bytearray()
        self.sure = b""
        self.is_same = True

    def write(self, data: bytes, at: int) -> None:
        """Put data there."""
        self.now.extend(bytes(max(at + len(data) - len(self.now), 0)))
        self.now[at : at + len(data)] = data
        self.is_same = False

    def cut(self, size: int) -> None:
        """Make it that long."""
        del self.now[size:]
        self.now.extend(bytes(size - len(self.now)))
        self.is_same = False

    def sync(self) -> None:
        """What stands in it is sure now."""
        if not self.is_same:
            self.sure, self.is_same = bytes(self.now), True

    def left(self, random: Random | None) -> bytes:
        """What is left; without a `random` only what is sure."""
        if random is None or self.is_same:
            return self.sure
        size = random.choice((len(self.now), len(self.sure)))
        return b"".join(
            (self.now if random.random() < 0.5 else self.sure)[at : at + SECTOR_BYTES].ljust(
                min(SECTOR_BYTES, size - at), b"\0"
            )[: size - at]
            for at in range(0, size, SECTOR_BYTES)
        )


class Synced:
    """The folder as its program sees it, and as it is sure to be."""

    def __init__(self, folder: str) -> None:
        self._folder = folder
        self._now: dict[str, File] = {}
        self._sure: dict[str, File] = {}
        self._folders = {"/"}
        self._sure_folders = {"/"}
        self._open: dict[int, tuple[str, File | None, int]] = {}

    def take(self, call: Call) -> None:
        """Follow one call."""
        assert call.name not in _NOT_FOLLOWED or not self._is_here(call), call
        act = getattr(self, f"_{call.name.removesuffix('2').removesuffix('at')}", None)
        if call.name == "openat":
            self._opened(call)
        elif act is not None:
            act(call)

    def left(self, random: Random | None = None) -> dict[str, bytes]:
        """Files that are left by their path, which begins at the folder.

        Without a `random`, only what is sure; with one, some of what was done since as well.
        """
        as_now = {folder for folder in sorted(self._folders) if random is not None and random.random() < 0.5}
        there = self._sure_folders | {folder for folder in self._folders if _parent(folder) in as_now}
        return {
            path: file.left(random)
            for names, is_now in ((self._now, True), (self._sure, False))
            for path, file in names.items()
            if (_parent(path) in as_now) == is_now and _parent(path) in there
        }

    def _is_here(self, call: Call) -> bool:
        known = any(number in self._open for number in call.numbers[:2])
        return known or any(self._path(text) is not None for text in call.texts)

    def _path(self, text: bytes) -> str | None:
        path = text.decode(errors="replace")
        return path.removeprefix(self._folder) if path.startswith(self._folder) else None

    def _opened(self, call: Call) -> None:
        path = self._path(call.texts[0])
        if path is None or path.endswith("-shm"):  # shared memory is no data: it is made anew from the rest
            self._open.pop(call.result, None)
            return
        if "O_CREAT" in call.flags and path not in self._now:
            self._now[path] = File()
        file = self._now.get(path)
        if file is not None and "O_TRUNC" in call.flags:
            file.cut(0)
        self._open[call.result] = path, file, 0

    def _close(self, call: Call) -> None:
        self._open.pop(call.numbers[0], None)

    def _write(self, call: Call) -> None:
        if call.numbers[0] in self._open:
            path, file, at = self._open[call.numbers[0]]
            assert file is not None
            file.write(call.texts[0][: call.result], at)
            self._open[call.numbers[0]] = path, file, at + call.result

    def _pwrite64(self, call: Call) -> None:
        _, file, _ = self._open.get(call.numbers[0], ("", None, 0))
        if file is not None:
            file.write(call.texts[0][: call.result], call.numbers[-1])

    def _ftruncate(self, call: Call) -> None:
        _, file, _ = self._open.get(call.numbers[0], ("", None, 0))
        if file is not None:
            file.cut(call.numbers[-1])

    def _fsync(self, call: Call) -> None:
        path, file, _ = self._open.get(call.numbers[0], (None, None, 0))
        if file is not None:
            file.sync()
        elif path is not None:
            self._names_are_sure(path or "/")

    _fdatasync = _fsync

    def _names_are_sure(self, folder: str) -> None:
        for path in [path for path in self._sure if _parent(path) == folder]:
            del self._sure[path]
        self._sure |= {path: file for path, file in self._now.items() if _parent(path) == folder}
        self._sure_folders |= {path for path in self._folders if _parent(path) == folder}

    def _mkdir(self, call: Call) -> None:
        path = self._path(call.texts[0])
        if path:
            self._folders.add(path)

    def _unlink(self, call: Call) -> None:
        path = self._path(call.texts[0])
        self._now.pop(path or "", None)

    def _rename(self, call: Call) -> None:
        old, new = map(self._path, call.texts)
        if old in self._now:
            file = self._now.pop(old)
            if new is not None:
                self._now[new] = file


def _parent(path: str) -> str:
    return str(PurePosixPath(path).parent)


def calls(trace: Path) -> Iterator[Call]:
    """Every call in what strace wrote (with -y and -xx) that did not fail."""
    with trace.open(encoding="ascii") as lines:
        for line in lines:
            found = _CALL.match(line)
            if found is None or int(found["result"]) < 0:
                continue
            said = found["said"]
            texts = tuple(bytes.fromhex(text.replace("\\x", "")) for text in _TEXT.findall(said))
            rest = re.sub(r"<[^>]*>(\(deleted\))?", "", _TEXT.sub("", said))
            numbers = tuple(int(part) for part in rest.split(", ") if re.fullmatch(r"\d+", part))
            yield Call(found["name"], numbers, texts, rest, int(found["result"]))
