"""What a job is printed as from the records: the command's numbers, the ledger's head, no more than was signed."""

from __future__ import annotations

import io
from typing import Any

import pypdf
import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from hingeline_app.records.actions.aircraft import add_surface
from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.inspecting import Disturbed, ask_for_inspection
from hingeline_app.records.actions.jobs import open_job, open_order
from hingeline_app.records.actions.measuring import add_reading, open_measurement
from hingeline_app.records.actions.workshop_texts import set_workshop_text
from hingeline_app.records.giving_heads import heads_given
from hingeline_app.records.models import Job, Stand, Surface
from hingeline_app.replaying.sheets import sheet_replayed
from hingeline_app.report import read_worksheet, read_worksheets
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.printed import SET_UP, Weighed, told, weigh, words

__all__ = ["told"]

pytestmark = pytest.mark.django_db

CHANGE = {
    "format": "hingeline/ballast-result/1",
    "changes": [
        {"place": "Arm weight", "arm": {"value": 0.18, "unit": "m", "typed": "180 mm"}, "side": "forward",
         "mass": {"value": 0.145, "unit": "kg"}, "moment": {"value": -0.25595, "unit": "N m"}},
    ],
}  # fmt: skip


# ---------------------------------------------------------------- the worksheet


@pytest.mark.slow
@pytest.mark.fault("F26")
def test_the_worksheet_holds_the_numbers_that_the_command_works_out(told: Weighed) -> None:
    """The file inside weighs to the result inside, to the last digit, and the check sum holds."""
    read = read_worksheet(told.printed("worksheet"))
    again = sheet_replayed(read)
    assert again["same"], again["differences"]
    assert again["check_sum_holds"]
    assert read.result["static_moment"]["value"] == pytest.approx(0.842 * 9.80665 * 0.255, abs=1e-12)


@pytest.mark.slow
def test_it_says_who_weighed_what_was_withdrawn_and_what_is_in_the_way(told: Weighed) -> None:
    text = words(told.printed("worksheet"))
    for said in (
        "950 g support 1 the hangar door was opened J",
        "Weighed by · signature by hand Jon Ashby",
        "No row of limits was chosen.",
        "No second inspection by a different person is signed.",
        "Not released",
        "Not yet signed",
        "Merle T2 · D-EFHM",
        f"Record {told.job.number:04d}-1",
    ):
        assert said in text, said


@pytest.mark.slow
@pytest.mark.parametrize("name", ["worksheet", "release-wording"])
def test_a_paper_names_what_the_bench_finds_in_the_way_as_the_page_of_the_release_does(
    name: str, told: Weighed
) -> None:
    """A step left open keeps the release: a paper that leaves it out would look nearer to it than the job is."""
    page = told.client.get(f"/job/{told.job.number}/release").content.decode()
    text = words(told.printed(name))
    for said in ("Weight arm is open.", "Refit is open."):
        assert said in page
        assert said in text


@pytest.mark.slow
def test_a_result_that_was_not_recorded_is_worked_out_and_that_is_said(fenholt: Fenholt) -> None:
    told = weigh(fenholt, Job.objects.get(number=fenholt.job), recorded=False)
    assert "No statement was recorded: this was worked out when it was printed." in words(told.printed("worksheet"))


@pytest.mark.slow
def test_a_result_older_than_a_reading_is_worked_out_anew_and_that_is_said(told: Weighed) -> None:
    add_reading(told.fenholt.mate, told.weighing, "840 g")
    pdf = told.printed("worksheet")
    assert "The recorded statement is older than what was measured" in words(pdf)
    assert len(read_worksheet(pdf).result["supports"][0]["readings"]) == 6


@pytest.mark.slow
def test_each_print_gives_the_ledgers_head_away_and_notes_it(told: Weighed) -> None:
    """A look at the page's head alone gives none, nor does a print that is refused."""
    before = len(list(heads_given(told.fenholt.workshop.pk)))
    text = words(told.printed("worksheet"))
    given = list(heads_given(told.fenholt.workshop.pk))
    assert len(given) == before + 1
    assert f"Head of the ledger {given[-1].head.short}, signed" in text
    told.client.head(f"/job/{told.job.number}/worksheet.pdf")
    told.client.get(f"/job/{told.job.number}/worksheet.pdf?weighing=9")
    assert len(list(heads_given(told.fenholt.workshop.pk))) == before + 1


