"""Whether the server that is to keep the records can be reached: said in words, before anything is done."""

from __future__ import annotations

from urllib.parse import urlsplit

from hingeline.errors import InputRefused
from hingeline_app.settings import databases, places

EXPECTED = "postgresql://user@host/name"


def refuse_what_is_no_address() -> None:
    """Look at the address before the framework reads it; without one a file keeps the records.

    Raises
    ------
    InputRefused
        It names no PostgreSQL database.
    """
    address = places.database_address()
    if address is None:
        return
    try:
        databases.postgresql(address)
    except ValueError:
        remedy = "Write it so, or leave it unset: then one file in the folder keeps the records."
        raise InputRefused.of(places.DATABASE, without_password(address), EXPECTED, remedy) from None


def refuse_a_server_that_does_not_answer() -> None:
    """Reach the server once; the framework is set up.

    The connection is closed again: a process that forks afterwards must not share one with its children.

    Raises
    ------
    InputRefused
        Nobody answers there, or not to this user.
    """
    address = places.database_address()
    if address is None:
        return
    from django.db import OperationalError, connection

    try:
        connection.ensure_connection()
    except OperationalError as fault:
        said = str(fault).strip().splitlines()[0].rstrip(".")
        remedy = f"Start it, or name the right one with {places.DATABASE} ({said})."
        raise InputRefused.of(
            places.DATABASE, without_password(address), "a database server that answers", remedy
        ) from None
    connection.close()


def without_password(address: str) -> str:
    """Give an address as it may be shown."""
    try:
        password = urlsplit(address).password
    except ValueError:
        return "…"
    return address.replace(f":{password}@", "@") if password else address
