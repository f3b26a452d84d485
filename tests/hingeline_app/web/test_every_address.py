"""Every address as administrator, team mate, stranger and nobody, by the wrong method, with a bad identifier.

An address that is not in the table fails the first test: who may come there has to be said.
"""

from __future__ import annotations

from functools import wraps
from pathlib import Path
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.test import Client, override_settings
from django.urls import URLPattern, reverse

from hingeline_app.evidence.answer import answer_of_file
from hingeline_app.evidence.asked import Asked
from hingeline_app.evidence.series import AskedSeries, answer_of_series, member_of
from hingeline_app.records.actions.measuring import open_measurement
from hingeline_app.records.actions.parts import add_part
from hingeline_app.records.actions.recordings import About, TakenIn, keep_finding, take_recording_in
from hingeline_app.records.actions.series import keep_series
from hingeline_app.records.models import Job, Measurement, Part, ShakeRecording
from hingeline_app.records.queries.series import offered
from hingeline_app.web.access import who_may_come
from hingeline_app.web.urls import urlpatterns
from tests.browser.pages_looked_at import BY_HAND, CRAWLED, ELSEWHERE, NO_PAGE
from tests.doors.checkouts import ROOT
from tests.hingeline_app.made_once import Made, made_once
from tests.hingeline_app.web.code_in_pages import expect_no_code_of_its_own
from tests.hingeline_app.web.conftest import Fenholt, _folders, add_elsewhere
from tests.hingeline_app.web.in_the_hangar import told_in_the_hangar
from tests.hingeline_app.web.who_may_come import BY_ENGINEERS, HANGAR, IN, TABLE, Row

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


ACT_OF = {"right-act": "end", "account-act": "close", "aircraft-act": "surface", "stand-act": "stand"}
# What the one-button acts ask for.
SENT = {"reason": "moved"}
CASES = [(name, row) for name, rows in TABLE.items() for row in rows]
# What a backup or a whole look costs is tried in their own tests; here only the door counts.
COSTLY = {"backup-now", "ledger-verify"}
# After the set-up its page sends on before it is asked anything.
NEVER_COME_TO = {"set-up"}
PATTERNS = {pattern.name: pattern for pattern in urlpatterns if isinstance(pattern, URLPattern)}


@pytest.fixture(scope="module")
def elsewhere_made(fenholt_made: Made[Fenholt], django_db_blocker: Any, tmp_path_factory: Any) -> Made[Any]:
    """The other workshop, as it is added to Fenholt's database."""
    folder = tmp_path_factory.mktemp("elsewhere")
    with django_db_blocker.unblock(), override_settings(DATA_FOLDER=folder, **_folders(folder)):
        return made_once(add_elsewhere, folder, onto=fenholt_made)


@pytest.fixture
def elsewhere(fenholt: Fenholt, elsewhere_made: Made[Any], tmp_path: Path) -> Any:
    """The same in a test's database, before anything else is done there."""
    return elsewhere_made.put_into(tmp_path)


def parts_of(name: str, fenholt: Fenholt) -> dict[str, Any]:
    """Give identifiers that exist at Fenholt for an address."""
    mate = fenholt.mate
    right = mate.person.rights.get()  # type: ignore[union-attr]
    surface = Job.objects.get(number=fenholt.job).surface
    there = {
        "person": mate.person.pk,  # type: ignore[union-attr]
        "right": right.pk,
        "account": mate.account.pk,  # type: ignore[union-attr]
        "tablet": fenholt.tablet.pk,
        "passkey": uuid4(),
        "scale": fenholt.scale,
        **fenholt.approved,
        "sheet": "what-balance-does",
        "key": "0" * 32,
        "model": uuid4(),
        "draws": 1000,
        "seed": 0,
        "number": fenholt.job if not name.startswith("order") else fenholt.order,
        "mark": fenholt.surface.hex,
        "step": "arrive",
        "what": "release",
        "weighing": 1,
        "act": ACT_OF.get(name, "correct"),
        "surface": surface.pk,
        "aircraft": surface.aircraft_id,
        "attachment": fenholt.approved["photograph"],
    }
    wanted = PATTERNS[name].pattern.converters
    if "part" in wanted:
        there["part"] = part_of(fenholt)
    if "weighing" in wanted and not Measurement.objects.exists():
        open_measurement(fenholt.mate, Job.objects.get(number=fenholt.job).pk, "weighing", scale=fenholt.scale)
    if name in HANGAR and wanted:
        there |= told_in_the_hangar(fenholt, put_off="put-off" in name)
    if name.startswith("recording") and "number" in wanted:
        there["number"] = a_recording(fenholt, found=name in ("recording-again", "recording-replay"))
    if name.startswith("series") and wanted:
        there["number"] = a_series(fenholt)
    return {part: there[part] for part in wanted}


