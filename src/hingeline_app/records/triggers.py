"""What the database itself refuses of the ledger: change, deletion, replacement, gaps.

On SQLite a ``REPLACE`` deletes without asking the triggers unless ``recursive_triggers`` is
on; a guard before each insert refuses it in any case. Whoever may drop a trigger can still
do so: the check at start compares them with what stands here.
"""

from __future__ import annotations

from django.db.backends.base.base import BaseDatabaseWrapper

TABLE = "records_entry"
REFUSAL = "the ledger is append-only"

SQLITE = {
    "entry_no_update": f"BEFORE UPDATE ON {TABLE} BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END",
    "entry_no_delete": f"BEFORE DELETE ON {TABLE} BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END",
    "entry_no_replace": (
        f"BEFORE INSERT ON {TABLE} WHEN EXISTS (SELECT 1 FROM {TABLE} WHERE id = NEW.id OR digest = NEW.digest"
        " OR (workshop_id = NEW.workshop_id AND chain = NEW.chain AND position = NEW.position)"
        " OR (workshop_id = NEW.workshop_id AND chain = NEW.chain AND previous = NEW.previous)"
        " OR (workshop_id = NEW.workshop_id AND command_key = NEW.command_key))"
        f" BEGIN SELECT RAISE(ABORT, '{REFUSAL}'); END"
    ),
}

FUNCTION = (
    "CREATE OR REPLACE FUNCTION entry_is_append_only() RETURNS trigger LANGUAGE plpgsql AS "
    f"$$ BEGIN RAISE EXCEPTION '{REFUSAL}'; END $$"
)
POSTGRESQL = {
    "entry_no_change": f"BEFORE UPDATE OR DELETE ON {TABLE} FOR EACH ROW EXECUTE FUNCTION entry_is_append_only()",
    "entry_no_truncate": f"BEFORE TRUNCATE ON {TABLE} FOR EACH STATEMENT EXECUTE FUNCTION entry_is_append_only()",
}


def creating_commands(vendor: str) -> list[str]:
    """Give the commands that set the triggers up."""
    wanted = SQLITE if vendor == "sqlite" else POSTGRESQL
    commands = [f"CREATE TRIGGER {name} {text}" for name, text in wanted.items()]
    return commands if vendor == "sqlite" else [FUNCTION, *commands]


def missing_triggers(connection: BaseDatabaseWrapper) -> list[str]:
    """Name the triggers that are not there as they should be."""
    wanted = SQLITE if connection.vendor == "sqlite" else POSTGRESQL
    there = _sqlite_triggers(connection) if connection.vendor == "sqlite" else _postgresql_triggers(connection)
    return [name for name, text in wanted.items() if name not in there or not _same(there[name], name, text)]


def _same(found: str, name: str, text: str) -> bool:
    """SQLite keeps the text as it was given; PostgreSQL writes it anew, so there only its state is compared."""
    return found in {f"CREATE TRIGGER {name} {text}", "enabled"}


def _sqlite_triggers(connection: BaseDatabaseWrapper) -> dict[str, str]:
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = %s", [TABLE])
        return dict(cursor.fetchall())


def _postgresql_triggers(connection: BaseDatabaseWrapper) -> dict[str, str]:
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT tgname, CASE tgenabled WHEN 'D' THEN 'disabled' ELSE 'enabled' END FROM pg_trigger"
            " WHERE tgrelid = %s::regclass AND NOT tgisinternal",
            [TABLE],
        )
        return dict(cursor.fetchall())
