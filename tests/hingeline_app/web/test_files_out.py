"""Files, prints and pictures that leave the workshop, asked for by a guest, by who has left, by who lost every role."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.urls import reverse

from hingeline_app.records.actions.calendar_feeds import make_feed
from hingeline_app.records.actions.parts import add_part, fit_part
from hingeline_app.records.dates import today
from hingeline_app.records.models import Aircraft, Person, Right
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.test_every_address import PATTERNS, parts_of
from tests.hingeline_app.web.who_may_come import IN, TABLE

pytestmark = [pytest.mark.django_db, pytest.mark.slow, pytest.mark.fault("F40")]

# What gives the workshop's records out as a file, a print or a picture, or tells a part's whole life.
OUT = (
    "job-weighing-file", "job-correction-file", "job-arm-file", "job-worksheet", "job-owner-sheet",
    "job-release-wording", "job-incomplete", "order-incomplete", "job-blank", "job-balance-line", "order-worksheet",
    "labels-sheet", "job-picture", "job-photograph", "record", "record-again", "picture", "limits-page",
    "recording-tap-lines", "recording-film", "recording-picture", "recording-marks-file", "study-file",
    "why-balance-own-model", "fleet-due-file", "fleet-calendar-file", "fleet-feed", "aircraft-export", "part",
)  # fmt: skip
# Of no workshop's records: drawings, teaching sheets, the demonstration models.
OF_NOBODY = ("why-balance-file", "why-balance-side", "why-balance-sheet", "recordings-marks-sheet", "trust-certificate")
OWN = (b"D-EFHM", b"T2-07", b"D-MT03", b"arm check", b"A-17")
# How a print, a picture, a film or an export begins: no word of the records can be read in its bytes.
PACKED = (b"%PDF", b"PK", b"\xff\xd8", b"\x89PNG", b"RIFF")


def _leaves(person: Person) -> None:
    Person.objects.filter(pk=person.pk).update(left_on=today(person.workshop))


def _is_guest(person: Person) -> None:
    """A guest has no account; one who was given a guest's standing keeps the session that was open."""
    Person.objects.filter(pk=person.pk).update(is_guest=True)


def _loses_every_role(person: Person) -> None:
    Right.objects.filter(person=person).update(until=today(person.workshop))


def out_of(fenholt: Fenholt) -> dict[str, str]:
    """Give the address of each file, with identifiers that exist."""
    aircraft = Aircraft.objects.get(registration="D-EFHM")
    part = add_part(fenholt.mate, "Weight arm", "A-17")
    fit_part(fenholt.mate, part.pk, aircraft.pk, today(fenholt.workshop) - timedelta(days=1))
    found = {name: reverse(name, kwargs=parts_of(name, fenholt)) for name in OUT}
    return found | {"fleet-feed": reverse("fleet-feed", kwargs={"token": make_feed(fenholt.mate)})}


def asked(client: Client, name: str, address: str) -> tuple[int, str, bytes]:
    """Give status, where it sends, and all that came."""
    answer = client.post(address) if TABLE[name][0].method == "post" else client.get(address)
    body = b"".join(answer.streaming_content) if answer.streaming else answer.content  # type: ignore[arg-type]
    return answer.status_code, answer.headers.get("Location", "").partition("?")[0], body


def test_every_address_that_ends_like_a_file_is_tried() -> None:
    ends = (".toml", ".json", ".pdf", ".jpg", ".ics", "sheet", "-file", "-feed", "export", "picture", "-line")
    files = {name for name, each in PATTERNS.items() if f"{name} {each.pattern}".endswith(ends) or name.endswith(ends)}
    assert files - {"fleet-hours-line"} <= {*OUT, *OF_NOBODY}


@pytest.mark.parametrize(("becomes", "ends"), [(_leaves, {302}), (_is_guest, {403, 404, 422}),
                                               (_loses_every_role, {403, 404, 422})])  # fmt: skip
def test_no_file_goes_to_a_guest_to_who_left_or_to_who_lost_every_role(
    fenholt: Fenholt, becomes: object, ends: set[int]
) -> None:
    """The session was opened before: it is asked anew each time what the person may see."""
    client, person = fenholt.client("jon"), fenholt.mate.person
    addresses = out_of(fenholt)
    for name in ("fleet-due-file", "fleet-calendar-file", "fleet-feed", "part"):
        assert any(own in asked(client, name, addresses[name])[2] for own in OWN), f"{name}: it tells of something"
    assert asked(client, "job-blank", addresses["job-blank"])[2].startswith(PACKED), "a print, while the role holds"
    becomes(person)  # type: ignore[operator]
    for name, address in addresses.items():
        status, where, body = asked(client, name, address)
        assert not [own for own in OWN if own in body], name
        assert not body.startswith(PACKED), name
        assert status in ends or status == 200, name
        assert status != 302 or where == IN, name


def test_a_part_of_another_workshop_has_no_life_here_nor_a_mark_of_its_number(
    fenholt: Fenholt, elsewhere: Actor
) -> None:
    """The same part and serial number stands in both: each workshop reads of its own alone."""
    client = fenholt.client("jon")
    life = out_of(fenholt)["part"]
    stranger = fenholt.client("otto")
    assert stranger.get(life).status_code == 404
    theirs = add_part(elsewhere, "Weight arm", "A-17")
    own = stranger.get(reverse("part", kwargs={"part": theirs.pk})).content
    assert b"A-17" in own
    assert b"D-EFHM" not in own
    assert client.get(reverse("part", kwargs={"part": theirs.pk})).status_code == 404
    assert b"D-EFHM" in client.get(life).content
