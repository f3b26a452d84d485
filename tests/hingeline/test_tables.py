"""Tables of the library are read once, and only from their own room."""

from __future__ import annotations

import pytest

from hingeline.tables import read_table


def test_a_table_is_read_once():
    """The second reader gets the very same table."""
    assert read_table("hingeline.units", "table.toml") is read_table("hingeline.units", "table.toml")


@pytest.mark.parametrize("name", ["../tables.py", "a/b.toml", "..\\x.toml", "table", ""])
def test_a_name_that_leads_elsewhere_is_refused(name):
    """Only a bare name ending in .toml is a table."""
    with pytest.raises(ValueError, match=r"is not the name of a table beside hingeline\.units"):
        read_table("hingeline.units", name)


def test_a_missing_table_says_which():
    """The name of the missing file stands in the error."""
    with pytest.raises(FileNotFoundError, match=r"nothing\.toml"):
        read_table("hingeline.units", "nothing.toml")
