"""The worksheet of two sides: what it says of a job, what it never looks like, what it carries, and that it fits."""

from __future__ import annotations

import io
import json
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pypdf
import pytest
import typst

from hingeline.balance import weigh
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.cli.replay_page import show_replay
from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.replaying.sheets import sheet_replayed
from hingeline_app.report import SheetDetails, make_job_worksheet, read_worksheet, read_worksheets, record_digest
from hingeline_app.report.job_record import SECOND, JobRecord, ToldLine
from hingeline_app.report.job_view import job_view, state_words
from hingeline_app.report.job_worksheet import _complete, sides_inputs, template
from hingeline_app.report.typesetting import fonts
from hingeline_app.said import reading_in
from tests.hingeline_app.report.demo import MADE_AT, SHEET
from tests.hingeline_app.report.job_demo import CASES, DONE_JOB, ENDED_JOB, HEAD, OPEN_JOB, german
from tests.hingeline_app.report.test_worksheet import MARGIN, opened, plain, text_of

EXAMPLES = Path(__file__).parents[3] / "examples"
MARK = "\u00a0"


def made(records: Sequence[JobRecord], paper: Any = "a4") -> bytes:
    return make_job_worksheet(records, MADE_AT, "0.1.0", paper)


def pictures(records: Sequence[JobRecord], paper: Any, ppi: float) -> list[bytes]:
    """Print to pictures by the way that prints to PDF."""
    views = [_complete(job_view(each, MADE_AT, "0.1.0"), each, len(records) > 1) for each in records]
    inputs = sides_inputs(views, MADE_AT, paper)
    pages = typst.compile(template(), font_paths=fonts(), sys_inputs=inputs, format="png", ppi=ppi)
    return pages if isinstance(pages, list) else [pages]


def pieces(page: pypdf.PageObject) -> list[tuple[float, float, str]]:
    """Where each piece of text begins on a page: x, y, text."""
    found: list[tuple[float, float, str]] = []

    def seen(text: str, user: list[float], line: list[float], _font: Any, _size: float) -> None:
        if text.strip():
            x = line[4] * user[0] + line[5] * user[2] + user[4]
            y = line[4] * user[1] + line[5] * user[3] + user[5]
            found.append((x, y, text))

    page.extract_text(visitor_text=seen)
    return found


# ---------------------------------------------------------------- sides


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("case", CASES)
def test_every_job_begins_on_a_front_and_its_side_two_is_on_the_back(case: str, paper: str) -> None:
    """So that a duplex printer gives one sheet a job, and the next job begins on paper of its own."""
    pages = [page.extract_text() for page in opened(made(CASES[case], paper)).pages]
    assert len(pages) % 2 == 0
    fronts = [number for number, text in enumerate(pages) if "Beam, to scale" in text]
    backs = [number for number, text in enumerate(pages) if "Refit, against its limits" in text]
    assert len(fronts) == len(backs) == len(CASES[case])
    assert all(number % 2 == 0 for number in fronts)
    assert backs == [number + 1 for number in fronts]


def test_a_usual_job_takes_two_sides_and_says_which_is_which() -> None:
    pages = [page.extract_text().replace(MARK, " ") for page in opened(made([DONE_JOB])).pages]
    assert len(pages) == 2
    assert all(f"side {number} of 2" in text for number, text in enumerate(pages, 1))


def test_a_side_left_over_says_that_it_is_empty() -> None:
    pages = [page.extract_text().replace(MARK, " ") for page in opened(made(CASES["german"])).pages]
    assert len(pages) == 4
    assert "This side is empty." in pages[3]
    assert "side 4 of 4" in pages[3]


def test_no_job_is_refused_in_words() -> None:
    with pytest.raises(InputRefused, match="at least one weighed job"):
        made([])


# ---------------------------------------------------------------- what it says


