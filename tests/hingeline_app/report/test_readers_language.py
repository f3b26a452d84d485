"""Sheets in another language: each word of the program is said, what was typed stays, the foot names the language."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from importlib.resources import files
from typing import Any

import pytest

from hingeline_app.report.job_record import ToldLine
from hingeline_app.report.job_view import job_view
from hingeline_app.report.job_worksheet import template
from hingeline_app.report.release_wording import DEFAULT, filled
from hingeline_app.report.said_sheet import WORD, said_sheet, sheet_words
from hingeline_app.said import AsTyped, reading_in
from tests.hingeline_app.report.demo import MADE_AT
from tests.hingeline_app.report.job_demo import DONE_JOB, OPEN_JOB
from tests.hingeline_app.report.test_worksheet import opened, plain, text_of

# Texts of this demo that a person typed where the program has words too, and one that the pages' catalogue says.
TYPED_HERE = {"root weld", "no crack", "light pitting, dressed", "wall, 40 mm from the root", "ultrasonic", "seen",
              "hinge bolts, left half", "ballast on the forward tube", "control travel and sense", "travel up",
              "travel down", "free play at the trailing edge", "moves in the right sense", "dye penetrant",
              "No second inspection is signed.", "The last weighing is not shown to be inside the limits."}  # fmt: skip


def texts(told: Any) -> Iterator[str]:
    """Give every text of a sheet but pictures and what is attached."""
    if isinstance(told, dict):
        for name, inner in told.items():
            yield from () if name in ("attached", "kind", "colour", "words", "language", "paper") else texts(inner)
    elif isinstance(told, list):
        for inner in told:
            yield from texts(inner)
    elif isinstance(told, str) and not isinstance(told, AsTyped) and not told.startswith("<"):
        yield told


def test_each_word_of_the_templates_stands_in_every_language_and_none_is_idle() -> None:
    """Collected from all templates; numbers keep their places."""
    folder = files("hingeline_app.report")
    written = "\n".join(path.read_text("utf-8") for path in folder.iterdir() if path.name.endswith(".typ"))
    assert set(WORD.findall(written)) == set(sheet_words())
    assert all(set(said) == {"de", "fr"} and all(said.values()) for said in sheet_words().values())


@pytest.mark.parametrize("language", ["de", "fr"])
@pytest.mark.parametrize("record", [DONE_JOB, OPEN_JOB], ids=["released", "open"])
def test_every_text_of_a_worksheet_is_said(record: Any, language: str) -> None:
    """No text of English words is left but those that were typed."""
    view = job_view(record, MADE_AT, "1.0")
    with reading_in(language):
        there = said_sheet({"jobs": [view]}, template())
    before, after = set(texts(view)), set(texts(there["jobs"]))
    left = {text for text in before & after if sum(len(word) > 2 and word.isalpha() for word in text.split()) > 1}
    assert left - TYPED_HERE == set()
    assert there["words"]["Beam, to scale"] == sheet_words()["Beam, to scale"][language]


def test_approved_data_are_said_as_the_records_name_them_and_stay_as_somebody_typed_them() -> None:
    """Issue and page of a row of limits are the program's words; a reference of a person's own is nobody's."""
    for document, said in (
        ("DS 7, issue C, page 3", "DS 7, Ausgabe C, Seite 3"),
        ("Sheet 7, issue C", "Sheet 7, issue C"),
    ):
        record = replace(OPEN_JOB, sheet=replace(OPEN_JOB.sheet, document=document))
        with reading_in("de"):
            told = said_sheet({"jobs": [job_view(record, MADE_AT, "1.0")]}, template())
        assert said in set(str(text) for text in _all_texts(told))


def _all_texts(told: Any) -> Iterator[str]:
    inside = told.values() if isinstance(told, dict) else told if isinstance(told, list) else ()
    yield from (each for inner in inside for each in _all_texts(inner))
    yield from (told,) if isinstance(told, str) else ()


def test_what_was_typed_stays_even_where_it_is_a_phrase_of_the_program() -> None:
    """A note, a reason, a name that read like the program's own words."""
    typed = replace(
        OPEN_JOB,
        withdrawn=tuple(replace(each, why="No statement") for each in OPEN_JOB.withdrawn),
        sheet=replace(OPEN_JOB.sheet, aircraft="Not released", workshop="Weighing"),
    )
    with reading_in("de"):
        view = said_sheet({"jobs": [job_view(typed, MADE_AT, "1.0")]}, template())["jobs"][0]
    assert view["back"]["withdrawn"][0][2] == "No statement"
    assert view["block"][0] == ["Flugzeug", "Not released"]
    assert view["workshop"] == "Weighing"
    assert view["state"] == "Nicht freigegeben"


@pytest.mark.parametrize("language", ["de", "fr"])
def test_each_step_and_the_scales_certificate_are_said(language: str) -> None:
    """What was entered at the steps is headed in words of the reader; what was typed beside them stays."""
    told = (
        *(ToldLine(step, "this step", "not needed") for step in ("Arrive", "Arm", "Refit")),
        ToldLine("Arm", "because", "The weight arm was not disturbed."),
        ToldLine("Correct", "aim", "this step"),
        ToldLine("Arm", "wall", "nominal wall 1.5 mm; ± of the gauge 0.1 mm; walls from manual 5-10"),
    )
    scale = "certificate holds until 2027-06-30"
    record = replace(OPEN_JOB, told=told, sheet=replace(OPEN_JOB.sheet, scale_calibrated=scale))
    english = job_view(record, MADE_AT, "1.0")
    with reading_in(language):
        there = said_sheet({"jobs": [english]}, template())["jobs"][0]
    rows = list(zip(english["back"]["told"], there["back"]["told"], strict=True))
    assert all(row[0] != said[0] or row[0] == "Arm" for row, said in rows)
    assert all(row[1] != said[1] for row, said in rows)
    assert [row[2] == said[2] for row, said in rows] == [False, False, False, True, True, False]
    assert "holds until" not in there["scale"]


def test_an_english_sheet_is_told_nothing_of_other_languages() -> None:
    """The view is as it was composed, without words for the template."""
    view = {"jobs": [job_view(OPEN_JOB, MADE_AT, "1.0")]}
    assert said_sheet(view, template()) == {**view, "language": "en", "words": {}}


def test_a_print_says_its_language_in_its_foot_and_to_who_listens() -> None:
    """On both sides; the numbers of the statement are those of the English sheet."""
    from hingeline_app.report import make_job_worksheet

    with reading_in("de"):
        pdf = make_job_worksheet([DONE_JOB], MADE_AT, "1.0")
    assert text_of(pdf).count("auf Deutsch") == 2
    assert "1.852 ± 0.044 N·m hecklastig, 0.248 N·m innerhalb der oberen Grenze." in text_of(pdf)
    assert opened(pdf).trailer["/Root"]["/Lang"] == "de"


def test_the_wording_of_a_release_is_the_readers_unless_the_workshop_wrote_its_own() -> None:
    """Ours in German, with days and decimal marks as there; a typed one stays word for word."""
    with reading_in("de"):
        ours, own = filled("", DONE_JOB), filled("Work on {aircraft}. No statement.", DONE_JOB)
    assert ours.startswith("Arbeit an Merle T2 · T2-07, Elevator, left half")
    assert "1,852 ± 0,044 N·m hecklastig" in plain(ours)
    unused = filled("{finding}", replace(DONE_JOB, not_used="This statement cannot be used."))
    assert unused.startswith("This statement cannot be used. 1.852")
    assert own == "Work on Merle T2 · T2-07. No statement."
    assert filled("", DONE_JOB).startswith(DEFAULT[:8])
