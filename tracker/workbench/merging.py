"""Joining the log of another machine to this one."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from tracker.domain.merged import Merged
from tracker.domain.problems import DataError, Problem
from tracker.workbench.desk import Desk
from tracker.workbench.words import count_words

if TYPE_CHECKING:
    from tracker.store.journal import Store
    from tracker.store.merging import Joining


def merge_log(desk: Desk, file: str, *, take_theirs: bool = False, dry_run: bool = False) -> Merged:
    """Bring in what the log in `file` has and ours does not, as one change that undo takes back.

    `file` is another log or the document that `export all` writes; it is only read. Where both say something
    else ours stays, unless `take_theirs`. Raises `DataError` where the file is no log or is damaged.
    """
    from tracker.store.merging import Joining

    with _other(desk, file) as theirs:
        if not dry_run:
            _back_up(desk)
        with desk.open(create=True) as store, store.change("merge", file) as change:
            joining = Joining(store, theirs, take_theirs=take_theirs)
            joining.join()
            changed = bool(
                store.rows("SELECT 1 FROM change_row WHERE change_id = ? LIMIT 1", (change.number,))
            )
            done = _merged(joining, file)._replace(changed=changed, dry_run=dry_run)
            change.kept = not dry_run
            change.words = _words(done)
    return done


@contextmanager
def _other(desk: Desk, file: str) -> Iterator[Store]:
    from tracker.store.other_log import from_database, from_document, is_database

    if is_database(file):
        with from_database(file, desk.now, desk.new_uid) as store:
            yield store
        return
    from tracker.sheets.document import read_document
    from tracker.sheets.files import read_text

    text = read_text(file)
    if isinstance(text, Problem):
        raise DataError(text)
    document = read_document(text)
    if isinstance(document, Problem):
        raise DataError(document._replace(where=f"{file}: {document.where}"))
    with from_document(document, file, desk.now, desk.new_uid) as store:
        yield store


def _back_up(desk: Desk) -> None:
    """Keep the log as it was; one that is not there yet has nothing to keep."""
    if not os.path.exists(desk.path):  # noqa: PTH110 - a text path
        return
    from tracker.workbench.backups import before

    before(desk, "merge")


def _merged(joining: Joining, file: str) -> Merged:
    return Merged(
        file, dict(joining.added), joining.same, joining.taken, joining.kept, tuple(joining.clashes),
        tuple(joining.told()), joining.added["photo"],
    )  # fmt: skip


def _words(done: Merged) -> str:
    """As undo says it again: "laptop.db: 3 lines, 1 unit"."""
    counted = [count_words(done.added[table], table) for table in ("line", "unit") if done.added.get(table)]
    return f"{os.path.basename(done.file)}: {', '.join(counted) or 'what is new in it'}"  # noqa: PTH119