def part_of(fenholt: Fenholt) -> UUID:
    """Give a part of Fenholt's."""
    part = Part.objects.first() or add_part(fenholt.mate, "Weight arm", "A-17")
    return part.pk


def a_series(fenholt: Fenholt) -> int:
    """Give the number of a series of one recording at Fenholt."""
    a_recording(fenholt, found=True)
    (only,) = offered(fenholt.mate.person)  # type: ignore[arg-type]
    members, asked = [member_of(only, "62 kn")], AskedSeries()
    document = answer_of_series(members, asked)
    return keep_series(fenholt.mate, only.aircraft_identifier, None, document, asked.plain(members)).number


def a_recording(fenholt: Fenholt, *, found: bool) -> int:
    """Give the number of a table at Fenholt; judged, where the page is about what was found."""
    kept = ShakeRecording.objects.first()
    if kept is None:
        data = (ROOT / "examples" / "motion" / "04-growing.csv").read_bytes()
        aircraft = Job.objects.get(number=fenholt.job).surface.aircraft
        table = TakenIn("table", [data], len(data), "text/csv", "a.csv")
        kept = take_recording_in(fenholt.mate, About(aircraft=aircraft.pk), table)
        if found:
            document = answer_of_file(data, Asked(), "a.csv").document
            keep_finding(fenholt.mate, kept.pk, document, Asked().plain())
    return kept.number


def answered(client: Client, method: str, address: str) -> str:
    """Give the status, or where the answer sends."""
    answer = client.get(address) if method == "get" else getattr(client, method)(address, SENT)
    expect_no_code_of_its_own(answer)
    if answer.status_code != 302:
        return str(answer.status_code)
    where: str = answer["Location"].partition("?")[0]
    return where


