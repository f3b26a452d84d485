"""Limits on the pages: typed as printed, read again blind, compared field by field, superseded with what used them."""

from __future__ import annotations

import io
from datetime import date
from uuid import UUID

import pytest
from django.test import Client
from PIL import Image
from pytest_django import DjangoAssertNumQueries

from hingeline_app.records.actions.jobs import choose_limits
from hingeline_app.records.actions.limits import add_issue
from hingeline_app.records.models import Job, LimitRow, RowReading, Workshop
from hingeline_app.records.roles import SECOND_INSPECTOR
from tests.hingeline_app.web.conftest import Fenholt, _somebody

pytestmark = pytest.mark.django_db

TYPED = {
    "surface": "Elevator, left half", "page": "27-11", "positive": "tail heavy", "moment_lower": "0,00 N m",
    "moment_upper": "2,10 N m", "second_unit_upper": "21.4 kg cm", "force_upper": "8.24 N", "arm": "255 mm",
    "effectivity": "from 0031 on", "fitted": "tab, pushrod, paint dry", "rule": "simple",
}  # fmt: skip


def row_of(fenholt: Fenholt, client: Client, **other: str) -> LimitRow:
    """Type a row in the browser."""
    answer = client.post(f"/limits/issues/{fenholt.approved['issue']}/row", TYPED | other)
    assert answer.status_code == 302, answer.content.decode()
    return LimitRow.objects.get(surface=TYPED["surface"])


def second(fenholt: Fenholt) -> Client:
    """Give the browser of a second inspector."""
    _somebody(fenholt.administrator, "Bo Lind", "bo", SECOND_INSPECTOR, "FH.66.1")
    return fenholt.client("bo")


def test_a_row_is_kept_digit_for_digit_and_an_open_side_says_so(fenholt: Fenholt) -> None:
    row = row_of(fenholt, fenholt.client("jon"))
    printed = row.readings.get().printed
    assert printed["moment"] == ["0.00 N m", "2.10 N m"]
    assert printed["force"] == ["none", "8.24 N"]
    assert (printed["arm"], printed["effectivity"]) == ("255 mm", "from 0031 on")
    assert "chord" not in printed
    assert row.state == "read once"


def test_limits_of_an_inch_pound_are_by_the_gravity_of_the_workshop_as_on_weigh(fenholt: Fenholt) -> None:
    """11.5 in-lb: 0.132494331 kg m (0.45359237 x 0.0254 x 11.5) x 9.8128 m/s^2 = 1.30014 N m; 1.29933 by 9.80665."""
    client = fenholt.client("jon")
    row = row_of(
        fenholt, client, moment_lower="0 in-lb", moment_upper="11.5 in-lb", second_unit_upper="", force_upper=""
    )
    Workshop.objects.filter(pk=fenholt.workshop.pk).update(local_gravity="9.8128 m/s^2")
    for address in ("/limits", f"/limits/{row.pk}"):
        assert types_of(client, address) == ["0.0000 … 1.3001\u00a0N·m tail-heavy"], address


def types_of(client: Client, address: str) -> list[str]:
    """Give the limits that a page of limits shows of the row, in newton metres."""
    context = client.get(address).context
    types = context["types"] if address == "/limits" else [context["type"]]
    return [each.limits for one in types for each in one.rows if each.row.surface == TYPED["surface"]]


def test_the_second_reader_sees_nothing_of_the_first_reading(fenholt: Fenholt) -> None:
    """Neither the list, nor the row, nor the form to read it shows a number of it."""
    row = row_of(fenholt, fenholt.client("jon"), moment_upper="1.987 N m", force_upper="", second_unit_upper="")
    reader = second(fenholt)
    for address in ("/limits", f"/limits/{row.pk}", f"/limits/{row.pk}/read"):
        page = reader.get(address).content.decode()
        assert "1.987" not in page, address
        assert "255 mm" not in page, address
        assert "0031" not in page, address


