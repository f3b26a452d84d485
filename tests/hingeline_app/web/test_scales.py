"""Scales on the pages: numbers as people type them, refused at their field where they cannot be read."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from hingeline_app.records.models import DailyCheck, Scale
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
NEW = {"name": "HL-4", "step": "0,5 g", "largest": "6 kg", "expanded": "1 g", "coverage_factor": "2"}


def test_a_comma_is_a_decimal_mark_and_the_unit_is_kept(fenholt: Fenholt) -> None:
    assert fenholt.client("jon").post("/workshop/scales/add", NEW).status_code == 302
    scale = Scale.objects.get(name="HL-4")
    assert (scale.step, scale.largest) == ("0.5 g", "6 kg")
    assert scale.uncertainty == {"calibration": {"expanded": "1 g", "k": 2}}


@pytest.mark.parametrize(
    ("step", "words"),
    [
        ("5", "unit"),
        ("1.234,5 g", "thousands"),
        ("1e3 g", "exponent"),
        ("\uff11 g", "digits"),
        ("5 furlongs", "refused"),
        ("nan g", "refused"),
    ],
)
def test_what_cannot_be_read_is_refused_at_its_field_and_stays_in_it(fenholt: Fenholt, step: str, words: str) -> None:
    """Table of bad numbers: the field is marked, the text is still there, nothing was entered."""
    answer = fenholt.client("jon").post("/workshop/scales/add", {**NEW, "step": step})
    page = answer.content.decode()
    assert answer.status_code == 422
    assert words in page
    assert f'value="{step}"' in page
    assert not Scale.objects.filter(name="HL-4").exists()


def test_a_check_that_is_off_is_kept_and_said(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    assert client.post(f"/workshop/scales/{fenholt.scale}/check", {"shown": "2,010 kg"}).status_code == 302
    assert not DailyCheck.objects.get().is_within
    assert b"off by more than allowed" in client.get("/workshop/scales").content


def test_a_new_certificate_takes_the_place_of_the_one_before_from_its_first_day(fenholt: Fenholt) -> None:
    """Without a first day it is said to be not known; a certificate that ends before it begins is refused."""
    client, address = fenholt.client("jon"), f"/workshop/scales/{fenholt.scale}/certificate"
    days = [date.today() + timedelta(days=each) for each in (-30, 335)]
    said = {"certificate": "K 7", "certificate_begins": days[0], "certificate_expires": days[1], "coverage_factor": "2"}
    assert client.get(address).status_code == 200
    swapped = {**said, "certificate_begins": date.today(), "certificate_expires": days[0]}
    assert client.post(address, swapped).status_code == 422
    assert client.post(address, said).status_code == 302
    assert f"holds from {days[0]} until {days[1]}" in client.get("/workshop/scales").content.decode()
    before = Scale.objects.get(pk=fenholt.scale).certificates_before
    assert [each["certificate"] for each in before] == [""]
    Scale.objects.filter(pk=fenholt.scale).update(certificate_begins=None)
    assert f"holds until {days[1]}; since when is not known" in client.get("/workshop/scales").content.decode()


def test_a_scale_typed_wrong_is_corrected_until_a_result_rests_on_it_and_its_check_weight_always(
    fenholt: Fenholt,
) -> None:
    client = fenholt.client("jon")
    client.post("/workshop/scales/add", NEW)
    scale = Scale.objects.get(name="HL-4")
    address = f"/workshop/scales/{scale.pk}/correct"
    assert 'value="0.5 g"' in client.get(address).content.decode()
    typed = {"name": "HL-4", "step": "5 g", "largest": "6 kg", "check_weight": "2 kg", "check_tolerance": "5 g"}
    assert client.post(address, typed).status_code == 422
    assert client.post(address, typed | {"reason": "plate read again"}).status_code == 302
    scale.refresh_from_db()
    assert (scale.step, scale.check_weight, scale.uncertainty["calibration"]["expanded"]) == ("5 g", "2 kg", "1 g")
    assert client.post(address, typed | {"reason": "larger", "step": "7 kg"}).status_code == 422
