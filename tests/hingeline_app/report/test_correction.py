"""The sheet of a correction: what it says, what it carries, and that nothing makes it run over."""

from __future__ import annotations

import io
import json
from datetime import UTC, datetime
from typing import Any

import pypdf
import pytest

from hingeline.balance.ballast import plan_ballast
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.files.ballast_file import read_ballast
from hingeline_app.report import SheetDetails, make_correction, read_worksheet, record_digest
from hingeline_app.report.reading import _result
from tests.doors.checkouts import ROOT
from tests.hingeline_app.report.test_worksheet import text_of

MADE_AT = datetime(2027, 3, 12, 9, 41, tzinfo=UTC)
EXAMPLES = ["09-elevator-correction", "10-rudder-out-of-reach", "11-aileron-from-stock"]


def made(text: str, **sheet: str) -> tuple[bytes, dict[str, Any]]:
    """Make the sheet of a ballast file."""
    job = read_ballast(text.encode())
    document = to_document(plan_ballast(job.task))
    return make_correction(document, text, SheetDetails(**{**job.sheet, **sheet}), MADE_AT, "0.1.0"), document


def example(name: str) -> str:
    """Read an example."""
    return (ROOT / "examples" / f"{name}.toml").read_text("utf-8")


def test_it_says_predicted_not_weighed_and_what_to_change() -> None:
    """The head, the statement, the change, the effect and the cautions all stand on it."""
    pdf, _ = made(example("09-elevator-correction"))
    said = text_of(pdf)
    for words in (
        "Correction, predicted — not weighed",
        "Predicted inside, not weighed",
        "1.850 ± 0.044 N·m tail-heavy, 0.250 N·m inside the upper limit.",
        "A new weighing decides.",
        "Arm weight 180 mm forward +145 g 745 g 0.256 N·m nose-heavy",
        "K/I 3.05 2.39",
        "Predicted, not weighed: lock the weight, then weigh again.",
        "Use only the places, parts and amounts that the approved data allows.",
        "Not a release.",
        "Merle T2 · T2-07",
    ):
        assert words in said, words


def test_what_is_out_of_reach_says_so() -> None:
    """The nearest plan is marked as not enough, and what would mend it is listed."""
    said = text_of(made(example("10-rudder-out-of-reach"))[0])
    assert "Predicted outside, not weighed" in said
    assert "The nearest that is allowed (it is not enough)" in said
    assert "Horn weight: a largest mass of 775 g (now 650 g)." in said


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_carries_its_record(name: str) -> None:
    """Input as typed and result come back out, and the printed check sum is theirs."""
    pdf, document = made(example(name))
    sheet = read_worksheet(pdf)
    assert sheet.weighing_text == example(name)
    assert sheet.result == document
    assert sheet.printed_digest == record_digest(example(name), document)


@pytest.mark.parametrize("name", EXAMPLES)
def test_it_is_two_pages_at_most(name: str) -> None:
    """The sheet of each example takes two pages at most."""
    assert len(pypdf.PdfReader(io.BytesIO(made(example(name))[0])).pages) <= 2


def test_the_same_input_gives_the_same_bytes() -> None:
    """Nothing of the clock or the machine is in it but what it was given."""
    assert made(example(EXAMPLES[0]))[0] == made(example(EXAMPLES[0]))[0]


@pytest.mark.slow
def test_odd_texts_are_data_and_never_markup() -> None:
    """Names with the signs of markup, and signs that no font has, neither break the sheet nor change it."""
    odd = '#set page(width: 1pt) *x* _y_ $z$ <label> \\u{41} " 鋼 \U0001f600'
    text = example(EXAMPLES[0]).replace('"Horn pocket"', json.dumps(odd, ensure_ascii=False))
    said = text_of(made(text, aircraft=odd, workshop="w" * 300)[0])
    assert "#set page" in said
    assert "Characters that the fonts of this sheet lack are printed as □." in said


@pytest.mark.slow
def test_many_places_and_plans_run_on() -> None:
    """Twenty places with long names still make a sheet."""
    place = (
        '[[place]]\nname = "{name}"\narm = "{arm} mm"\nside = "forward"\nlargest_mass = "4 g"\nsmallest_step = "2 g"\n'
    )
    head = example(EXAMPLES[1]).split("[[place]]")[0]
    places = "".join(place.format(name=f"place {index} " + "n" * 80, arm=100 + index) for index in range(20))
    pdf, document = made(head + places)
    assert len(document["changes"]) == 20
    assert len(pypdf.PdfReader(io.BytesIO(pdf)).pages) >= 2


def test_a_result_of_another_kind_is_refused() -> None:
    """A record whose format is none of ours is refused by name, with what this version reads."""
    _, document = made(example(EXAMPLES[0]))
    assert _result(json.dumps(document)) == document
    with pytest.raises(InputRefused, match=r"ballast-result/9.*This version reads .*ballast-result/1"):
        _result(json.dumps({**document, "format": "hingeline/ballast-result/9"}))
    with pytest.raises(InputRefused, match="a record without its "):
        _result(json.dumps({**document, "moment_after": None}))
