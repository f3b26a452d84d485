"""A workshop that is put before a test as a copy is the one that the acts make, and new."""

from __future__ import annotations

import re
import sys

from tests.doors.checkouts import ROOT
from tests.hingeline_app.made_once import REMEMBERED

A_MEMORY = re.compile(r"^(_\w+): dict\[.+\] = \{\}$", re.M)


def test_every_memory_of_a_workshop_is_emptied() -> None:
    """Each dictionary that a file of the records fills while the program runs is among those that a copy empties."""
    found = {}
    for path in sorted((ROOT / "src/hingeline_app/records").rglob("*.py")):
        module = ".".join(path.relative_to(ROOT / "src").with_suffix("").parts)
        for name in A_MEMORY.findall(path.read_text(encoding="utf-8")):
            found[f"{module}.{name}"] = getattr(sys.modules[module], name)
    assert found
    assert [name for name, memory in found.items() if not any(memory is each for each in REMEMBERED)] == []
