"""Kinds by content, marks as text and back, what differs, the words of the page: each alone."""

from __future__ import annotations

import re
import tomllib
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline.errors import InputRefused
from hingeline.motion import recording_of
from hingeline_app.evidence.answer import answer_of_file
from hingeline_app.evidence.asked import Asked, asked_of
from hingeline_app.evidence.flutter_lines import flutter_lines
from hingeline_app.evidence.kinds import kind_of
from hingeline_app.evidence.marks_text import Placed, PlacedMarks, marks_text
from hingeline_app.evidence.views import MEANINGS, WINDINGS, items_of, pace_words, time_words, views_of
from hingeline_app.figures.motion.waves import STATEMENTS, draw_wave
from hingeline_app.files.again import differing
from hingeline_app.files.marks_file import read_marks
from tests.doors.checkouts import ROOT

NAMES = st.text(st.characters(exclude_categories=("Cs", "Cc", "Cf", "Co", "Cn", "Zl", "Zp")), min_size=1, max_size=30)
PLACES = st.floats(0.0, 9000.0)
GROWING = (ROOT / "examples" / "motion" / "04-growing.csv").read_bytes()


@pytest.mark.parametrize(
    ("head", "kind"),
    [
        (b"\x00\x00\x00\x18ftypmp42", "video"),
        (b"\x00\x00\x00\x14pnot" + bytes(12), "video"),
        (b"\x1a\x45\xdf\xa3" + bytes(20), "video"),
        (b"RIFF\x00\x00\x00\x00AVI LIST", "video"),
        (b"RIFF\x00\x00\x00\x00WAVEfmt ", "sound"),
        (b"time_s,plunge_mm\n0,1\n", "table"),
        ("Zeit;Höhe\n".encode(), "table"),
    ],
)
def test_a_file_is_known_by_its_content(head: bytes, kind: str) -> None:
    """Whatever its name says."""
    assert kind_of(head, "anything.bin") == kind


@pytest.mark.parametrize(
    "head", [b"", b" \n", b"PK\x03\x04", b"%PDF-1.4", b"\x89PNG\r\n", b"\xff\xd8\xff\xe0JFIF", b"a\x00b"]
)
def test_what_is_none_of_the_three_is_refused_with_what_is_wanted(head: bytes) -> None:
    with pytest.raises(InputRefused, match="WAV"):
        kind_of(head, "a file")


@given(st.lists(st.tuples(NAMES, PLACES, PLACES), min_size=2, max_size=8, unique_by=lambda each: each[0].strip()))
def test_placed_marks_come_back_from_the_marks_file_as_they_were_placed(marks: list[tuple[str, float, float]]) -> None:
    """Any name that can be read, any place: the file reads, and a place is kept to a hundredth of a pixel."""
    placed = [Placed(name, "dot", "section", x, y) for name, x, y in marks if name.strip()]
    if len(placed) < 2:
        return
    between = (placed[0].name, placed[1].name)
    text = marks_text(PlacedMarks(placed, "right", "on a stand", "160 mm", between, (1.25, 2.5), "18 ms", "a name"))
    try:
        read = read_marks(text.encode())
    except InputRefused as refused:
        # A name may be refused as a name, never the file as a file.
        assert all("name" in each.field or "between" in each.field for each in refused.refusals), refused  # noqa: PT017
        return
    assert (read.nose, read.camera, read.reference) == ("right", "on a stand", (1.25, 2.5))
    for mark, wanted in zip(read.marks, placed, strict=True):
        assert mark.at is not None
        assert mark.name.strip() == unicodedata.normalize("NFC", wanted.name).strip()
        assert mark.at == pytest.approx((wanted.x, wanted.y), abs=0.0051)


def test_what_was_asked_is_kept_and_read_back() -> None:
    asked = Asked({"pitch_deg": "Angle"}, 240.0, True, "marks")
    assert asked_of(asked.plain()) == asked
    assert asked_of({}) == Asked()


def test_every_difference_is_named_with_both_values() -> None:
    """A number, a list of another length, a field that is gone, 1 for 1.0."""
    kept = {"a": {"b": [1.0, 2.0]}, "c": [1], "d": 1.0, "e": "x"}
    again = {"a": {"b": [1.0, 2.5]}, "c": [1, 2], "d": 1, "f": "x"}
    found = {each["field"]: (each["kept"], each["again"]) for each in differing("", kept, again)}
    assert found["a.b[1]"] == ("2.0", "2.5")
    assert set(found) == {"a.b[1]", "c", "d", "e", "f"}
    assert list(differing("", kept, kept)) == []


def test_the_five_words_have_five_signs_meanings_and_windings() -> None:
    """No two signs are alike, and none has a colour of its own."""
    signs = {draw_wave(each) for each in STATEMENTS}
    assert len(signs) == 5
    assert set(STATEMENTS) == set(MEANINGS) == set(WINDINGS)
    assert not any(re.search(r"\b(out|near|in)\b", sign.split("aria-label")[0]) for sign in signs)
    assert not re.search(r"\b(safe|fine|clear|good)\b", " ".join(MEANINGS.values()))


def test_a_growing_recording_is_drawn_with_its_doubling_time_and_every_item() -> None:
    """Words and pictures of an example: both channels, so pitch against plunge; each item of evidence is a row."""
    answered = answer_of_file(GROWING, Asked(), "growing.csv")
    views = views_of(answered.document, answered.recording)
    rate = answered.document["growth_rate"]["value"]
    assert pace_words(answered.document) == f"growing: twice the size every {0.6931 / rate:.2g}\u00a0s"
    assert views.portrait_title == "Pitch against plunge"
    assert "winds outward" in views.portrait
    assert len(items_of(answered.document)) == len(answered.document["evidence"])
    assert time_words(answered.document) == "true time known as given"


def test_with_one_channel_speed_stands_against_place() -> None:
    """A recording of plunge alone has a portrait too: its own speed upwards."""
    answered = answer_of_file(GROWING, Asked(), "growing.csv")
    plunge = next(each for each in answered.recording.channels if each.quantity == "plunge")
    values = [0.0 if each is None else each for each in plunge.values]
    alone = recording_of(answered.recording.times, {"plunge": values})
    assert views_of(answered.document, alone).portrait_title == "Speed against place"


def test_a_taps_lines_are_toml_whatever_the_file_was_called() -> None:
    """A name of a file may hold any character; TOML takes no control character as it is (TOML 1.0.0, String)."""
    frequency = {"value": 6.1, "low": 6.0, "high": 6.2}
    document = {
        "name": 'tap "1"\x7f\n',
        "refused": "",
        "modes": [{"frequency": frequency, "damping_ratio": {"value": 0.02}}],
    }
    lines = flutter_lines(document, ["tailplane.support_frequency"], "0" * 64)
    written = tomllib.loads(
        lines.replace("# under [tailplane]", "[tailplane]").replace("# under [sources]", "[sources]")
    )
    assert document["name"] in written["sources"]["tailplane.support_frequency"]
