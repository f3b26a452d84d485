"""What a page says it showed comes back as JSON: whatever is sent in its place is refused, never an error."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.web.entry_kinds.rows import was_shown


def told(was: str) -> Any:
    return SimpleNamespace(text=lambda name: was if name == "was" else "")


@pytest.mark.parametrize("was", ["{", "[1", "[" * 50_000, "\x00", "undefined"])
def test_what_does_not_read_is_refused(was: str) -> None:
    """Brackets within brackets without end among them, which ended in a fault of the program."""
    with pytest.raises(InputRefused, match="what the page showed"):
        was_shown(told(was))


def test_nothing_shown_is_nothing() -> None:
    """An empty field is a place that held nothing; a table comes back as it was."""
    assert was_shown(told("")) is None
    assert was_shown(told('{"a": 1}')) == {"a": 1}
