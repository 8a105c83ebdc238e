"""The photo files as one archive, to move them to another machine or keep them somewhere else."""

from __future__ import annotations

import lzma
import os
import stat
import zipfile
import zlib
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path

from tracker.domain.problems import DataError, Problem
from tracker.sheets.files import unreadable
from tracker.sheets.kept_pictures import KEPT_BYTES_MOST, fault_of_kept
from tracker.workbench.desk import Desk
from tracker.workbench.files_out import where_to_write
from tracker.workbench.photo_files import file_names, is_ours, keep_file, photo_folder
from tracker.workbench.words import count_words

FILES_MOST = 100_000
SWELL_MOST = 20
"""Pictures hardly get smaller in an archive: one that unpacks to more times its size was made to harm."""
_SWELL_FREE_BYTES = 64 * 1024 * 1024
_ANEW = "Pack it anew on the other machine"
_NOT_WHOLE = (
    zipfile.BadZipFile, zlib.error, lzma.LZMAError, EOFError, RuntimeError, ValueError,
)  # fmt: skip


def pack_photos(desk: Desk, path: str) -> str:
    """Write every photo file into one archive (ZIP); what it did."""
    target = where_to_write(desk, path, "an archive", (b"pk\x03\x04", b"pk\x05\x06"), "photos.zip")
    folder = photo_folder(desk.path)
    names = [name for name in file_names(desk.path) if is_ours(name)]
    half_written = target.with_name(f".{target.name[:60]}.{os.getpid()}")
    try:
        with zipfile.ZipFile(half_written, "w", zipfile.ZIP_STORED) as archive:
            for name in names:
                # With no day of its own, the same photos make the same archive.
                archive.writestr(zipfile.ZipInfo(name), (folder / name).read_bytes())
        half_written.replace(target)
    finally:
        half_written.unlink(missing_ok=True)
    return f"Written: {target}, {count_words(len(names), 'photo file')}."


def unpack_photos(desk: Desk, path: str) -> str:
    """Put the files of an archive beside the log, those that are not there yet; what it did.

    A file is taken only where its content is what its name says, so nothing else can come in.
    """
    _insist_on_file(path)
    try:
        with zipfile.ZipFile(path) as archive:
            members = archive.infolist()
            _insist_on_size(members, path)
            ours = [member for member in members if is_ours(member.filename)]
            taken = [member for member in ours if not _is_there(desk, member)]
            for member in taken:
                keep_file(desk.path, member.filename, _content(archive, member, path))
    except _NOT_WHOLE:
        raise DataError(Problem(path, "it is no whole archive of photos", _ANEW)) from None
    other = len(members) - len(ours)
    more = f" {count_words(other, 'other file')} in it were left alone." if other else ""
    return f"Taken in: {count_words(len(taken), 'photo file')}.{more}"


def _insist_on_file(path: str) -> None:
    """A pipe would be waited for; what is not there is said in plain words."""
    try:
        mode = os.stat(path).st_mode  # noqa: PTH116
    except (OSError, ValueError) as error:
        raise DataError(unreadable(path, error)) from None
    if not stat.S_ISREG(mode):
        what = "it is a folder" if stat.S_ISDIR(mode) else "it is no ordinary file"
        raise DataError(Problem(path, what, "Name an archive, like photos.zip"))


def _insist_on_size(members: Sequence[zipfile.ZipInfo], path: str) -> None:
    """An archive that says it unpacks to very much is refused before anything is read from it."""
    if len(members) > FILES_MOST:
        raise DataError(Problem(path, f"it holds more than {FILES_MOST:,} files", _ANEW))
    swollen = sum(member.file_size for member in members)
    if swollen > SWELL_MOST * Path(path).stat().st_size + _SWELL_FREE_BYTES:
        what = f"it would unpack to {swollen / 1e6:,.0f} MB, far more than it has"
        raise DataError(Problem(path, what, _ANEW))


def _is_there(desk: Desk, member: zipfile.ZipInfo) -> bool:
    """Whether the file lies there already; one that was cut short is taken in anew."""
    there = photo_folder(desk.path) / member.filename
    return there.is_file() and there.stat().st_size == member.file_size


def _content(archive: zipfile.ZipFile, member: zipfile.ZipInfo, path: str) -> bytes:
    """The bytes of a member, never more than a picture may have, whatever the archive says of its size."""
    with archive.open(member) as file:
        data = file.read(KEPT_BYTES_MOST + 1)
    name = f"{member.filename[:12]}…"
    if len(data) > KEPT_BYTES_MOST or sha256(data).hexdigest() != Path(member.filename).stem:
        raise DataError(Problem(path, f"{name} in it is not what its name says", _ANEW))
    fault = fault_of_kept(data)
    if fault:
        raise DataError(Problem(path, f"{name} in it is no photo of ours: {fault}", _ANEW))
    return data
