"""Which way a document's plus points: whole words that are known say it, anything else is refused with a remedy."""

from __future__ import annotations

import pytest

from hingeline.errors import InputRefused
from hingeline_app.files.limits_file import read_limits, read_row
from hingeline_app.files.plus_sense import NOSE_HEAVY, TAIL_HEAVY, sense_of

ROW = {"surface": "Rudder", "positive": "nose heavy", "moment": ["0.2 in-lb", "3 in-lb"]}


@pytest.mark.parametrize(
    ("words", "sense"),
    [
        ("tail-heavy", TAIL_HEAVY),
        ("Tail heavy (+)", TAIL_HEAVY),
        ("+ = trailing edge down", TAIL_HEAVY),
        ("Static balance, trailing edge heavy", TAIL_HEAVY),
        ("T.E. heavy", TAIL_HEAVY),
        ("under-balanced", TAIL_HEAVY),
        ("Underbalance (trailing edge down)", TAIL_HEAVY),
        ("hecklastig positiv", TAIL_HEAVY),
        ("lourd à l'arrière", TAIL_HEAVY),
        ("not stated; by sense tail heavy", TAIL_HEAVY),
        ("tail heavy (printed: trailing edge load positive)", TAIL_HEAVY),
        ("tail heavy (printed: positive moment is T.E. heavy)", TAIL_HEAVY),
        ("positive when nose heavy", NOSE_HEAVY),
        ("leading\u2011edge\u2011heavy", NOSE_HEAVY),
        ("L. E. heavy", NOSE_HEAVY),
        ("overbalance", NOSE_HEAVY),
        ("kopflastig", NOSE_HEAVY),
        ("lourde à l’avant", NOSE_HEAVY),
    ],
)
def test_whole_words_say_which_way_the_plus_points(words: str, sense: str) -> None:
    """As documents print them, in three languages, with what may stand beside them (wording: from memory)."""
    assert sense_of(words) == sense


@pytest.mark.parametrize(
    "words",
    [
        "tail-heavy (-)", "tail-heavy (−)", "tail heavy is minus", "− nose heavy", "hecklastig negativ",
        "+ tail heavy, - nose heavy", "tail heavy / nose heavy", "table heavy", "sample heavy", "not tail heavy",
        "less nose heavy", "no underbalance", "nontail heavy", "tail heavyish", "retail heavy", "plus", "", "heavy",
        "tail heavy 2", "not stated", "tail heavy (printed: - is nose heavy)", "(printed: tail heavy)",
        "tail heavy (printed: nose heavy positive)", "nose heavy (gedruckt: hecklastig)",
        "tail heavy (maker's table)", "tail -heavy", "t" * 201, 3, None, ["tail-heavy"],
    ],
)  # fmt: skip
def test_what_is_not_wholly_understood_is_refused_and_never_taken_for_a_sense(words: object) -> None:
    """A part of a word, a minus, a negation, both ways: each would turn a limit's sign."""
    with pytest.raises(InputRefused, match="tail-heavy or nose-heavy") as refused:
        sense_of(words)
    assert "Say what the document's plus means" in refused.value.refusals[0].remedy


def test_a_word_that_speaks_of_the_minus_is_told_so() -> None:
    """The remedy names it, so that nobody types the same again."""
    with pytest.raises(InputRefused, match="It speaks of the minus"):
        sense_of("tail-heavy (-)")


@pytest.mark.parametrize(
    "word", ["nose-heavy", "tail heavy", "leading edge heavy", "tail down", "nose-heavy.", "Tail-Down. "]
)
def test_a_sense_beside_the_number_of_a_nose_heavy_row_is_refused(word: str) -> None:
    """The word makes the number tail-heavy positive already, and the row would turn it once more."""
    with pytest.raises(InputRefused, match="without a word for its sense") as refused:
        read_row({**ROW, "moment": ["0 in-lb", f"3 in-lb {word}"]})
    assert refused.value.refusals[0].field == "moment.upper"
    assert read_row(ROW).positive == NOSE_HEAVY


def test_the_same_word_in_a_tail_heavy_row_keeps_its_meaning_and_a_file_names_the_row() -> None:
    """A tail-heavy row turns nothing; in a file the place is said."""
    kept = read_row({**ROW, "positive": "tail heavy", "moment": ["3 in-lb nose-heavy", "0 in-lb"]})
    assert kept.moment.lower == pytest.approx(-3 * 0.1129848, rel=1e-6)
    text = 'format = "hingeline/limits/1"\n[[row]]\nsurface = "Rudder"\npositive = "nose heavy"\nmoment = '
    with pytest.raises(InputRefused) as refused:
        read_limits((text + '["0 N m", "2 N m"]\nsecond_unit = ["none", "20 kg cm nose heavy"]').encode())
    assert [each.field for each in refused.value.refusals] == ["row[0].second_unit.upper"]
