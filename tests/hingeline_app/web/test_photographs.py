"""Photographs of a job: several at once, places marked on them, one for a refit check or an inspected item."""

from __future__ import annotations

import io
import json
import re
from typing import Any

import pypdf
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.rights import give_right
from hingeline_app.records.models import Attachment, Entry, Job
from hingeline_app.records.queries.matter import workers
from hingeline_app.records.roles import SECOND_INSPECTOR
from tests.hingeline_app.web.conftest import PASSWORD, Fenholt
from tests.hingeline_app.web.printed import weigh, words

pytestmark = pytest.mark.django_db


def picture(colour: str = "gray") -> SimpleUploadedFile:
    """Make a photograph of one colour: each colour is another file."""
    from PIL import Image

    written = io.BytesIO()
    Image.new("RGB", (64, 40), colour).save(written, "JPEG")
    return SimpleUploadedFile(f"{colour}.jpg", written.getvalue())


def entry(client: Client, fenholt: Fenholt, kind: str, **fields: Any) -> tuple[int, dict[str, Any]]:
    answer = client.post(f"/job/{fenholt.job}/entry", {"kind": kind, **fields}, headers={"X-Entry": "1"})
    return answer.status_code, json.loads(answer.content)


def page(client: Client, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def photographed(client: Client, fenholt: Fenholt, remark: str = "arm, 3: Root") -> Attachment:
    assert entry(client, fenholt, "photo", photograph=[picture("brown")], remark=remark)[0] == 200
    return Attachment.objects.get(job__number=fenholt.job, remark=remark)


def test_several_photographs_are_one_entry_all_or_none(fenholt: Fenholt) -> None:
    """Chosen together they are kept together; where one is no picture, none of them is."""
    jon = fenholt.client("jon")
    assert entry(jon, fenholt, "photo", photograph=[picture("red"), picture("blue")], remark="as it came")[0] == 200
    assert Attachment.objects.filter(job__number=fenholt.job, kind="photograph").count() == 2
    assert Entry.objects.filter(kind="photograph added").count() == 1
    bad = SimpleUploadedFile("no.jpg", b"no picture")
    status, said = entry(jon, fenholt, "photo", photograph=[picture("white"), bad], remark="as it came")
    assert (status, said["faults"][0]["field"]) == (422, "file")
    assert Attachment.objects.filter(job__number=fenholt.job, kind="photograph").count() == 2
    many = [picture("black") for _ in range(13)]
    assert "at most 12 at once" in entry(jon, fenholt, "photo", photograph=many)[1]["faults"][0]["says"]


def test_the_number_of_photographs_is_taken_anew_with_them(fenholt: Fenholt) -> None:
    """It stayed "0" above the photograph that had just been added, until the page was loaded again."""
    shown = page(fenholt.client("jon"), f"/job/{fenholt.job}/arrive")
    assert re.search(r'<h2>Photographs <span id="[a-z-]+" data-live>0</span></h2>', shown)


def test_a_marked_place_is_kept_beside_the_photograph_which_stays_as_it_came(fenholt: Fenholt) -> None:
    """Number, place and words; drawn over it on its page and in the step's list; the file's digest is the first one."""
    jon = fenholt.client("jon")
    kept = photographed(jon, fenholt)
    told = {"photograph": str(kept.pk), "number": "1", "x": "41,5", "y": "30", "was": "null"}
    assert entry(jon, fenholt, "photo-mark", **told, words="1 pit at the root of the lug")[0] == 200
    shown = page(jon, f"/job/{fenholt.job}/photograph/{kept.pk}/marks")
    assert 'x="41.50%" y="30.00%"' in shown
    assert "1 pit at the root of the lug" in shown
    assert ">Mark 2 " in shown
    listed = page(jon, f"/job/{fenholt.job}/arm")
    assert 'x="41.50%" y="30.00%"' in listed
    assert 'alt="arm, 3: Root; 1: 1 pit at the root of the lug"' in listed
    assert Attachment.objects.get(pk=kept.pk).digest == kept.digest
    last = Entry.objects.filter(kind="job detail set").order_by("-position").first()
    assert last is not None
    assert "1 pit at the root of the lug" in last.body


def test_two_tablets_never_write_over_each_others_mark_and_one_taken_away_leaves_its_number(fenholt: Fenholt) -> None:
    """Two new marks under one number are two places, sent again they are one; after 1 is taken away the next is 3."""
    jon = fenholt.client("jon")
    kept = photographed(jon, fenholt)
    told = {"photograph": str(kept.pk), "number": "1", "x": "10", "y": "20", "was": "null"}
    assert entry(jon, fenholt, "photo-mark", **told, words="pit")[0] == 200
    for _twice in range(2):
        assert entry(jon, fenholt, "photo-mark", **told, words="scratch", command_key="scratch-1")[0] == 200
    shown = page(jon, f"/job/{fenholt.job}/photograph/{kept.pk}/marks")
    assert ">Mark 3 " in shown
    assert [shown.count(f"<b>{words}</b>") for words in ("pit", "scratch")] == [1, 1]
    was = re.findall(r'name="was" value="(\{[^"]*\})"', shown)[0].replace("&quot;", '"')
    assert entry(jon, fenholt, "photo-mark-away", photograph=str(kept.pk), number="1", was=was)[0] == 200
    shown = page(jon, f"/job/{fenholt.job}/photograph/{kept.pk}/marks")
    assert ">Mark 3 " in shown
    assert "scratch" in shown
    assert "Undo: photograph mark" in page(jon, f"/job/{fenholt.job}/arm")


@pytest.mark.parametrize(
    ("wrong", "field"),
    [({"x": "101"}, "across"), ({"y": "-1"}, "down"), ({"x": "nan"}, "across"), ({"words": " "}, "words"),
     ({"number": "41"}, "number"), ({"number": "x"}, "number"), ({"photograph": "1" * 32}, "photograph")],
)  # fmt: skip
def test_a_mark_outside_the_picture_or_without_words_is_refused(fenholt: Fenholt, wrong: Any, field: str) -> None:
    """It names the field; nothing is written."""
    jon = fenholt.client("jon")
    kept = photographed(jon, fenholt)
    told = {"photograph": str(kept.pk), "number": "1", "x": "10", "y": "20", "was": "null", "words": "pit"}
    status, said = entry(jon, fenholt, "photo-mark", **told | wrong)
    assert (status, said["faults"][0]["field"]) == (422, field)
    assert "photograph_mark" not in Job.objects.get(number=fenholt.job).details


def test_a_mark_by_a_plain_form_comes_back_to_the_photograph(fenholt: Fenholt) -> None:
    """Without script the form posts, and the page with the new mark follows."""
    jon = fenholt.client("jon")
    kept = photographed(jon, fenholt)
    told = {"kind": "photo-mark", "photograph": str(kept.pk), "number": "1", "x": "10", "y": "20", "was": "null"}
    answer = jon.post(f"/job/{fenholt.job}/entry", {**told, "words": "pit", "step": "arm"})
    assert answer["Location"] == f"/job/{fenholt.job}/photograph/{kept.pk}/marks"


def test_a_refit_check_has_its_own_photographs(fenholt: Fenholt) -> None:
    """They stand at the check whose words they carry, and nowhere else on the page."""
    jon = fenholt.client("jon")
    photographed(jon, fenholt, "refit, Free play at the trailing edge")
    assert page(jon, f"/job/{fenholt.job}/refit").count("<img") == 1
    assert page(jon, f"/job/{fenholt.job}/arm").count("<img") == 0


def test_a_photograph_by_the_second_person_is_no_work_on_the_job(fenholt: Fenholt) -> None:
    """It stands at its item; whoever took it may still sign, and whoever worked may not take one."""
    person = add_person(fenholt.administrator, "Ines Holt", "IH", licence_number="FH.66.22")
    add_account(fenholt.administrator, person.pk, "ines", PASSWORD)
    give_right(fenholt.administrator, person.pk, SECOND_INSPECTOR)
    jon, ines = fenholt.client("jon"), fenholt.client("ines")
    assert entry(jon, fenholt, "ask-for-inspection", items="Weight screws | torqued")[0] == 200
    step = f"/job/{fenholt.job}/second-inspection"
    item = re.findall(r'name="item" value="([0-9a-f-]+)"', page(ines, step))[0]
    assert entry(ines, fenholt, "item-photo", item=item, photograph=[picture("green")])[0] == 200
    assert 'alt="Weight screws"' in page(ines, step)
    assert person.pk not in workers(Job.objects.get(number=fenholt.job))
    assert entry(jon, fenholt, "item-photo", item=item, photograph=[picture("navy")])[0] == 422
    assert entry(ines, fenholt, "photo", photograph=[picture("teal")])[0] == 422


def test_the_answer_of_the_design_holder_is_attached_to_its_query(fenholt: Fenholt) -> None:
    """Asked without an answer first; the answer's page is shown under it."""
    jon = fenholt.client("jon")
    asked = {"asked": "May the tube be blended?", "of": "holder"}
    assert entry(jon, fenholt, "query", **asked, was="null")[0] == 200
    was = json.dumps(Job.objects.get(number=fenholt.job).details["query"])
    told = {**asked, "answer": "No: renew it.", "reference": "T2-11", "page": picture("ivory"), "was": was}
    assert entry(jon, fenholt, "query", **told)[0] == 200
    shown = page(jon, f"/job/{fenholt.job}/release")
    assert "No: renew it." in shown
    assert 'alt="answer of the design holder"' in shown


@pytest.mark.slow
def test_marked_places_are_on_the_record_and_in_the_worksheet_drawn_and_as_data(fenholt: Fenholt) -> None:
    """The page of the record lists them; the PDF has the picture, the words, and the file's digest in its data."""
    told = weigh(fenholt, Job.objects.get(number=fenholt.job))
    kept = photographed(told.client, fenholt)
    mark = {"photograph": str(kept.pk), "number": "1", "x": "25", "y": "75", "was": "null"}
    assert entry(told.client, fenholt, "photo-mark", **mark, words="1 pit at the root of the lug")[0] == 200
    assert "1 pit at the root of the lug" in page(told.client, f"/records/{fenholt.job}")
    pdf = told.printed("worksheet")
    assert "Photographs with marked places" in words(pdf)
    assert "1 pit at the root of the lug" in words(pdf)
    assert b"/DCTDecode" in pdf
    data = json.loads(pypdf.PdfReader(io.BytesIO(pdf)).attachments["job.json"][0])
    assert data["photographs"][0]["digest"] == kept.digest
    assert data["photographs"][0]["marks"][0]["across"] == "25.00"


def test_a_refused_query_keeps_no_page_of_its_answer(fenholt: Fenholt) -> None:
    """Refused means that nothing was written: a page without what was asked stays with the person."""
    jon = fenholt.client("jon")
    assert entry(jon, fenholt, "query", page=picture("green"), asked="", was="null")[0] == 422
    assert not Attachment.objects.filter(job__number=fenholt.job, kind="page").exists()
    told = {"asked": "May the tube be blended?", "was": "null", "command_key": "query-1"}
    assert entry(jon, fenholt, "query", page=picture("green"), **told)[0] == 200
    assert Attachment.objects.filter(job__number=fenholt.job, kind="page").count() == 1


def test_a_mark_beyond_the_last_is_refused_however_it_is_spelled(fenholt: Fenholt) -> None:
    jon = fenholt.client("jon")
    kept = photographed(jon, fenholt)
    told = {"photograph": str(kept.pk), "x": "10", "y": "20", "words": "a pit", "was": "null"}
    for number in ("0", "999", "00121", "²"):
        assert entry(jon, fenholt, "photo-mark", number=number, **told)[0] == 422, number