def test_side_two_says_all_that_was_done() -> None:
    back = plain(opened(made([DONE_JOB])).pages[1].extract_text())
    for words in (
        "friction in the bearings 5.8 g 42 %",
        "1 2027-03-12 2.106 ± 0.044 N·m tail-heavy outside",
        "2 2027-03-12 1.852 ± 0.044 N·m tail-heavy inside",
        "forward tube 180 mm forward +145 g 0.256 N·m nose-heavy T2-34-118, batch 7 MB",
        "wall, 40 mm from the root light pitting, dressed 1.46 mm ultrasonic MB",
        "free play at the trailing edge 1.1 mm up to 2.0 mm inside dial gauge D-1 MB",
        "hinge bolts, left half agreed split pins in IO",
        "Ines Okoro, FI.66.0207 2027-03-12, 15:20 signed in the records, by passkey",
        "Marit Brandt, FI.66.0113 2027-03-12, 16:05 signed in the records, by password",
        "Release is the certifying person's decision under the local authority's rules.",
        f"Head of the ledger {HEAD.short}, signed 2027-03-12 09:41 UTC.",
        "Work it out again Record 0412-2, Hingeline 0.1.0, check sum",
    ):
        assert words in back, words


def test_a_withdrawn_reading_is_counted_in_front_and_stands_behind_with_its_reason() -> None:
    text = text_of(made([OPEN_JOB]))
    assert "1 withdrawn, with the reason on side 2." in text
    assert "950 g support 1 the hangar door was opened MB" in text


def test_what_was_not_entered_is_said() -> None:
    assert text_of(made([OPEN_JOB])).count("Nothing was entered.") == 4


# ---------------------------------------------------------------- what it never looks like


@pytest.mark.parametrize(
    ("language", "said"), [("en", "Outside: not used"), ("de", "Außerhalb: nicht verwendet"), ("fr", "non utilisée")]
)
def test_side_one_says_first_that_a_statement_is_not_used(language: str, said: str) -> None:
    """In its largest words, with the reason under them, without the sign of the statement."""
    why = (
        "This statement cannot be used: the certificate of HL-5 ended on 05 November 2026. "
        "Weigh again on a scale whose certificate holds."
    )
    with reading_in(language):
        used, unused = (text_of(made([replace(OPEN_JOB, not_used=each)])) for each in ("", why))
    assert said not in used
    assert said in unused
    assert "HL-5" in unused.partition("HL-3")[0]
    view = job_view(replace(OPEN_JOB, not_used=why), MADE_AT, "0.1.0")
    assert view["statement"]["lines"][0] == why
    assert view["statement"]["colour"] == "none"
    before = job_view(OPEN_JOB, MADE_AT, "0.1.0")
    assert view["glyph"] != before["glyph"]
    for name, kind in (("bar", "point"), ("beam", "moment")):
        assert f'class="{kind} out"' in before[name]
        assert f'class="{kind} none"' in view[name], "nor does a picture have its colour"