def without_costs(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Let the costly acts do nothing."""
    if name in COSTLY:
        monkeypatch.setattr("hingeline_app.web.pages.records.backups.backup_and_trial", _refused)
        monkeypatch.setattr("hingeline_app.web.pages.records.ledger.look_at_the_records", _looked)


def _refused(*_arguments: Any) -> None:
    raise OSError("not in this test")


def _looked() -> Any:
    from hingeline_app.records.looking.findings import Findings

    return Findings("2027-03-12T09:00:00Z", {})


def test_every_address_says_for_whom_it_is() -> None:
    """Each address is in the table, and each page is marked; one of a new address fails here."""
    assert set(PATTERNS) == set(TABLE)
    assert len(PATTERNS) == len(urlpatterns)
    assert [name for name, pattern in PATTERNS.items() if who_may_come(pattern.callback) is None] == []


def test_every_page_is_looked_at_by_the_accessibility_rules() -> None:
    """Each address with GET is in the demonstration's crawl, in a test that is named, or said to be no page."""
    read = {name for name, rows in TABLE.items() if any(row.method == "get" for row in rows)}
    looked_at = [*CRAWLED, *BY_HAND, *ELSEWHERE, *NO_PAGE]
    assert sorted(looked_at) == sorted(read)
    for file in ELSEWHERE.values():
        assert "serious(" in (ROOT / "tests" / "browser" / file).read_text(), file


@pytest.mark.fault("F40")
@pytest.mark.parametrize(("name", "row"), CASES, ids=lambda value: value if isinstance(value, str) else value.method)
@pytest.mark.parametrize("who", ["administrator", "mate", "stranger", "nobody"])
def test_each_address_answers_each_person_as_the_table_says(
    name: str, row: Row, who: str, fenholt: Fenholt, elsewhere: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The right method, with identifiers that exist at Fenholt."""
    without_costs(name, monkeypatch)
    client = fenholt.client({"administrator": "mara", "mate": "jon", "stranger": "otto", "nobody": None}[who])
    found = answered(client, row.method, reverse(name, kwargs=parts_of(name, fenholt)))
    expected = getattr(row, who)
    assert found.startswith(expected) if expected.startswith("/") else found == expected


@pytest.mark.parametrize("name", TABLE)
def test_the_wrong_method_is_refused(name: str, fenholt: Fenholt) -> None:
    """A method that the table does not name for an address is answered 405; nothing changes by GET."""
    known = {row.method for row in TABLE[name]}
    client = fenholt.client("mara")
    address = reverse(name, kwargs=parts_of(name, fenholt))
    for method in {"get", "post", "put", "delete", "patch"} - known:
        expected = "/" if name == "set-up" else "405"
        assert answered(client, method, address) == expected, method


BAD = {"act": "fly", "step": "fly", **dict.fromkeys(("number", "weighing", "draws", "seed"), 987654)}


@pytest.mark.fault("F40")
@pytest.mark.parametrize("name", [name for name, pattern in PATTERNS.items() if pattern.pattern.converters])
def test_a_bad_identifier_leads_nowhere(name: str, fenholt: Fenholt) -> None:
    """An identifier that nobody has, and one that is none, are answered 404 alike."""
    client = fenholt.client("jon" if name.startswith(BY_ENGINEERS) else "mara")
    for part in parts_of(name, fenholt):
        bad: Any = BAD.get(part) or uuid4()
        address = reverse(name, kwargs={**parts_of(name, fenholt), part: bad})
        method = TABLE[name][0].method
        expected = "/own" if name == "own-passkey-away" else "404"
        assert answered(client, method, address) == expected
    assert answered(client, "get", "/workshop/people/12") == "404"
    assert answered(client, "get", "/workshop/people/../../records") in {"404", "/records", "301"}


def test_nothing_but_the_set_up_is_open_before_a_workshop(db: Any) -> None:
    """Without a workshop every page for people leads to the set-up."""
    client = Client()
    for name, rows in TABLE.items():
        if not PATTERNS[name].pattern.converters and rows[0].nobody == IN and name != "home":
            assert answered(client, rows[0].method, reverse(name)) == "/set-up", name


def everybody(fenholt: Fenholt) -> list[tuple[str, Client]]:
    """Give a browser for each kind of person who comes to pages."""
    return [(name, fenholt.client(name)) for name in ("mara", "jon")]


@pytest.mark.fault("F45")
def test_a_fault_in_any_page_is_a_plain_page(fenholt: Fenholt, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each page raises: status 500 with a number; neither the words of the fault nor a trace are shown."""
    people = everybody(fenholt)
    addresses = {name: reverse(name, kwargs=parts_of(name, fenholt)) for name in TABLE}
    for name, pattern in PATTERNS.items():

        @wraps(pattern.callback)
        def raises(*_arguments: Any, **_named: Any) -> None:
            raise RuntimeError("secret-detail")

        monkeypatch.setattr(pattern, "callback", raises)
        found = []
        for _, client in people:
            client.raise_request_exception = False
            answer = getattr(client, TABLE[name][0].method)(addresses[name], SENT)
            found.append(answer.status_code)
            assert b"secret-detail" not in answer.content, name
            assert b"Traceback" not in answer.content, name
        assert 500 in found or name in NEVER_COME_TO, name