@pytest.mark.slow
def test_an_earlier_weighing_stays_printable(told: Weighed) -> None:
    open_measurement(told.fenholt.mate, told.job.pk, "weighing", scale=told.fenholt.scale, set_up=SET_UP)
    first = told.printed("worksheet", "?weighing=1&paper=Letter")
    assert f"Record {told.job.number:04d}-1" in words(first)
    assert pypdf.PdfReader(io.BytesIO(first)).pages[0].mediabox[2] == 612


@pytest.mark.parametrize(("query", "said"), [("?weighing=7", "a weighing of this job (1)"), ("?weighing=x", "number")])
def test_a_weighing_that_is_not_there_is_said_on_a_page(told: Weighed, query: str, said: str) -> None:
    answer = told.client.get(f"/job/{told.job.number}/worksheet.pdf{query}")
    assert answer.status_code == 422
    assert said in answer.content.decode()


def test_a_job_without_a_weighing_is_refused_in_words_and_leads_back(fenholt: Fenholt) -> None:
    answer = fenholt.client("jon").get(f"/job/{fenholt.job}/worksheet.pdf")
    assert answer.status_code == 422
    assert "Weigh it first." in answer.content.decode()
    assert f'href="/job/{fenholt.job}"' in answer.content.decode()


def test_what_is_in_the_way_of_a_print_is_said_in_the_readers_language(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    client.cookies["language"] = "de"
    answer = client.get(f"/job/{fenholt.job}/incomplete.pdf")
    assert answer.status_code == 422
    assert "wird abgelehnt" in answer.content.decode()
    assert "is refused" not in answer.content.decode()


@pytest.mark.parametrize(
    ("state", "language", "remedy"),
    [
        ("open", "en", "State on its step Release why the work stops"),
        ("released", "en", "Print its worksheet: it says how the job ended."),
        ("voided", "fr", "Imprimer sa feuille de travail"),
    ],
)
def test_a_paper_for_incomplete_work_that_is_refused_says_what_to_do_instead(
    fenholt: Fenholt, state: str, language: str, remedy: str
) -> None:
    """Of a closed job nobody can state any more that its work stops."""
    Job.objects.filter(number=fenholt.job).update(state=state)
    client = fenholt.client("jon")
    client.cookies["language"] = language
    answer = client.get(f"/job/{fenholt.job}/incomplete.pdf")
    assert answer.status_code == 422
    assert remedy in answer.content.decode()


@pytest.mark.slow
def test_a_print_tells_nothing_of_a_second_inspection_before_it_is_signed(told: Weighed) -> None:
    """Neither the worker's word nor what an inspector found: the next one is to look blind."""
    told_by = Disturbed("Hinge pins", "new pins, locked with wire")
    (item,) = ask_for_inspection(told.fenholt.mate, told.job.pk, [told_by])
    text = words(told.printed("worksheet"))
    assert "Hinge pins not looked at" in text
    assert "locked with wire" not in text
    assert item.tick == told_by.tick


@pytest.mark.slow
def test_the_jobs_of_an_order_are_printed_in_one_file(told: Weighed) -> None:
    mate = told.fenholt.mate
    surface = Surface.objects.get()
    order = open_order(mate, surface.aircraft_id, "repaint")
    for _ in range(2):
        weigh(told.fenholt, open_job(mate, surface.pk, "painted", work_order=order.pk))
    later = open_job(mate, surface.pk, "painted", work_order=order.pk)
    answer = told.client.get(f"/order/{order.number}/worksheet.pdf")
    assert answer.status_code == 200
    said = f"Of the same order, not weighed when this was printed: {later.number:04d}, Elevator, left half."
    assert said in words(bytes(answer.content))
    found = read_worksheets(bytes(answer.content))
    assert len(found) == 2
    assert all(sheet_replayed(each)["same"] for each in found)
    assert len(pypdf.PdfReader(io.BytesIO(answer.content)).pages) == 4


# ---------------------------------------------------------------- the others


@pytest.mark.slow
def test_a_blank_worksheet_takes_the_set_up_and_nothing_that_was_read(told: Weighed) -> None:
    text = words(told.printed("blank"))
    assert "To be weighed" in text
    assert "255 mm" in text
    assert "840" not in text


def test_a_job_without_a_weighing_has_a_blank_worksheet_with_the_arm_to_write_in(fenholt: Fenholt) -> None:
    """A bench without a tablet has nothing set up; no arm is guessed."""
    answer = fenholt.client("jon").get(f"/job/{fenholt.job}/blank.pdf")
    assert answer.status_code == 200, answer.content.decode()[-900:]
    text = words(bytes(answer.content))
    assert "Arm from the hinge line, mm, aft or forward" in text
    assert "No reading window stands here" in text
    assert "10 mm" not in text


def test_a_blank_of_a_surface_weighed_before_takes_that_set_up(told: Weighed) -> None:
    again = open_job(told.fenholt.mate, told.job.surface_id, "painted")
    text = words(bytes(told.client.get(f"/job/{again.number}/blank.pdf").content))
    assert "255 mm" in text
    assert "840" not in text


def test_the_owners_sheet_says_that_nothing_is_released_and_asks_for_the_programme(told: Weighed) -> None:
    text = words(told.printed("owner"))
    assert "the aircraft is not to fly on the strength of this sheet" in text
    assert "No date stands in the workshop's records" in text
    assert len(pypdf.PdfReader(io.BytesIO(told.printed("owner"))).pages) == 1


def test_the_balance_line_asks_for_the_datum_arm_and_never_guesses(told: Weighed) -> None:
    fit_ballast(told.fenholt.mate, propose_ballast(told.fenholt.mate, told.job.pk, CHANGE).pk)
    text = words(told.printed("balance-line"))
    assert "is not known here, and it is not guessed" in text
    assert "+0.145 kg" in text
    known = words(told.printed("balance-line", "?arm=4,50 m"))
    # 4.50 m − 0.180 m = 4.32 m; 0.145 kg × 4.32 m = 0.6264 kg m
    assert "4.320 m aft of the datum" in known
    assert "+0.6264 kg·m" in known
    assert "adds to the moment aft of the datum" in known
    refused = told.client.get(f"/job/{told.job.number}/balance-line.pdf?arm=4500")
    assert refused.status_code == 422


def test_a_bracket_that_came_along_is_part_of_what_was_fitted(told: Weighed) -> None:
    """145 g and a bracket of 40 g are 185 g: on the line for the aircraft's record and on the worksheet's side two."""
    (change,) = CHANGE["changes"]
    along = {**CHANGE, "changes": [change | {"fixed_mass": {"value": 0.04, "unit": "kg"}}]}
    fit_ballast(told.fenholt.mate, propose_ballast(told.fenholt.mate, told.job.pk, along).pk)
    assert "+0.185 kg" in words(told.printed("balance-line"))
    assert "Arm weight 180 mm forward +185 g" in words(told.printed("worksheet"))


@pytest.mark.slow
def test_what_was_fitted_stands_on_side_two(told: Weighed) -> None:
    fit_ballast(told.fenholt.mate, propose_ballast(told.fenholt.mate, told.job.pk, CHANGE).pk)
    text = words(told.printed("worksheet"))
    assert "Arm weight 180 mm forward +145 g 0.256 N·m nose-heavy" in text
    assert "The surface was changed after this weighing: it is to be weighed again." in text


def test_the_workshops_own_wording_is_filled_and_the_page_says_that_it_is_no_release(told: Weighed) -> None:
    own = "Work done on {aircraft} by {workshop}: {finding}"
    set_workshop_text(told.fenholt.administrator, "release_wording", own)
    text = words(told.printed("release-wording"))
    assert "Work done on Merle T2 · D-EFHM by Fenholt: 2.106 ±" in text
    assert "Not released when this was printed" in text
    assert "This page is not a release" in text


def test_an_administrator_sets_the_wording_and_a_place_that_nothing_fills_is_refused(fenholt: Fenholt) -> None:
    client = fenholt.client("mara")
    page = client.get("/workshop/release-wording")
    assert "The program" in page.content.decode()
    refused = client.post("/workshop/release-wording", {"wording": "{owner} may fly"})
    assert refused.status_code == 422
    assert "{owner} may fly" in refused.content.decode()
    kept = client.post("/workshop/release-wording", {"wording": "Done: {work}"})
    assert kept.status_code == 302
    assert "Done: {work}" in client.get("/workshop/release-wording").content.decode()
    assert "own wording" in client.get("/workshop/release-wording").content.decode()


def test_labels_are_chosen_and_printed_with_what_they_weigh(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    page = client.get("/workshop/labels").content.decode()
    assert "A label is a mass" in page
    assert "Elevator, left half" in page
    assert "HL-3" in page
    scale = client.get(f"/workshop/labels.pdf?which={fenholt.scale}&paper=Letter")
    assert "HL-3" in words(bytes(scale.content))
    assert "Elevator" not in words(bytes(scale.content))
    everything = words(bytes(client.get("/workshop/labels.pdf").content))
    assert "270 mm aft of the hinge line, that is 0.00085 N·m tail-heavy" in everything
    assert Stand.objects.count() == 0


@pytest.mark.parametrize(
    ("language", "said"),
    [
        ("de", ("Etiketten", "Ruder", "Mit 100 % auf Klebepapier", "hecklastig", "gedruckt", "Blatt 1 von 1")),
        ("fr", ("Étiquettes", "Gouverne", "du papier adhésif", "lourd à l'arrière", "imprimé le", "feuille 1 sur 1")),
    ],
)
def test_labels_are_in_the_language_that_is_asked_for_else_in_the_workshops(
    fenholt: Fenholt, language: str, said: tuple[str, ...]
) -> None:
    """Whoever asks, as every print is; no English word of the program is left (our own German and French)."""
    client = fenholt.client("jon")
    asked = words(bytes(client.get(f"/workshop/labels.pdf?language={language}").content))
    assert all(each in asked for each in said), asked
    assert not any(each in asked for each in ("Labels", "Print at", "Surface", "Estimate", "tail-heavy", "made "))
    client.cookies["language"] = language
    assert "Print at 100 %" in words(bytes(client.get("/workshop/labels.pdf").content))


def test_the_sheet_of_marks_is_in_the_language_and_on_the_paper_that_are_asked_for(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    client.cookies["language"] = "de"
    assert "made 20" in words(bytes(client.get("/recordings/marks.pdf").content))
    asked = bytes(client.get("/recordings/marks.pdf?language=fr&paper=Letter").content)
    assert "imprimé le" in words(asked)
    assert pypdf.PdfReader(io.BytesIO(asked)).pages[0].mediabox[2] == 612


def test_a_label_leads_to_what_it_sticks_on(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    surface = Surface.objects.get()
    assert client.get(f"/at/{surface.pk}")["Location"] == f"/job/{fenholt.job}"
    assert client.get(f"/at/{fenholt.scale}")["Location"] == "/workshop/scales"
    assert client.get("/at/00000000-0000-0000-0000-000000000000").status_code == 404


def test_labels_of_nothing_are_refused_in_words(fenholt: Fenholt) -> None:
    answer = fenholt.client("jon").get("/workshop/labels.pdf?which=00000000-0000-0000-0000-000000000000")
    assert answer.status_code == 422
    assert "Choose what is to be labelled." in answer.content.decode()


# ---------------------------------------------------------------- how much it asks

QUERIES = {"worksheet": 29, "blank": 12, "owner": 31, "balance-line": 12, "release-wording": 28}


@pytest.mark.slow
@pytest.mark.parametrize("name", QUERIES)
def test_the_number_of_queries_is_fixed(name: str, told: Weighed) -> None:
    told.printed(name)
    with CaptureQueriesContext(connection) as asked:
        told.printed(name)
    assert len(asked) == QUERIES[name]


def test_labels_ask_as_much_for_one_as_for_many(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    counts = []
    for name in ("Rudder", "Aileron, left"):
        client.get("/workshop/labels")
        with CaptureQueriesContext(connection) as asked:
            client.get("/workshop/labels")
        counts.append(len(asked))
        add_surface(fenholt.mate, Surface.objects.first().aircraft_id, name)  # type: ignore[union-attr]
    assert counts == [7, 7]


def test_what_is_another_workshops_is_not_there(told: Weighed, elsewhere: Any) -> None:
    stranger = told.fenholt.client("otto")
    assert elsewhere.person is not None
    for name in QUERIES:  # each of the job's prints
        assert stranger.get(f"/job/{told.job.number}/{name}.pdf").status_code == 404
    assert "Elevator" not in stranger.get("/workshop/labels").content.decode()
