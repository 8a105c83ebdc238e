"""Photo files leave: a copy to somewhere else, and files that nothing speaks of any more."""

from __future__ import annotations

import os
from pathlib import Path

from tracker.domain.photos import Photo
from tracker.domain.problems import DataError, Problem, UsageError
from tracker.store.book import every
from tracker.store.journal import Store
from tracker.workbench.desk import Desk
from tracker.workbench.photo_files import file_names, is_half_written, is_ours, photo_folder
from tracker.workbench.photos import the_photo
from tracker.workbench.words import count_words

_GONE = "Put it back from a backup of the photo folder, or forget the photo: lastcoat photo drop"
_STALE_SECONDS = 24 * 3600.0
"""Older than this, a half-written file is of a program that ended before its time."""


def copy_out(desk: Desk, number: int, target: str) -> str:
    """Write a photo's file somewhere else; never over something that is there."""
    with desk.open() as store:
        photo, shown = the_photo(desk, store, number)
    if not shown.is_there:
        raise DataError(Problem(f"photo {number}", f"its file {photo.file} is missing", _GONE))
    data = Path(shown.path).read_bytes()
    try:
        with Path(target).open("xb") as out:
            out.write(data)
    except FileExistsError:
        raise UsageError(Problem(target, "a file is there already", "Give another name")) from None
    except ValueError:
        raise UsageError(Problem(target, "no file can have this name", "Give another name")) from None
    except OSError as refusal:
        what = f"it cannot be written ({refusal.strerror})"
        raise UsageError(Problem(target, what, "Check the name and the folder")) from None
    return f"Written: {target}"


def tidy_photos(desk: Desk) -> str:
    """Remove the files that neither the log nor its undo speaks of."""
    folder = photo_folder(desk.path)
    with desk.open() as store, store.change("photo") as change:
        # The open change keeps others from adding one while files go; it stores nothing.
        change.kept = False
        spoken = _spoken_of(store)
        names = file_names(desk.path)
        gone = [folder / name for name in names if is_ours(name) and name not in spoken]
        gone += [folder / name for name in names if is_half_written(name) and _is_stale(desk, folder / name)]
        freed = sum(one.stat().st_size for one in gone)
        for one in gone:
            one.unlink()
    if not gone:
        return "Nothing to remove: the log or its undo speaks of every file."
    return f"Removed: {count_words(len(gone), 'file')}, {freed / 1_000_000:.1f} MB."


def _spoken_of(store: Store) -> set[str]:
    """Files of photos, and of those that undo or redo could bring back: their row is kept with the change.

    The third column of the table is the file's name; of a row that was added only the first two are kept.
    """
    kept = store.rows("SELECT v2 FROM change_row WHERE table_name = 'photo' AND v2 IS NOT NULL")
    return {photo.file for photo in every(store, Photo)} | {str(name) for (name,) in kept}


def _is_stale(desk: Desk, path: Path) -> bool:
    return desk.now().timestamp() - os.stat(path).st_mtime > _STALE_SECONDS  # noqa: PTH116
