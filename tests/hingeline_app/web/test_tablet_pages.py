"""The tablet's own addresses: who is here now, entries that wait, settings, the worker's script, labels."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from hingeline_app.records.models import Draft, Job
from hingeline_app.web.offline import STATIC, offline_files
from hingeline_app.web.pages.bench.at_scan import mark_in
from tests.hingeline_app.recordings.test_labels import ADDRESS, photographed
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
DRAINS = {"kind": "detail", "as": "tick", "place": "arrive.drains", "was": "", "value": "on", "command_key": "d1"}


def sent(client: Any, fenholt: Fenholt, **more: str) -> tuple[int, dict[str, Any]]:
    answer = client.post(f"/job/{fenholt.job}/entry", DRAINS, headers={"X-Entry": "1", **more})
    return answer.status_code, json.loads(answer.content)


def person(fenholt: Fenholt) -> str:
    assert fenholt.mate.person is not None
    return str(fenholt.mate.person.pk)


def test_the_queue_learns_who_is_here_and_is_told_to_wait_otherwise(fenholt: Fenholt) -> None:
    """Here, locked, nobody; an entry in the latter two is answered 401, written nowhere, left as no draft."""
    client = fenholt.client("jon")
    said = client.get("/tablet/now").json()
    assert (said["state"], said["person"], bool(said["token"])) == ("here", person(fenholt), True)
    client.post("/lock/now")
    assert client.get("/tablet/now").json()["state"] == "locked"
    assert sent(client, fenholt) == (401, {"state": "locked"})
    assert fenholt.client().get("/tablet/now").json()["state"] == "nobody"
    assert sent(fenholt.client(), fenholt) == (401, {"state": "nobody"})
    assert Job.objects.get().details == {}
    assert not Draft.objects.exists()


def test_an_entry_is_never_taken_as_somebody_elses(fenholt: Fenholt) -> None:
    """What Jon made on the tablet waits while Mara is signed in, whatever her rights; as Jon it is kept."""
    whose = {"X-Entry-Person": person(fenholt)}
    assert sent(fenholt.client("mara"), fenholt, **whose) == (401, {"state": "other"})
    assert Job.objects.get().details == {}
    assert sent(fenholt.client("jon"), fenholt, **whose)[0] == 200


def test_a_lock_leads_back_to_where_it_was_pressed(fenholt: Fenholt) -> None:
    answer = fenholt.client("jon").post("/lock/now", {"next": f"/job/{fenholt.job}/weigh"})
    assert answer["Location"] == f"/lock?next=%2Fjob%2F{fenholt.job}%2Fweigh"


def test_a_tablet_is_set_by_its_own_cookies(fenholt: Fenholt) -> None:
    """What is chosen holds on the next page; what is none of the choices changes nothing."""
    client = fenholt.client("jon")
    german = client.post("/workshop/this-tablet", {"language": "de"}, follow=True).content.decode()
    assert "This tablet is set so" not in german, "told in the language that was chosen"
    client.post(
        "/workshop/this-tablet", {"language": "", "hand": "left", "decimal": "comma", "pad": "sideways", "baud": "2400"}
    )
    page = client.get("/workshop/this-tablet").content.decode()
    assert 'data-hand="left"' in page
    assert 'data-decimal="comma"' in page
    assert 'data-baud="2400"' in page
    assert 'data-pad="own"' in page


def test_the_worker_keeps_our_own_files_only_and_each_is_there(fenholt: Fenholt) -> None:
    """Every file that it names is ours and exists; another byte in one of them makes another script."""
    client = fenholt.client()
    text = client.get("/worker.js").content.decode()
    files = json.loads(re.search(r"FILES = (\[.*?\]);", text).group(1))  # type: ignore[union-attr]
    assert files == offline_files()
    assert all(client.get(each).status_code == 200 for each in files if not each.startswith("/static/"))
    assert all((STATIC / each.removeprefix("/static/")).is_file() for each in files if each.startswith("/static/"))
    manifest = json.loads((STATIC / "web" / "hingeline.webmanifest").read_text("utf-8"))
    assert all((STATIC / icon["src"].removeprefix("/static/")).is_file() for icon in manifest["icons"])


def test_the_page_that_stands_in_has_the_language_and_the_light_of_the_tablet(fenholt: Fenholt) -> None:
    """It is taken anew by the worker when a hand changes one of them."""
    client = fenholt.client("jon")
    client.cookies["language"], client.cookies["light"] = "de", "night"
    shown = client.get("/without-connection").content.decode()
    assert '<html lang="de" data-light="night">' in shown
    assert "Keine Verbindung" in shown


def test_a_label_is_found_by_photograph_or_by_hand(fenholt: Fenholt) -> None:
    """The mark of a photograph and a typed one lead to the same place; another code and no code are told apart."""
    client, mark = fenholt.client("jon"), ADDRESS.rpartition("/")[2]
    photo = SimpleUploadedFile("label.jpg", photographed(ADDRESS), "image/jpeg")
    assert client.post("/at", {"photograph": photo})["Location"] == f"/at/{mark}"
    assert client.post("/at", {"mark": mark})["Location"] == f"/at/{mark}"
    other = SimpleUploadedFile("other.jpg", photographed("https://elsewhere.example/"), "image/jpeg")
    answer = client.post("/at", {"photograph": other})
    assert (answer.status_code, "no label of a surface" in answer.content.decode()) == (422, True)
    nothing = client.post("/at", {"photograph": SimpleUploadedFile("x.jpg", b"no picture", "image/jpeg")})
    assert nothing.status_code == 422


@pytest.mark.parametrize(
    ("text", "mark"),
    [
        (ADDRESS, "3f2a9c0d5b7e4a1c8d6e2f0a1b3c5d7e"),
        ("3f2a9c0d5b7e", "3f2a9c0d5b7e"),
        ("javascript:alert(1)", ""),
        ("https://elsewhere.example/at/../../own", ""),
        ("short", ""),
    ],
)
def test_only_a_mark_is_taken_from_a_code(text: str, mark: str) -> None:
    assert mark_in(text) == mark
