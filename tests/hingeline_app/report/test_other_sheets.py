"""The owner's sheet, the balance line, labels and the wording of a release: one side, true words, nothing guessed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import cv2
import numpy as np
import pytest
import typst

from hingeline.errors import InputRefused
from hingeline_app.report.balance_line import BalanceLine, PlaceChange, line_sentences, make_balance_line
from hingeline_app.report.incomplete_work import IncompleteJob, make_incomplete_paper
from hingeline_app.report.job_record import JobRecord
from hingeline_app.report.labels import MOST, Label, labels_inputs, make_labels, template
from hingeline_app.report.owner_sheet import DueAgain, make_owner_sheet
from hingeline_app.report.release_wording import DEFAULT, NAMES, check_wording, filled, make_release_wording
from hingeline_app.report.typesetting import fonts
from hingeline_app.said import reading_in
from tests.hingeline_app.report.demo import MADE_AT, demo_result, moment, quantity
from tests.hingeline_app.report.job_demo import DONE_JOB, ENDED_JOB, OPEN_JOB, german
from tests.hingeline_app.report.test_worksheet import opened, text_of

PAPERS = ("a4", "letter")
JOBS = {"open": OPEN_JOB, "done": DONE_JOB, "ended": ENDED_JOB, "german": german()}
LINE = BalanceLine(
    "Merle T2 · T2-07",
    "Elevator, left half",
    "0412-2",
    "2027-03-12",
    "Fenholt workshop",
    (PlaceChange("forward tube", 0.145, -0.18), PlaceChange("tab bracket", -0.02, 0.2)),
    4.5,
)

LEFT = IncompleteJob("0007", "Merle T2 · T2-07", "Rudder", "No bearings to be had.", "stated by Mara Tarrow")


def owner(record: JobRecord, paper: Any = "a4", due: tuple[DueAgain, ...] = (), language: str = "en") -> bytes:
    return make_owner_sheet(record, due, MADE_AT, "0.1.0", paper, language)


@pytest.mark.parametrize("language", ["en", "de", "fr"])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("case", JOBS)
def test_the_owners_sheet_is_one_side(case: str, paper: str, language: str) -> None:
    ahead = tuple(
        DueAgain(f"Check {number} of the elevator", "coming", date(2028, 3, 12), "1200") for number in range(9)
    )
    assert len(opened(owner(JOBS[case], paper, ahead, language)).pages) == 1


def test_the_owners_sheet_says_what_was_done_why_it_matters_and_when_it_is_due() -> None:
    text = text_of(owner(DONE_JOB, due=(DueAgain("Elevator balance", "coming", hours="1200"),)))
    for words in (
        "Elevator, left half was weighed about its hinge line twice. The last weighing was on 2027-03-12.",
        "Changed: forward tube, +145 g.",
        "Weighed: inside its approved limits",
        "1.852 ± 0.044 N·m tail-heavy",
        "Released on 2027-03-12, 16:05 by Marit Brandt, FI.66.0113.",
        "Elevator balance: coming, at 1200 h.",
        "Balance alone does not rule flutter out",
        "For the owner. Not a release.",
    ):
        assert words in text, words


def test_an_owner_is_told_the_worst_of_all_limits_and_not_that_of_the_moment_alone() -> None:
    """The moment lies inside, the mass outside: as on the worksheet, the surface was weighed outside its limits."""
    own, heavy = (
        {"of": of, "value": value, "statement_simple": said, "statement_guarded": said, "lower": None, "upper": upper}
        for of, value, said, upper in (
            ("static moment", moment(1.0, 0.04), "inside", None),
            ("mass", quantity(4.4, "kg"), "outside", quantity(4.3, "kg")),
        )
    )
    result = demo_result(static_moment=moment(1.0, 0.04), statement="outside", statements=[own, heavy])
    text = text_of(owner(replace(OPEN_JOB, result=result)))
    assert "Weighed: outside its approved limits" in text
    assert "Mass 4.4 kg, limits up to 4.30 kg: outside." in text


@pytest.mark.parametrize("record", [OPEN_JOB, ENDED_JOB])
def test_an_owner_is_told_where_nothing_is_released(record: JobRecord) -> None:
    text = text_of(owner(record))
    assert "Not released when this was printed: the aircraft is not to fly on the strength of this sheet." in text
    assert "Released on" not in text
    assert "No date stands in the workshop's records" in text


def test_the_line_is_mass_arm_and_moment_with_their_signs_in_words() -> None:
    """0.145 × 4.32 − 0.020 × 4.70 = 0.5324 kg m by hand; in pounds and inches 46.21 (1 lb = 0.45359237 kg exactly)."""
    assert dict(line_sentences(LINE)) == {
        "mass": "+0.125\u00a0kg",
        "arm from the datum": "4.259\u00a0m aft of the datum",
        "moment": "+0.5324\u00a0kg·m (+46.2\u00a0lb·in), adds to the moment aft of the datum",
    }
    assert pytest.approx(46.21, abs=0.005) == 0.5324 / 0.45359237 / 0.0254


def test_a_line_without_the_datum_arm_asks_for_it() -> None:
    text = text_of(make_balance_line(replace(LINE, hinge_from_datum=None), MADE_AT, "0.1.0"))
    assert "is not known here, and it is not guessed" in text
    assert "____________ kg·m, plus is aft" in text
    assert "4.259" not in text


def test_what_is_taken_off_and_what_cancels_is_said_in_words() -> None:
    off = dict(line_sentences(replace(LINE, changes=(PlaceChange("tube", -0.145, -0.18),))))
    assert off["mass"].startswith("−0.145")
    assert "takes from the moment aft of the datum" in off["moment"]
    moved = (PlaceChange("tube", 0.1, -0.18), PlaceChange("tab", -0.1, 0.2))
    assert "none: what was put on" in dict(line_sentences(replace(LINE, changes=moved)))["arm from the datum"]
    three = (PlaceChange("tube", 0.1, -0.18), PlaceChange("nose", 0.2, -0.1), PlaceChange("tab", -0.3, 0.2))
    assert dict(line_sentences(replace(LINE, changes=three)))["mass"] == "0.000\u00a0kg"


def test_a_job_that_changed_no_mass_says_so() -> None:
    assert "Nothing was put on or taken off" in text_of(make_balance_line(replace(LINE, changes=()), MADE_AT, "0.1.0"))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("case", JOBS)
def test_the_wording_is_one_side_and_never_a_release(case: str, paper: Any) -> None:
    pdf = make_release_wording(JOBS[case], "", {}, MADE_AT, "0.1.0", paper)
    text = text_of(pdf)
    assert len(opened(pdf).pages) == 1
    assert "Prepared for the licensed person. This page is not a release" in text
    assert ("Not released when this was printed" in text) == (case in ("open", "ended"))


def test_every_place_of_a_wording_is_filled_from_the_record_and_text_stays_text() -> None:
    words = filled(" ".join("{" + name + "}" for name in NAMES), DONE_JOB, {"approval_number": "FI.145.9 #panic()"})
    assert "{" not in words
    assert "________" in words  # the authority, which nothing gave
    assert "0412-2" in words
    assert "#panic()" in text_of(make_release_wording(DONE_JOB, words, {}, MADE_AT, "0.1.0"))


def test_a_record_with_braces_in_it_fills_nothing_again() -> None:
    """What a person typed is not read as a place."""
    record = replace(DONE_JOB, sheet=replace(DONE_JOB.sheet, part="{limits}"))
    assert "{limits}" in filled("{part}", record)


@pytest.mark.parametrize("wording", ["{owner}", "a { alone", "}{", "{}", "x" * 4001])
def test_a_wording_that_cannot_be_filled_is_refused(wording: str) -> None:
    with pytest.raises(InputRefused):
        check_wording(wording)


def test_our_own_wording_can_be_filled() -> None:
    assert check_wording(DEFAULT) == DEFAULT


CODE = "https://hangar.example:8443/at/6f1c2a34-0b1d-4c55-9e2f-3a7b5c9d1e2f"


def label(name: str = "Elevator, left half", depth: float | None = 0.27) -> Label:
    return Label("Surface", name, "Merle T2 · D-EFHM", CODE, "6F1C-2A34", depth)


@pytest.mark.slow
@pytest.mark.parametrize("paper", PAPERS)
def test_a_label_reads_back_from_the_print(paper: Any) -> None:
    """By OpenCV's reader, at 300 dots to the inch."""
    inputs = labels_inputs([label()], MADE_AT, "0.1.0", paper)
    png = typst.compile(template(), font_paths=fonts(), sys_inputs=inputs, format="png", ppi=300)
    assert isinstance(png, bytes)
    page = cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_GRAYSCALE)
    assert page is not None
    assert cv2.QRCodeDetector().detectAndDecode(page)[0] == CODE


