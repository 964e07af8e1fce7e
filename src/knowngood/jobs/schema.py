"""The form of a workshop file: its tables, the triggers that guard the journal, its number.

The statements are kept here word for word, so that a file whose tables or triggers are not these is noticed when it
is opened.
"""

from __future__ import annotations

import sqlite3

from sqlalchemy import Column, Integer, MetaData, Table, Text

SCHEMA = 1
"""Number of this form, kept in the file (``user_version``)."""

MARK = 0x6B67_7773
"""Says that a database is a workshop file (``application_id``; "kgws" in ASCII)."""

# Without a rowid the id is the only key: nothing else can be named to replace a row.
STATEMENTS = {
    "entry": """CREATE TABLE entry (
    id TEXT NOT NULL PRIMARY KEY CHECK (typeof(id) = 'text' AND id <> ''),
    job TEXT NOT NULL,
    seq INTEGER NOT NULL,
    at TEXT NOT NULL,
    entered TEXT NOT NULL,
    line TEXT NOT NULL,
    look TEXT NOT NULL,
    body TEXT NOT NULL,
    version INTEGER NOT NULL
) WITHOUT ROWID""",
    "entry_of_job": "CREATE INDEX entry_of_job ON entry (job, seq)",
    "entry_is_never_changed": """CREATE TRIGGER entry_is_never_changed BEFORE UPDATE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END""",
    "entry_is_never_deleted": """CREATE TRIGGER entry_is_never_deleted BEFORE DELETE ON entry
BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END""",
    "entry_is_never_replaced": """CREATE TRIGGER entry_is_never_replaced BEFORE INSERT ON entry
WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id)
BEGIN SELECT RAISE(ABORT, 'an entry is never replaced'); END""",
    "card": """CREATE TABLE card (
    job TEXT NOT NULL,
    field TEXT NOT NULL,
    text TEXT NOT NULL,
    PRIMARY KEY (job, field)
) WITHOUT ROWID""",
}

_METADATA = MetaData()

ENTRY = Table(
    "entry",
    _METADATA,
    Column("id", Text, primary_key=True),
    Column("job", Text),
    Column("seq", Integer),
    Column("at", Text),
    Column("entered", Text),
    Column("line", Text),
    Column("look", Text),
    Column("body", Text),
    Column("version", Integer),
)

CARD = Table(
    "card",
    _METADATA,
    Column("job", Text, primary_key=True),
    Column("field", Text, primary_key=True),
    Column("text", Text),
)


def make(connection: sqlite3.Connection) -> None:
    """Write the form into an empty database, in one transaction."""
    connection.execute("BEGIN IMMEDIATE")
    for statement in STATEMENTS.values():
        connection.execute(statement)
    connection.execute(f"PRAGMA application_id = {MARK}")
    connection.execute(f"PRAGMA user_version = {SCHEMA}")
    connection.execute("COMMIT")


def number(connection: sqlite3.Connection) -> int | None:
    """The number of the form of a file; ``None`` when it is not a workshop file."""
    (mark,) = connection.execute("PRAGMA application_id").fetchone()
    (found,) = connection.execute("PRAGMA user_version").fetchone()
    return int(found) if mark == MARK else None


def differs(connection: sqlite3.Connection) -> list[str]:
    """Names of tables, indexes and triggers that are missing, changed or too many."""
    query = "SELECT name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%'"
    met = dict(connection.execute(query).fetchall())
    return sorted(name for name in STATEMENTS.keys() | met.keys() if STATEMENTS.get(name) != met.get(name))
