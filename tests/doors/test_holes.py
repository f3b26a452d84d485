"""What tools/holes.py makes of the checker's words: a list that could not be read is never taken for an empty one."""

from __future__ import annotations

from typing import Any

import pytest

from tools.holes import KNOWN, NONE_KNOWN, NOT_COMPARED, judged

CLEAN = {"name": "numpy", "version": "2.4.6", "vulns": []}
HOLED = {"name": "pillow", "version": "13.0.0", "vulns": [{"id": "X-1", "fix_versions": ["13.0.1"], "description": ""}]}
LEFT = {"name": "django", "skip_reason": "could not be audited"}


@pytest.mark.parametrize(
    ("packages", "status"),
    [([CLEAN], NONE_KNOWN), ([CLEAN, HOLED, LEFT], KNOWN), ([CLEAN, LEFT], NOT_COMPARED), ([], NOT_COMPARED)],
)
def test_only_what_was_compared_counts_as_compared(packages: list[dict[str, Any]], status: int) -> None:
    """The checker itself ends with 0 where it could ask nobody; the form of its document is from memory."""
    found, told = judged({"dependencies": packages, "fixes": []})
    assert found == status
    assert ("X-1; mended in 13.0.1" in " ".join(told)) == (HOLED in packages)
    assert ("django: not compared" in " ".join(told)) == (LEFT in packages)
