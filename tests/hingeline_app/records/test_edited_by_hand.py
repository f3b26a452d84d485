"""What a hand can write into the database file that no page writes: bytes for letters, a secret of one's own."""

from __future__ import annotations

import pytest

from hingeline_app.records.rows import is_same_secret, secret_as_noted
from hingeline_app.settings.databases import FILE_NAME
from tests.hingeline_app.records import test_tampering
from tests.hingeline_app.records.damaged_records import Damage, found, look

any_database, damage = test_tampering.any_database, test_tampering.damage

# What columns of a row may hold after a hand: no day, no UTF-8, brackets without end, no identifier.
NO_VALUES: dict[str, tuple[str, str]] = {
    "UPDATE records_person SET name = x'fffe' WHERE name = 'Bo Lind'": ("row", "cannot be read"),
    "UPDATE records_person SET workshop_id = 'x' WHERE name = 'Bo Lind'": ("row", "cannot be read"),
    "UPDATE records_person SET identifier = x'fffe' WHERE name = 'Bo Lind'": ("row", "cannot be read"),
    "UPDATE records_workshop SET identifier = 'x'": ("row", "cannot be read"),
    "UPDATE records_entry SET position = 'x' WHERE position = 12": ("chain", ""),
    "UPDATE records_entry SET workshop_id = x'ff' WHERE position = 12": ("journal", "ahead by"),
    "UPDATE records_entry SET body = x'fffe' WHERE position = 3": ("chain", ""),
    "UPDATE records_entry SET body = CAST(x'fffe' AS TEXT) WHERE position = 3": ("chain", ""),
    "UPDATE records_entry SET kind = CAST(x'fffe' AS TEXT) WHERE position = 3": ("chain", ""),
    "UPDATE records_person SET name = CAST(x'fffe' AS TEXT) WHERE name = 'Bo Lind'": ("row", "cannot be read"),
    'UPDATE records_entry SET body = replace(body, \'"rows":[\', \'"beside":{"digest":1,"position":"x"},"rows":[\')'
    " WHERE position = 3": ("chain", ""),
    'UPDATE records_entry SET body = replace(body, \'"says":{}\', \'"software":"x","attachments":5\')'
    " WHERE position = 3": ("chain", ""),
    f"UPDATE records_entry SET body = '{'[' * 9000}' WHERE position = 3": ("chain", ""),
}


@pytest.mark.fault("F27")
def test_what_no_column_takes_is_named_and_ends_no_look(damage: Damage) -> None:
    """The file takes any bytes in any column: the look names the row or the entry, and never falls over itself."""
    whole = (damage.folder / FILE_NAME).read_bytes()
    for command, (what, says) in NO_VALUES.items():
        (damage.folder / FILE_NAME).write_bytes(whole)
        damage.without_triggers("PRAGMA foreign_keys = OFF", command)
        outcome = look(damage.folder)
        assert [each for each in outcome.findings if each.what == what and says in each.says], command
        assert not outcome.may_sign, command


@pytest.mark.fault("F27", "F37")
def test_a_secret_that_was_swapped_is_named(damage: Damage) -> None:
    """Another's password put in place of a person's own: whoever did it could sign as that person. A PIN, a tablet too.

    The check sum is of what is kept, which is salted; secrets noted before there was one are set, or are not.
    """
    for table, column in (("account", "password"), ("tablet", "token_digest")):
        whole = (damage.folder / FILE_NAME).read_bytes()
        with damage.database() as connection:
            connection.execute(f"UPDATE records_{table} SET {column} = 'pbkdf2$1$of$another'")
        (finding,) = found(damage.folder)
        assert column in finding.says
        assert "another" not in finding.says
        assert not look(damage.folder).may_sign
        (damage.folder / FILE_NAME).write_bytes(whole)
    assert is_same_secret("set", secret_as_noted("a"))
    assert is_same_secret(secret_as_noted("a"), "set")
    assert not is_same_secret(secret_as_noted("a"), secret_as_noted("b"))
    assert not is_same_secret("not set", "set")
    assert secret_as_noted("lost 7") == "set"
