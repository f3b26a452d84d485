"""What is said beside the statement: no good word, no invitation to fly."""

from __future__ import annotations

import re
from pathlib import Path

import hingeline.motion
from hingeline.motion import words
from hingeline.motion.evidence import DECIDING

ROOM = Path(hingeline.motion.__file__).parent


def test_every_ground_has_reasons_a_next_recording_and_evidence() -> None:
    """No rule can speak without its sentences."""
    assert set(words._REASONS) == set(words._NEXT) == set(DECIDING)


def test_no_sentence_asks_for_a_faster_flight() -> None:
    """What to record next never says faster, again in flight, or more speed; slower is the only direction."""
    said = " ".join(sentence for each in words._NEXT.values() for sentence in each).lower()

    assert not re.search(r"faster|more speed|higher (air)?speed|in flight|fly", said)


def test_no_good_word_is_a_statement() -> None:
    """No meaning of a statement and no caution says that something is safe, good or passed."""
    said = " ".join((*words.MEANINGS.values(), *words.CAUTIONS)).lower()

    assert not re.search(r"\b(safe|ok|pass(ed)?|harmless|cleared|no flutter)\b", said)


def test_only_dying_out_speaks_of_damping_and_only_of_this_recording() -> None:
    """Its meaning limits it; all others say that self-excitation is meant or not excluded."""
    assert "only" in words.MEANINGS["dying out"]
    for statement in ("irregular", "cannot tell"):
        assert "not excluded" in words.MEANINGS[statement]
