"""What somebody in the hangar's network tries who has no account, and somebody who has one and wants more."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from django.conf import settings
from django.contrib.auth import hashers
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http.multipartparser import MultiPartParser
from django.test import Client
from django.urls import URLPattern, reverse

from hingeline_app.records import door_notes
from hingeline_app.records.models import Attachment, Entry
from hingeline_app.web.urls import urlpatterns
from tests.hingeline_app.web.conftest import PASSWORD, PIN, Fenholt

pytestmark = pytest.mark.django_db
SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
DEEP = "[" * 15_000
HTML = b"<!doctype html><script>alert(1)</script>"
PATTERNS = [each for each in urlpatterns if isinstance(each, URLPattern)]


@pytest.mark.fault("F20")
@pytest.mark.parametrize("cookie", [None, "x" * 32], ids=["nobody", "made-up session"])
def test_nobody_sends_a_file_before_coming_in(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, cookie: str | None
) -> None:
    """2 MB to the sign-in are refused unread with 403; the tablet's queue is told to wait for its person."""

    def read(*_arguments: Any, **_named: Any) -> None:
        raise AssertionError("it was read")

    client = Client()
    if cookie:
        client.cookies[settings.SESSION_COOKIE_NAME] = cookie
    monkeypatch.setattr(MultiPartParser, "__init__", read)
    for page in ("/sign-in/password", f"/job/{fenholt.job}/entry"):
        file = SimpleUploadedFile("a.jpg", bytes(2_000_000))
        answer = client.post(page, {"photograph": file})
        assert answer.status_code == 403
        assert b"was not read" in answer.content
    file = SimpleUploadedFile("a.jpg", bytes(2_000_000))
    waits = client.post(f"/job/{fenholt.job}/entry", {"photograph": file}, headers={"X-Entry": "1"})
    assert (waits.status_code, waits.json()) == (401, {"state": "nobody"})


@pytest.mark.slow
@pytest.mark.fault("F39")
def test_no_address_takes_a_form_without_the_token_of_its_page(fenholt: Fenholt) -> None:
    """Each address, as somebody signed in, with POST, PUT, PATCH and DELETE: 403, and no page is excepted."""
    client = Client(enforce_csrf_checks=True)
    client.cookies = fenholt.client("mara").cookies
    taken = []
    for pattern in PATTERNS:
        assert not getattr(pattern.callback, "csrf_exempt", False), pattern.name
        names = pattern.pattern.converters
        parts = {name: {"int": 1, "uuid": UUID(int=1)}.get(kind_of(each), "x") for name, each in names.items()}
        address = reverse(str(pattern.name), kwargs=parts)
        for method in ("post", "put", "patch", "delete"):
            if getattr(client, method)(address).status_code != 403:
                taken.append((pattern.name, method))
    assert taken == []


def kind_of(converter: Any) -> str:
    return {"IntConverter": "int", "UUIDConverter": "uuid"}.get(type(converter).__name__, "text")


def test_a_session_that_was_known_before_opens_nothing_after(fenholt: Fenholt) -> None:
    """Coming in makes a new session; one that is left or switched away opens nothing, whoever kept its cookie."""
    victim, known = Client(), fenholt.client("jon").cookies[settings.SESSION_COOKIE_NAME].value
    victim.cookies[settings.SESSION_COOKIE_NAME] = known
    victim.post("/switch")
    victim.post("/sign-in/password", {"sign_in_name": "mara", "password": PASSWORD})
    own = victim.cookies[settings.SESSION_COOKIE_NAME].value
    assert own != known
    attacker = Client()
    attacker.cookies[settings.SESSION_COOKIE_NAME] = known
    assert attacker.get("/workshop").status_code == 302
    assert victim.get("/workshop").status_code == 200
    victim.post("/sign-out")
    attacker.cookies[settings.SESSION_COOKIE_NAME] = own
    assert attacker.get("/workshop").status_code == 302


@pytest.mark.parametrize(
    "wanted",
    ["//elsewhere.example", "https://elsewhere.example/", "/\\elsewhere.example", "/\r\nSet-Cookie: session=x",
     "javascript:alert(1)", "///elsewhere.example", "/%0d%0aSet-Cookie:x", "\t//elsewhere.example"],
)  # fmt: skip
def test_coming_in_leads_to_our_own_pages_only(fenholt: Fenholt, wanted: str) -> None:
    """No other site and no further header by way of where to go next."""
    signs_in = {"sign_in_name": "mara", "password": PASSWORD, "next": wanted}
    answer = Client().post("/sign-in/password", signs_in)
    assert answer.status_code == 302
    where = answer["Location"]
    assert where.startswith("/")
    assert not where.startswith(("//", "/\\"))
    assert "\n" not in where
    assert "x" not in {each.value for each in answer.cookies.values()}