def test_readings_that_differ_stand_side_by_side_and_both_look_again(fenholt: Fenholt) -> None:
    """2.10 against 2.01: the sum 8.24 N x 0.255 m = 2.101 N m agrees with one of them."""
    first, reader = fenholt.client("jon"), second(fenholt)
    row = row_of(fenholt, first)
    assert reader.post(f"/limits/{row.pk}/read", TYPED | {"moment_upper": "2.01 N m"}).status_code == 302
    page = first.get(f"/limits/{row.pk}").content.decode().replace("\xa0", " ")
    assert "One field differs" in page
    assert "8.24 N × 255 mm = 2.101 N·m" in page
    assert "Against 2.10 N m: agrees to the printed digits." in page
    assert "Against 2.01 N m: 4.5 % apart." in page
    assert reader.post(f"/limits/{row.pk}/read", TYPED).status_code == 302
    row.refresh_from_db()
    assert row.state == "read once", "one of the two alone settles nothing"
    page = first.get(f"/limits/{row.pk}").content.decode()
    assert "The same now, and not settled" in page
    assert "Look again" in page
    assert first.post(f"/limits/{row.pk}/read", TYPED).status_code == 302
    row.refresh_from_db()
    assert row.state == "read twice"
    settled = reader.get(f"/limits/{row.pk}").content.decode()
    assert "Read twice" in settled
    assert "each without seeing the other" not in settled, "the second reader had seen the first reading by then"
    assert "first read it differently" in settled


def test_as_many_fields_are_said_to_differ_as_the_table_marks(fenholt: Fenholt) -> None:
    """Both ends of a pair were one: it said two fields of three lines that were marked."""
    first, reader = fenholt.client("jon"), second(fenholt)
    row = row_of(fenholt, first)
    other = {"moment_lower": "0.10 N m", "moment_upper": "2.01 N m", "arm": "250 mm"}
    assert reader.post(f"/limits/{row.pk}/read", TYPED | other).status_code == 302
    page = first.get(f"/limits/{row.pk}").content.decode()
    assert "3 fields differ" in page
    assert page.count('<tr class="differs">') == 3


def test_a_contradiction_inside_a_row_is_written_out_with_both_values_and_percent(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    row = row_of(fenholt, client, force_upper="9.24 N", second_unit_upper="")
    page = client.get(f"/limits/{row.pk}").content.decode().replace("\xa0", " ")
    assert "Contradiction" in page
    assert "9.24 N x 255 mm = 2.3562 N m, but 2.10 N m is stated" in page
    assert "12.2 % apart" in page
    assert row.readings.get().contradictions[0]["kind"] == "contradiction"


@pytest.mark.parametrize("force", ["1.00 N", "-1.00 N"])
def test_of_a_moment_of_nothing_the_sum_itself_is_said(force: str, fenholt: Fenholt) -> None:
    """Nothing has no percentage of it: "apart" stood there alone. 1.00 N x 255 mm = 0.255 N m (arithmetic)."""
    client = fenholt.client("jon")
    row = row_of(fenholt, client, force_lower=force)
    page = client.get(f"/limits/{row.pk}").content.decode().replace("\xa0", " ")
    assert "Against 0.00 N m: 0.255 N·m apart." in page


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        ({"moment_upper": "2.10"}, "unit"),
        ({"positive": "plus"}, "tail-heavy or nose-heavy"),
        ({"moment_lower": "", "moment_upper": ""}, "at least one limit"),
        ({"arm": ""}, "the arm of the force"),
        # It was kept as -3 in-lb, and the nose-heavy row made tail-heavy of it.
        ({"positive": "nose heavy", "moment_upper": "3 in-lb nose-heavy"}, "without a word for its sense"),
        ({"positive": "tail-heavy (-)"}, "It speaks of the minus"),
        ({"band_1_from": "1 kg", "band_1_to": "2 kg", "band_1_lower": "5 kg"}, "a moment is expected"),
    ],
)
def test_what_cannot_be_read_is_refused_and_stays_in_its_field(
    fenholt: Fenholt, bad: dict[str, str], words: str
) -> None:
    answer = fenholt.client("jon").post(f"/limits/issues/{fenholt.approved['issue']}/row", TYPED | bad)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert 'value="from 0031 on"' in page
    assert not LimitRow.objects.filter(surface=TYPED["surface"]).exists()


