"""A kept result is worked out again, or it is said why not: whatever was cut off or edited, never a traceback."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest

from hingeline_app.replaying.kept_result import CUT_OFF, NO_SUCH_KIND, replayed
from hingeline_app.replaying.worked_out import WORKED_OUT, worked_out_again

FORMAT = "hingeline/weighing-result/1"
FILE = (Path(__file__).parents[3] / "examples" / "01-elevator-left-half.toml").read_text("utf-8")
ASKED, KEPT = json.dumps({"file": FILE}), json.dumps(worked_out_again(FORMAT, FILE.encode()))


def test_a_kept_result_comes_out_the_same_and_one_changed_digit_is_told() -> None:
    """To the last digit; what was typed beside it is what it is worked out from."""
    assert replayed(FORMAT, 1, ASKED, KEPT, "1.0.0").same
    edited = json.loads(KEPT)
    edited["static_moment"]["value"] = math.nextafter(edited["static_moment"]["value"], 10.0)
    (told,) = replayed(FORMAT, 1, ASKED, json.dumps(edited), "1.0.0").differences
    assert told["field"] == "static_moment.value"


@pytest.mark.parametrize(("digit", "rounding"), [(1e-14, True), (1e-9, False), (-2.0, False)])
def test_last_digits_alone_are_said_to_be_rounding_and_stay_a_difference(digit: float, rounding: bool) -> None:
    """A margin kept as 0.00499...9893 is 0.005 now: not the same, and why is said. A billionth is no rounding."""
    edited = json.loads(KEPT)
    edited["static_moment"]["value"] *= 1.0 + digit
    found = replayed(FORMAT, 1, ASKED, json.dumps(edited), "1.0.0")
    assert (found.same, found.by_rounding) == (False, rounding)
    edited["statement"] = "none"
    assert not replayed(FORMAT, 1, ASKED, json.dumps(edited), "1.0.0").by_rounding


def test_a_sentence_of_another_version_is_told_apart_and_makes_no_number_another_one() -> None:
    """A correction that was kept before a note was added came out as "not the same" with every number as it was."""
    before = json.loads(KEPT)
    before["notes"], before["cautions"][0] = before["notes"][1:], "As an earlier version said it."
    found = replayed(FORMAT, 1, ASKED, json.dumps(before), "1.0.0")
    assert (found.same, found.differences) == (True, ())
    assert [each["field"] for each in found.worded_otherwise] == ["cautions[0]", "notes"]
    before["statement"] = "inside" if before["statement"] == "outside" else "outside"
    found = replayed(FORMAT, 1, ASKED, json.dumps(before), "1.0.0")
    assert (found.same, [each["field"] for each in found.differences]) == (False, ["statement"])
    assert [each["field"] for each in found.told] == ["statement", "cautions[0]", "notes"]


@pytest.mark.parametrize("kept", [KEPT[:200], "", "[]", "3", '{"a": NaN}', "[" * 5000, "null"])
def test_a_kept_result_that_is_cut_off_is_said_to_be(kept: str) -> None:
    """Its place in the records does not make it readable: the page shows the sentence."""
    found = replayed(FORMAT, 1, ASKED, kept, "1.0.0")
    assert (found.same, found.differences, found.why_not) == (False, (), CUT_OFF)


@pytest.mark.parametrize("asked", [ASKED[:100], "[1]", '{"format": "hingeline/weighing/1", "support": [null]}'])
def test_what_was_asked_and_is_cut_off_is_said_to_be(asked: str) -> None:
    """The same for the job file that a result was worked out from."""
    assert replayed(FORMAT, 1, asked, KEPT, "1.0.0").why_not == CUT_OFF


def test_only_a_kind_that_nothing_makes_is_called_so(monkeypatch: pytest.MonkeyPatch) -> None:
    """A fault of our own inside the work, a name that is looked up in vain, is not told as an unknown kind."""
    assert replayed("hingeline/unheard-of-result/1", 1, ASKED, KEPT, "1.0.0").why_not == NO_SUCH_KIND

    def at_fault(_data: bytes) -> object:
        raise KeyError("inner")

    monkeypatch.setitem(WORKED_OUT, FORMAT, at_fault)
    with pytest.raises(KeyError, match="inner"):
        replayed(FORMAT, 1, ASKED, KEPT, "1.0.0")
