"""The folder of the photos beside the log: files named by their content, written whole, for their owner."""

from __future__ import annotations

import os
import re
from pathlib import Path

_OURS = re.compile(r"[0-9a-f]{64}\.jpg")
_HALF_WRITTEN = re.compile(r"\.[0-9a-f]{16}\.[0-9]+")


def photo_folder(log: str) -> Path:
    """Beside the log: "lastcoat.db" has "lastcoat-photos"."""
    path = Path(log)
    return path.with_name(f"{path.stem}-photos")


def is_ours(name: str) -> bool:
    """Whether a file's name is one this program gives to pictures: the hash of its content."""
    return _OURS.fullmatch(name) is not None


def is_half_written(name: str) -> bool:
    """Whether a file's name is one a picture has while it is written."""
    return _HALF_WRITTEN.fullmatch(name) is not None


def file_names(log: str) -> list[str]:
    """Names of the files in the folder, in order; none where there is no folder yet."""
    folder = photo_folder(log)
    return sorted(os.listdir(folder)) if folder.is_dir() else []  # noqa: PTH208


def keep_file(log: str, name: str, data: bytes) -> Path:
    """Put a file there under its name, on disk when this returns; one that is there whole stays as it is."""
    folder = photo_folder(log)
    folder.mkdir(mode=0o700, exist_ok=True)
    target = folder / name
    if target.is_file() and target.read_bytes() == data:
        _on_disk(folder)  # whoever put it there may have been stopped before this
        return target
    half_written = folder / f".{name[:16]}.{os.getpid()}"
    try:
        with os.fdopen(os.open(half_written, os.O_CREAT | os.O_WRONLY | os.O_TRUNC, 0o600), "wb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        half_written.replace(target)
    finally:
        half_written.unlink(missing_ok=True)
    _on_disk(folder)
    return target


def _on_disk(folder: Path) -> None:
    """So that the new name outlives a loss of power, where the system can say so."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