def test_one_form_sent_twice_is_one_row(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    row_of(fenholt, client, command_key="a" * 32)
    row_of(fenholt, client, command_key="a" * 32)


def test_mass_bands_and_a_nose_heavy_plus_are_drawn_tail_heavy_positive(fenholt: Fenholt) -> None:
    """A document whose plus is nose-heavy: 0.2 to 0.5 N m in print lie on the nose-heavy side of the bar."""
    band = {"band_1_from": "3.0 kg", "band_1_to": "3.5 kg", "band_1_lower": "0.2 N m", "band_1_upper": "0.5 N m"}
    client = fenholt.client("jon")
    empty = {"moment_lower": "", "moment_upper": "", "second_unit_upper": "", "force_upper": "", "arm": ""}
    row = row_of(fenholt, client, positive="nose heavy", **empty, **band)
    assert row.readings.get().printed["bands"] == [{"mass": ["3.0 kg", "3.5 kg"], "moment": ["0.2 N m", "0.5 N m"]}]
    assert "0.20 … 0.50 N·m nose-heavy" in client.get("/limits").content.decode().replace("\xa0", " ")


def test_a_row_of_before_the_rule_says_so_until_a_second_person_has_compared_it(fenholt: Fenholt) -> None:
    """The page to compare shows no number of the row; what is typed there decides, and nothing is turned by itself."""
    typed = {"positive": "nose heavy", "moment_lower": "-3.25 N m", "moment_upper": "-1 N m"}
    first, reader = fenholt.client("jon"), second(fenholt)
    row = row_of(fenholt, first, **typed)
    assert "Compare it with its document" not in first.get(f"/limits/{row.pk}").content.decode()
    reader.post(f"/limits/{row.pk}/read", TYPED | typed)
    RowReading.objects.update(numbers_are_bare=False)
    job = Job.objects.get(number=fenholt.job)
    choose_limits(fenholt.mate, job.pk, row.pk, job.limit_row_id)
    asked = "compare it with its document"
    assert asked in first.get(f"/job/{fenholt.job}/limits").content.decode()
    page = first.get(f"/limits/{row.pk}").content.decode()
    assert "Compare it with its document" in page
    assert "Another person than the first reader" in page
    assert first.get(f"/limits/{row.pk}/read").status_code == 403
    assert "Compare with the document" in reader.get(f"/limits/{row.pk}").content.decode()
    assert "3.25" not in reader.get(f"/limits/{row.pk}/read").content.decode()
    assert reader.post(f"/limits/{row.pk}/read", TYPED | typed).status_code == 302
    assert "Compare it with its document" not in first.get(f"/limits/{row.pk}").content.decode()
    assert asked not in first.get(f"/job/{fenholt.job}/limits").content.decode()


def test_a_new_issue_lists_open_jobs_that_used_its_rows(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    row = row_of(fenholt, client)
    job = Job.objects.get(number=fenholt.job)
    choose_limits(fenholt.mate, job.pk, row.pk, job.limit_row_id)
    add_issue(fenholt.mate, fenholt.approved["document"], "D", date(2026, 9, 1))
    page = client.get(f"/limits/documents/{fenholt.approved['document']}").content.decode()
    assert "Superseded rows were used" in page
    assert f"/job/{fenholt.job}" in page
    assert "Superseded" in client.get(f"/limits/{row.pk}").content.decode()
    answer = client.get(f"/limits/issues/{fenholt.approved['issue']}/row")
    assert answer.status_code == 404, "no row is entered into an issue that is superseded"


def test_a_photograph_of_the_page_is_shown_as_drawn_anew(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    row = row_of(fenholt, client)
    picture = io.BytesIO()
    Image.new("RGB", (60, 40), "white").save(picture, "PNG")
    picture.seek(0)
    picture.name = "page 3.png"
    assert client.post(f"/limits/{row.pk}/photograph", {"photograph": picture}).status_code == 302
    photograph = row.attachments.get().pk
    answer = client.get(f"/limits/{row.pk}/page/{photograph}")
    assert answer["Content-Type"] == "image/jpeg"
    assert answer.content[:2] == b"\xff\xd8"
    no_picture = io.BytesIO(b"no picture")
    no_picture.name = "page.txt"
    refused = client.post(f"/limits/{row.pk}/photograph", {"photograph": no_picture})
    assert (refused.status_code, b"a whole JPEG, PNG or HEIC picture" in refused.content) == (422, True)


@pytest.mark.parametrize(("address", "queries"), [("/limits", 8), ("/limits/{row}", 11)])
def test_the_number_of_queries_does_not_grow_with_rows(
    fenholt: Fenholt, django_assert_num_queries: DjangoAssertNumQueries, address: str, queries: int
) -> None:
    client = fenholt.client("jon")
    row: UUID = row_of(fenholt, client).pk
    for number in range(4):
        client.post(f"/limits/issues/{fenholt.approved['issue']}/row", TYPED | {"surface": f"Tab {number}"})
    client.get("/limits")
    with django_assert_num_queries(queries):
        assert client.get(address.format(row=row)).status_code == 200
