"""A signature that is forged through the page, and the hour that the page shows of a true one."""

from __future__ import annotations

import re

import pytest

from hingeline_app.records.actions.workshop import change_workshop
from hingeline_app.records.models import Person, Signature
from tests.hingeline_app.web import after_the_weighing as after
from tests.hingeline_app.web.after_the_weighing import closed, look_at_all, page, signs
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
weighed_shop = after.shop


@pytest.mark.slow
@pytest.mark.fault("F08")
def test_the_hour_of_a_signature_is_shown_with_the_name_of_its_zone(weighed_shop: Fenholt) -> None:
    """In UTC, and nine hours on once the workshop says Tokyo; what was signed still holds."""
    closed(weighed_shop)
    second = weighed_shop.client("ines")
    look_at_all(second, weighed_shop)
    signs(second, f"/job/{weighed_shop.job}/sign/second")
    before = re.search(r"(\d\d):\d\d UTC", page(second, weighed_shop, "second-inspection"))
    told = {"name": "Fenholt", "approval_number": "", "authority": "", "local_gravity": "9.81 m/s^2", "language": "en"}
    change_workshop(weighed_shop.administrator, zone="Asia/Tokyo", **told)
    after = re.search(r"(\d\d):\d\d JST", page(second, weighed_shop, "second-inspection"))
    assert before
    assert after
    assert int(after.group(1)) == (int(before.group(1)) + 9) % 24
    assert "Signed as second" in page(second, weighed_shop, "second-inspection")


@pytest.mark.slow
@pytest.mark.fault("F36", "F37")
def test_a_forged_second_signature_signs_nothing(weighed_shop: Fenholt) -> None:
    """Another's name in the form, another's rights, what was never seen, a wrong proof: nothing is signed."""
    worker, second = closed(weighed_shop), weighed_shop.client("ines")
    look_at_all(second, weighed_shop)
    address = f"/job/{weighed_shop.job}/sign/second"
    inspector = str(Person.objects.get(name="Ines Holt").pk)
    forged = {"signer": inspector, "person": inspector, "account": inspector, "licence_number": "FH.66.22"}
    assert signs(worker, address, **forged).status_code in (403, 422)
    assert signs(weighed_shop.client("mara"), address, **forged).status_code in (403, 422)
    for changed in (
        {"seen": "{}"},
        {"seen": '{"1": "00"}'},
        {"proof_password": "wrong wrong"},
    ):
        assert signs(second, address, **changed).status_code in (403, 409, 422), changed
    assert not Signature.objects.exists()
    assert signs(second, address).status_code == 302
    assert [each.made_by.name for each in Signature.objects.all()] == ["Ines Holt"]