@pytest.mark.parametrize(
    "content", [SVG, HTML, b"%PDF-1.7 <script>", b"GIF89a<script>"], ids=["svg", "html", "pdf", "gif"]
)
@pytest.mark.parametrize("name", ["../../../evil.html", "a.jpg\r\nX-Evil: 1", "..\\..\\evil.svg", "/etc/evil"])
def test_what_is_no_photograph_is_not_taken_whatever_its_name_and_kind(
    fenholt: Fenholt, tmp_path: Path, name: str, content: bytes
) -> None:
    """Pages and drawings that could run code are refused by their content, and nothing lies anywhere afterwards."""
    client, before = fenholt.client("jon"), set(tmp_path.rglob("*"))
    file = SimpleUploadedFile("x.jpg", content, "image/jpeg")
    file._name = name  # type: ignore[attr-defined]  # past the name that the test's own client would mend
    answer = client.post(f"/job/{fenholt.job}/entry", {"kind": "photo", "step": "arrive", "photograph": file})
    assert answer.status_code in (302, 400, 422)
    assert Attachment.objects.count() == 1
    assert {each for each in set(tmp_path.rglob("*")) - before if each.suffix != ".lock"} == set()


@pytest.mark.parametrize(
    "text", [DEEP, "[1", "[]", '{"id": {}}', "7", ""], ids=["deep", "cut", "list", "id", "7", "none"]
)
def test_no_answer_of_a_device_is_a_fault_of_the_program(fenholt: Fenholt, text: str) -> None:
    """Brackets within brackets without end, and what else is no answer, in each form: refused in words."""
    nobody, own = Client(), fenholt.client("mara")
    nobody.post("/sign-in/passkey")
    own.post("/own/passkey/options")
    refused = [
        nobody.post("/sign-in/password", {"proof_assertion": text}),
        own.post("/own/passkey", {"passkey": "phone", "proof_assertion": text}),
        own.post(f"/job/{fenholt.job}/sign/second", {"seen": text or DEEP, "proof_password": PASSWORD}),
    ]
    assert [each.status_code for each in refused] == [422] * 3


def test_a_form_of_very_many_fields_or_files_is_not_understood(fenholt: Fenholt) -> None:
    client = fenholt.client("jon")
    client.raise_request_exception = False
    assert client.post("/draft", {f"f{number}": "" for number in range(2_100)}).status_code == 400
    files = {f"f{number}": SimpleUploadedFile("a", b"a") for number in range(25)}
    assert client.post("/draft", files).status_code == 400


@pytest.mark.fault("F41")
@pytest.mark.parametrize("name", ["mara", "nobody-of-this-name", "jon"])
def test_a_wrong_try_costs_one_hash_whoever_is_tried(
    fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    """By how long it takes nobody learns whether a name is known: one password is hashed for each try."""
    counted: list[str] = []
    encode = hashers.get_hasher().__class__.encode

    def counting(self: Any, password: str, *arguments: Any, **named: Any) -> str:
        counted.append(password)
        return str(encode(self, password, *arguments, **named))

    monkeypatch.setattr(hashers.get_hasher().__class__, "encode", counting)
    client = Client()
    client.post("/sign-in/password", {"sign_in_name": name, "password": "a wrong walk to the hangar"})
    assert len(counted) == 1
    assert PIN not in counted


@pytest.mark.slow
@pytest.mark.fault("F41")
@pytest.mark.parametrize("tries", [250, pytest.param(10_000, marks=pytest.mark.campaign)])
def test_tries_without_end_open_nothing_fill_nothing_and_shut_out_nobody_else(
    fenholt: Fenholt, tries: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """PINs at a tablet, and names that nobody has elsewhere: all refused, no more than five are compared of a person.

    The security chain takes a hundred notes a device and says that there were more. The right PIN is refused too, at
    this tablet; another person at it, and the same one elsewhere, come in. All of it within one quarter of an hour,
    which is made a day here: ten thousand tries take longer on a busy machine.
    """
    monkeypatch.setattr(settings, "AXES_COOLOFF_TIME", timedelta(days=1))
    monkeypatch.setattr(door_notes, "WINDOW", 86400.0)
    tablet, elsewhere = fenholt.client(on_tablet=True), Client()
    account = fenholt.administrator.account.pk  # type: ignore[union-attr]
    before = Entry.objects.count()
    statuses = [tablet.post(f"/sign-in/{account}", {"pin": f"{n:06}"}).status_code for n in range(tries)]
    assert statuses == [422] * 4 + [429] * (tries - 4)
    guesses = [{"sign_in_name": f"name-{n}", "password": "a wrong walk to it"} for n in range(tries)]
    assert {elsewhere.post("/sign-in/password", each).status_code for each in guesses} == {422}
    assert Entry.objects.count() - before == 2 * door_notes.MOST
    assert Entry.objects.filter(body__contains="are not noted for a while").count() == 2
    assert tablet.post(f"/sign-in/{account}", {"pin": PIN}).status_code == 429
    signs_in = {"sign_in_name": "jon", "password": PASSWORD}
    assert fenholt.client(on_tablet=True).post("/sign-in/password", signs_in).status_code == 302
    assert fenholt.client("mara").get("/workshop").status_code == 200