def test_a_sheet_of_labels_says_what_one_weighs_and_what_it_does_at_the_trailing_edge() -> None:
    """62 × 26 mm at 200 g/m² is 0.32 g; times 9.80665 m/s² and 0.27 m that is 0.00085 N m, by hand."""
    text = text_of(make_labels([label(), label("Rudder", 0.2)], MADE_AT, "0.1.0"))
    assert "Estimate: one label weighs 0.3 g" in text
    assert "270 mm aft of the hinge line, that is 0.00085 N·m tail-heavy" in text
    assert pytest.approx(0.00085, abs=5e-6) == 0.062 * 0.026 * 0.2 * 9.80665 * 0.27
    assert "A label is a mass where it sticks" in text


def test_labels_without_a_surface_claim_no_moment() -> None:
    assert "tail-heavy" not in text_of(make_labels([label(depth=None)], MADE_AT, "0.1.0"))


@pytest.mark.parametrize("count", [0, MOST + 1])
def test_no_labels_or_too_many_are_refused(count: int) -> None:
    with pytest.raises(InputRefused, match="Choose what is to be labelled"):
        make_labels([label()] * count, MADE_AT, "0.1.0")


@pytest.mark.parametrize(
    "made",
    [
        lambda at: make_owner_sheet(DONE_JOB, (), at, "0.1.0", "a4", "en"),
        lambda at: make_release_wording(DONE_JOB, DEFAULT, {}, at, "0.1.0"),
        lambda at: make_balance_line(LINE, at, "0.1.0"),
        lambda at: make_incomplete_paper([LEFT], "Fenholt workshop", at, "0.1.0"),
    ],
    ids=["owner", "release", "balance line", "incomplete"],
)
def test_each_sheet_names_the_zone_of_the_time_at_its_foot(made: Callable[[datetime], bytes]) -> None:
    """A time without a zone is local by ISO 8601; these are of UTC."""
    assert "2027-03-12 09:41 UTC" in text_of(made(datetime(2027, 3, 12, 9, 41, tzinfo=UTC))).replace("\xa0", " ")


@pytest.mark.parametrize(
    ("language", "stand"), [("de", "Stand in den Nachweisen: "), ("fr", "État dans les dossiers : ")]
)
@pytest.mark.parametrize("record", JOBS.values(), ids=JOBS)
def test_the_wording_of_a_release_says_how_the_job_stands_in_the_readers_language(
    record: JobRecord, language: str, stand: str
) -> None:
    """What has no phrase of its own is printed in English. By the project's own rule: no sheet mixes languages."""
    with reading_in(language):
        text = text_of(make_release_wording(record, "Work.", {}, MADE_AT, "0.1.0")).replace("\xa0", " ")
    assert stand in text
    assert "State in the records" not in text