NEVER_RELEASED = {
    "open": OPEN_JOB,
    "ended": ENDED_JOB,
    "voided": replace(DONE_JOB, state="voided"),
    "released without a signature": replace(DONE_JOB, signatures=DONE_JOB.signatures[:1]),
    "signed, but still open": replace(DONE_JOB, state="open"),
    "state that is not known": replace(DONE_JOB, state="something"),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", NEVER_RELEASED)
def test_only_a_release_that_holds_is_called_released(case: str) -> None:
    """Every other state says so in words on both sides, and across the box of the release."""
    record = NEVER_RELEASED[case]
    pages = [page.extract_text().replace(MARK, " ") for page in opened(made([record])).pages]
    words = "Voided" if record.state == "voided" else "Not released"
    assert pages[0].count(words) == 1
    assert pages[1].count(words) == 2
    assert not any(line.strip() == "Released" for page in pages for line in page.splitlines())
    assert state_words(record) == words


def test_a_released_job_says_so_and_nothing_is_written_across_its_boxes() -> None:
    text = text_of(made([DONE_JOB]))
    assert "Released" in text
    assert "Not released" not in text
    assert "Not yet signed" not in text


@pytest.mark.slow
def test_a_second_inspection_that_ended_is_not_signed_and_says_why() -> None:
    text = text_of(made([ENDED_JOB]))
    assert "Not yet signed" in text
    assert "No longer holds: the job changed after it was signed, at change 14." in text
    assert "No longer holds: withdrawn by Ines Okoro: the ballast was found loose again." in text


def test_the_same_persons_second_look_is_never_a_second_inspection() -> None:
    text = text_of(made(CASES["again"]))
    assert "Inspected again by the same person · not a second inspection" in text
    assert "Away from base; nobody else could be called." in text
    assert "Second inspection · a different person" not in text


def test_a_real_second_inspection_goes_before_the_same_persons() -> None:
    both = replace(DONE_JOB, signatures=(*CASES["again"][0].signatures, *DONE_JOB.signatures))
    assert "Second inspection · a different person" in text_of(made([both]))


# ---------------------------------------------------------------- what it carries


def real(name: str, job: str) -> JobRecord:
    """A job whose weighing is one of the examples, weighed."""
    text = (EXAMPLES / name).read_text("utf-8")
    result = json.loads(json.dumps(to_document(weigh(read_weighing(text.encode()).weighing))))
    return replace(OPEN_JOB, sheet=SheetDetails(job=job, weighing="1"), weighing_text=text, result=result)


ORDER = (("01-elevator-left-half.toml", "0412"), ("02-rudder-on-a-hook.toml", "0413"))


def test_one_job_reads_back_and_works_out_the_same() -> None:
    record = real(*ORDER[0])
    pdf = made([record])
    read = read_worksheet(pdf)
    assert (read.weighing_text, read.result) == (record.weighing_text, record.result)
    again = sheet_replayed(read)
    assert again["same"], again["differences"]
    assert again["check_sum_holds"]


@pytest.mark.slow
def test_the_jobs_of_an_order_read_back_each_with_its_own_check_sum() -> None:
    records = [real(*each) for each in ORDER]
    found = read_worksheets(made(records))
    assert [each.result for each in found] == [each.result for each in records]
    digests = [record_digest(each.weighing_text, each.result) for each in records]
    assert [each.printed_digest for each in found] == digests
    assert len(set(digests)) == 2
    assert all(sheet_replayed(each)["same"] for each in found)


@pytest.mark.slow
@pytest.mark.parametrize("language", ["de", "fr"])
def test_a_check_sum_is_read_off_a_sheet_in_any_language(language: str) -> None:
    """The foot says "Prüfsumme" or "somme de contrôle", and "Nachweis" or "Dossier": one sheet, and an order's."""
    records = [real(*each) for each in ORDER]
    digests = [record_digest(each.weighing_text, each.result) for each in records]
    with reading_in(language):
        one, order = made(records[:1]), made(records)
    assert read_worksheet(one).printed_digest == digests[0]
    assert [each.printed_digest for each in read_worksheets(order)] == digests


@pytest.mark.parametrize(
    ("printed", "said"),
    [(None, "none could be read off the sheet itself"), ("0" * 12, "the file was changed after it was made")],
)
def test_a_check_sum_that_cannot_be_read_is_no_sign_of_a_change(
    printed: str | None, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A sheet may be signed or stamped over; only another check sum says that the file was changed."""
    read = replace(read_worksheet(made([real(*ORDER[0])])), printed_digest=printed)
    show_replay(sheet_replayed(read))
    assert said in " ".join(capsys.readouterr().out.split())


@pytest.mark.slow
def test_another_pdf_library_finds_side_two_as_data() -> None:
    """Opened by pypdf, which did not write it."""
    reader = opened(made([DONE_JOB]))
    job = json.loads(reader.attachments["job.json"][0])
    assert job["format"] == "hingeline/job-sheet/1"
    assert job["signatures"][0]["name"] == "Ines Okoro"
    assert job["changes"][0]["part_number"] == "T2-34-118, batch 7"
    order = opened(made(CASES["order"]))
    assert {"weighing-0413-1.toml", "result-0413-1.json", "job-0413-1.json"} <= set(order.attachments)


@pytest.mark.slow
def test_it_is_a_tagged_archival_pdf_and_the_same_input_gives_the_same_bytes() -> None:
    pdf = made(CASES["order"])
    metadata = opened(pdf).xmp_metadata
    assert metadata is not None
    assert (metadata.pdfaid_part, metadata.pdfaid_conformance) == ("3", "A")
    assert made(CASES["order"]) == pdf


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_both_square_codes_can_be_read_from_the_print(paper: str) -> None:
    """By OpenCV's reader, at 300 dots to the inch: the full signed head, and record, version and check sum."""
    page = grey(pictures([DONE_JOB], paper, 300)[1])
    half = page.shape[1] // 2
    read = {cv2.QRCodeDetector().detectAndDecode(part)[0] for part in (page[:, :half], page[:, half:])}
    digest = record_digest(DONE_JOB.weighing_text, DONE_JOB.result)
    assert read == {HEAD.full, f"HINGELINE 0.1.0 0412-2 {digest.upper()}"}


def test_without_records_it_says_that_it_carries_no_head() -> None:
    assert "This sheet carries no head of the ledger" in text_of(made([replace(DONE_JOB, head=None)]))


# ---------------------------------------------------------------- that it fits


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize("case", CASES)
def test_nothing_is_printed_in_the_margin(case: str, paper: str) -> None:
    for png in pictures(CASES[case], paper, 36):
        page = grey(png)
        assert page.min() < 100, "a page without ink: the picture was not read"
        assert min(page[:, :MARGIN].min(), page[:, -MARGIN:].min()) > 250


def grey(png: bytes) -> Any:
    page = cv2.imdecode(np.frombuffer(png, np.uint8), cv2.IMREAD_GRAYSCALE)
    assert page is not None
    return page


def test_long_german_words_are_all_printed() -> None:
    """Broken where they must be, cut nowhere but in the title block, whose record keeps them."""
    text = text_of(made([german()])).replace(" ", "")
    for words in (
        "AerodynamischausgeglicheneHöhenruderhälftemitMassenausgleichsgewichtsträger,Rechtsausführung",
        "Trimmklappengestängebefestigungsbolzengesichertundwiederangezogen",
        "SchweißnahtanderMassenausgleichsgewichtsträgerwurzel",
        "InesWilhelmineOkoro-Nowakowska,FI.66.0207-B1",
        "Signedfromthesamedevicewithintwominutesoftheothersignature.",
    ):
        assert words in text, words


@pytest.mark.slow
@pytest.mark.parametrize("case", ["ended", "german", "done", "again"])
def test_lines_of_text_never_stand_on_one_another(case: str) -> None:
    """No two pieces of text begin at the same place across with less than a line between them."""
    for page in opened(made(CASES[case])).pages:
        columns: dict[int, list[tuple[float, str]]] = {}
        for x, y, text in pieces(page):
            columns.setdefault(round(x / 2.0), []).append((y, text))
        for column in columns.values():
            heights = sorted(column)
            for (low, one), (high, other) in pairwise(heights):
                assert high - low > 5.5 or one == other, (one, other, high - low)


def test_words_across_a_box_stand_below_what_is_in_it() -> None:
    """Where a signature ended, its lines stay legible above the words."""
    (page,) = [page for page in opened(made([ENDED_JOB])).pages if "No longer holds" in page.extract_text()]
    found = pieces(page)
    across = [y for _, y, text in found if "Not yet signed" in text.replace(MARK, " ")]
    lines = [y for _, y, text in found if "change 14" in text.replace(MARK, " ")]
    assert len(across) == 1
    assert lines
    assert min(lines) - across[0] > 13.0


@pytest.mark.slow
def test_a_signature_of_another_purpose_is_not_taken_for_this_one() -> None:
    only = replace(DONE_JOB, signatures=(replace(DONE_JOB.signatures[0], purpose="witness"),), state="open")
    assert only.signed(SECOND) is None
    assert "Ines Okoro" not in text_of(made([replace(only, sheet=SHEET)]))
    assert io.BytesIO(made([only])).read(5) == b"%PDF-"


@pytest.mark.parametrize(("entries", "in_one_line"), [(4, False), (18, True)])
def test_side_two_names_what_holds_no_entry_in_one_line_rather_than_take_another_sheet(
    entries: int, in_one_line: bool
) -> None:
    """With room each has its own heading; without, the four share one, and the sheet keeps its two sides."""
    told = tuple(ToldLine("Correct", "place", f"Place {index}") for index in range(entries))
    pdf = made([replace(OPEN_JOB, told=told, changes=(), arm=(), refit=(), items=())], "letter")
    assert len(opened(pdf).pages) == 2
    together = "Change made · Weight arm · Refit, against its limits · Second inspection, item by item"
    assert (together in text_of(pdf)) is in_one_line
    assert text_of(pdf).count("Nothing was entered.") == (1 if in_one_line else 4)
