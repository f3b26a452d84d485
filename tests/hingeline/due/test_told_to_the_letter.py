"""The reason and the notes of every case, to the letter: what an engineer reads was read by one of us.

After a change of wording: ``python -m tests.hingeline.due.test_told_to_the_letter``, and read what differs.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tests.hingeline.due.test_cases import CASES, stated
from tests.hingeline.due.test_landings_as_hours import in_hours_alone, in_landings

KEPT = Path(__file__).with_name("told.json")
ASKED = {case["name"]: case for case in CASES} | {
    f"{case['name']}, in landings": in_landings(case) for case in CASES if in_hours_alone(case)
}


def told(case: dict[str, Any]) -> list[str]:
    """Give the reason, then the notes."""
    state = stated(case)
    return [state.because, *state.notes]


@pytest.mark.parametrize("name", ASKED)
def test_reason_and_notes_are_those_that_were_read(name: str) -> None:
    """No word more, none less."""
    assert told(ASKED[name]) == json.loads(KEPT.read_text("utf-8"))[name]


def test_nothing_is_kept_of_a_case_that_is_gone() -> None:
    """The kept sentences are those of the cases."""
    assert set(json.loads(KEPT.read_text("utf-8"))) == set(ASKED)


if __name__ == "__main__":
    KEPT.write_text(
        json.dumps({name: told(case) for name, case in ASKED.items()}, indent=1, ensure_ascii=False) + "\n", "utf-8"
    )
