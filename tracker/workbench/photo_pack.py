"""The photo files as one archive, to move them to another machine or keep them somewhere else."""

from __future__ import annotations

import os
import zipfile
from hashlib import sha256
from pathlib import Path

from tracker.domain.problems import DataError, Problem
from tracker.sheets.pictures import BYTES_MOST
from tracker.workbench.desk import Desk
from tracker.workbench.files_out import where_to_write
from tracker.workbench.photo_files import keep_file, photo_folder
from tracker.workbench.photos import is_ours
from tracker.workbench.words import count_words

FILES_MOST = 100_000


def pack_photos(desk: Desk, path: str) -> str:
    """Write every photo file into one archive (ZIP); what it did."""
    target = where_to_write(desk, path, "an archive", (b"pk\x03\x04", b"pk\x05\x06"), "photos.zip")
    folder = photo_folder(desk.path)
    names = sorted(filter(is_ours, os.listdir(folder))) if folder.is_dir() else []  # noqa: PTH208
    half_written = target.with_name(f".{target.name[:60]}.{os.getpid()}")
    try:
        # Pictures are packed as they are: they do not get smaller.
        with zipfile.ZipFile(half_written, "w", zipfile.ZIP_STORED) as archive:
            for name in names:
                archive.write(folder / name, name)
        half_written.replace(target)
    finally:
        half_written.unlink(missing_ok=True)
    return f"Written: {target}, {count_words(len(names), 'photo file')}."


def unpack_photos(desk: Desk, path: str) -> str:
    """Put the files of an archive beside the log, those that are not there yet; what it did.

    A file is taken only where its content is what its name says, so nothing else can come in.
    """
    try:
        with zipfile.ZipFile(path) as archive:
            members = archive.infolist()
            if len(members) > FILES_MOST:
                raise DataError(Problem(path, f"it holds more than {FILES_MOST:,} files", "Pack it anew"))
            there = _names(desk)
            taken = [
                member for member in members if is_ours(member.filename) and member.filename not in there
            ]
            for member in taken:
                keep_file(desk.path, member.filename, _content(archive, member, path))
    except FileNotFoundError:
        raise DataError(Problem(path, "there is no such file", "Check the name and the folder")) from None
    except (zipfile.BadZipFile, EOFError, NotImplementedError, RuntimeError, ValueError) as fault:
        raise DataError(
            Problem(path, f"it is no whole archive of photos ({fault})", "Pack it anew")
        ) from None
    other = sum(not is_ours(member.filename) for member in members)
    more = f" {count_words(other, 'other file')} in it were left alone." if other else ""
    return f"Taken in: {count_words(len(taken), 'photo file')}.{more}"


def _names(desk: Desk) -> set[str]:
    folder = photo_folder(desk.path)
    return set(os.listdir(folder)) if folder.is_dir() else set()  # noqa: PTH208


def _content(archive: zipfile.ZipFile, member: zipfile.ZipInfo, path: str) -> bytes:
    """The bytes of a member, never more than a picture may have, whatever the archive says of its size."""
    with archive.open(member) as file:
        data = file.read(BYTES_MOST + 1)
    if len(data) > BYTES_MOST or sha256(data).hexdigest() != Path(member.filename).stem:
        what = f"{member.filename[:12]}… in it is not what its name says"
        raise DataError(Problem(path, what, "Pack it anew on the other machine"))
    return data
