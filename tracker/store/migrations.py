"""Numbered schemas and how an older file becomes a newer one; loaded only when one is pending.

A migration is frozen once shipped. Rows kept for undo (`change_row`) have the shape of their schema:
one that changes a journaled table gives them the new shape, or empties the journal where it cannot.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from datetime import datetime
from functools import partial

from sqlite_utils import Database, Migrations

from tracker.store import schema1, schema2, schema3, schema4, schema5, schema6
from tracker.store.backups import back_up, default_folder, make
from tracker.store.numbers import APPLICATION_ID
from tracker.store.seals import broken_seals, seal_all

__all__ = ["MIGRATIONS", "back_up", "migrate"]

MIGRATIONS = Migrations("lastcoat")


@MIGRATIONS(name="schema 1")
def to_schema_1(db: Database) -> None:
    """An empty file becomes a log."""
    for statement in schema1.statements():
        db.execute(statement)


@MIGRATIONS(name="schema 2")
def to_schema_2(db: Database) -> None:
    """The lamp, the half-typed evening, and the part of a model."""
    for statement in schema2.statements():
        db.execute(statement)


@MIGRATIONS(name="schema 3")
def to_schema_3(db: Database) -> None:
    """Declared evenings, days away, goals."""
    for statement in schema3.statements():
        db.execute(statement)


@MIGRATIONS(name="schema 4")
def to_schema_4(db: Database) -> None:
    """How units rank up."""
    for statement in schema4.statements():
        db.execute(statement)


@MIGRATIONS(name="schema 5")
def to_schema_5(db: Database) -> None:
    """The bench book."""
    for statement in schema5.statements():
        db.execute(statement)


@MIGRATIONS(name="schema 6")
def to_schema_6(db: Database) -> None:
    """Seals; they are set when every pending migration has run."""
    for statement in schema6.statements():
        db.execute(statement)


def migrate(
    connection: sqlite3.Connection,
    path: str,
    newest: int,
    migrations: Migrations = MIGRATIONS,
    keep: Callable[[int], object] | None = None,
) -> None:
    """Bring the log to schema `newest` in one transaction; an existing log is backed up before.

    `keep` makes that backup, told the schema it is of; without it, it lies beside the log.
    Another process may be doing the same: whoever comes second finds nothing left to do.
    """
    connection.execute("BEGIN IMMEDIATE")
    try:
        version: int = connection.execute("PRAGMA user_version").fetchone()[0]
        if version < newest:
            if version:
                (keep or partial(_keep, path))(version)
            whole = _is_whole(connection)
            migrations.apply(Database(connection))
            if whole:
                seal_all(connection)
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            connection.execute(f"PRAGMA user_version = {newest:d}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _keep(path: str, version: int) -> None:
    make(path, default_folder(path), f"schema-{version}", datetime.now())


def _is_whole(connection: sqlite3.Connection) -> bool:
    """Whether nothing was damaged before: a migration must not seal what its seals do not hold for."""
    known = connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'seal'").fetchone()
    return not known or not broken_seals(connection)
