"""Every address as administrator, team mate, stranger and nobody, by the wrong method, with a bad identifier.

An address that is not in the table fails the first test: who may come there has to be said.
"""

from __future__ import annotations

from functools import wraps
from typing import Any, NamedTuple
from uuid import UUID, uuid4

import pytest
from django.test import Client
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
from tests.hingeline_app.web.code_in_pages import expect_no_code_of_its_own
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.in_the_hangar import told_in_the_hangar

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


class Row(NamedTuple):
    """What each gets: a status, or where they are sent. The stranger administers another workshop."""

    method: str
    administrator: str
    mate: str
    stranger: str
    nobody: str


def both(*answers: str, post: tuple[str, ...]) -> list[Row]:
    """Give an address that is read and sent to."""
    return [Row("get", *answers), Row("post", *post)]


IN = "/sign-in"
WORDING = "/workshop/release-wording"
FOR_ALL = ("200", "200", "200", "200")
INSIDE = ("200", "200", "200", IN)
OWN_FORM = ("422", "422", "422", IN)
ADMINISTRATORS = ("200", "403", "200", IN)
ADMINISTRATORS_FORM = ("422", "403", "422", IN)
ENGINEERS, ENGINEERS_FORM = ("403", "200", "403", IN), ("403", "422", "403", IN)
OF_FENHOLT, OF_FENHOLT_FORM = ("200", "200", "404", IN), ("422", "422", "404", IN)
NO_JOB_IN_IT = ("/order/1", "/order/1", "404", IN)
HANGAR: dict[str, list[Row]] = {
    "fleet": [Row("get", *INSIDE)],
    "fleet-due-file": [Row("get", *INSIDE)],
    "fleet-take-in": both(*ENGINEERS, post=ENGINEERS_FORM),
    "fleet-hours": [Row("get", *INSIDE)],
    "fleet-hours-of": both(*OF_FENHOLT, post=OF_FENHOLT_FORM),
    "fleet-hours-line": [Row("get", *OF_FENHOLT)],
    "fleet-meter": both(*OF_FENHOLT, post=OF_FENHOLT_FORM),
    "reading-withdraw": [Row("post", "/fleet/hours/", "/fleet/hours/", "404", IN)],
    "fleet-calendar": [Row("get", *INSIDE)],
    "fleet-calendar-file": [Row("get", *INSIDE)],
    "fleet-feed-make": [Row("post", *INSIDE)],
    "fleet-feed-end": [Row("post", "/fleet/calendar", "/fleet/calendar", "/fleet/calendar", IN)],
    "fleet-feed": [Row("get", *FOR_ALL)],
    "task-add": both(*ENGINEERS, post=ENGINEERS_FORM),
    "task-change": both(*ENGINEERS, post=ENGINEERS_FORM),
    "task-sign-off": both(*ENGINEERS, post=ENGINEERS_FORM),
    "task-put-off": both(*ENGINEERS, post=ENGINEERS_FORM),
    "task-end": both(*ENGINEERS, post=ENGINEERS_FORM),
    "task-withdraw": [Row("post", "403", "/fleet", "403", IN)],
    "task-history": [Row("get", *OF_FENHOLT)],
    "sign-off-withdraw": [Row("post", "403", "/fleet", "403", IN)],
    "put-off-withdraw": [Row("post", "403", "/fleet", "403", IN)],
}
# Pages that only engineers and certifying persons come to.
BY_ENGINEERS = ("scale", "limits", "recording", "series", "task-", "sign-off", "put-off")
TABLE: dict[str, list[Row]] = {
    "job": [Row("get", "/job/1/arrive", "/job/1/arrive", "404", IN)],
    "job-step": [Row("get", "200", "200", "404", IN)],
    "job-weighing-file": [Row("get", "200", "200", "404", IN)],
    "job-arm-file": [Row("get", "404", "404", "404", IN)],
    "job-correction-file": [Row("get", "422", "422", "404", IN)],
    "job-entry": [Row("post", "/job/1", "/job/1", "404", IN)],
    **{
        f"job-{name}": [Row("get", "422", "422", "404", IN)] for name in ("worksheet", "owner-sheet", "release-wording")
    },
    "job-incomplete": [Row("get", "422", "422", "404", IN)],
    "order-incomplete": [Row("get", "422", "422", "404", IN)],
    "job-blank": [Row("get", "200", "200", "404", IN)],
    "job-balance-line": [Row("get", "200", "200", "404", IN)],
    "order-worksheet": [Row("get", "422", "422", "404", IN)],
    "labels": [Row("get", *INSIDE)],
    "labels-sheet": [Row("get", "200", "200", "422", IN)],
    "release-wording": both(*ADMINISTRATORS, post=(WORDING, "403", WORDING, IN)),
    "home": [Row("get", "/bench", "/bench", "/bench", IN)],
    "bench": [Row("get", *INSIDE)],
    "job-new": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "at": [Row("get", "/job/1", "/job/1", "404", IN)],
    "job-instead": both("200", "200", "404", IN, post=("404", "404", "404", IN)),
    "job-picture": [Row("get", "404", "404", "404", IN)],
    "job-photograph": [Row("get", "404", "404", "404", IN)],
    "order": [Row("get", "200", "200", "404", IN)],
    "job-sign": both(*OF_FENHOLT, post=OF_FENHOLT_FORM),
    "order-close": [Row("post", "/order/1", "/order/1", "404", IN)],
    "order-second-inspection": both(*NO_JOB_IN_IT, post=NO_JOB_IN_IT),
    "order-release": both(*NO_JOB_IN_IT, post=NO_JOB_IN_IT),
    "look": [Row("get", *FOR_ALL)],
    "light": [Row("post", "/", "/", "/", "/")],
    "demo": [Row("get", "404", "404", "404", "404")],
    "set-up": both("/", "/", "/", "/", post=("/", "/", "/", "/")),
    "trust": [Row("get", *FOR_ALL)],
    "trust-certificate": [Row("get", "404", "404", "404", "404")],
    "sign-in": [Row("get", "/", "/", "/", "/sign-in/password")],
    "sign-in-password": both("/", "/", "/", "200", post=("/", "/", "/", "422")),
    "sign-in-pin": both("404", "404", "404", "404", post=("404", "404", "404", "404")),
    "passkey-sign-in": [Row("post", *FOR_ALL)],
    "sign-out": [Row("post", IN, IN, IN, IN)],
    "switch": [Row("post", IN, IN, IN, IN)],
    "lock": both("/", "/", "/", IN, post=("/", "/", "/", IN)),
    "lock-now": [Row("post", "/lock", "/lock", "/lock", IN)],
    "prove": both(*INSIDE, post=OWN_FORM),
    "passkey-prove": [Row("post", *INSIDE)],
    "draft": [Row("post", "204", "204", "204", IN)],
    "own": [Row("get", *INSIDE)],
    "own-pin": both(*INSIDE, post=OWN_FORM),
    "own-password": both(*INSIDE, post=OWN_FORM),
    "own-passkey": both(*INSIDE, post=OWN_FORM),
    "passkey-register": [Row("post", *INSIDE)],
    "own-passkey-away": [Row("post", "/own", "/own", "/own", IN)],
    "workshop": [Row("get", *INSIDE)],
    "workshop-change": both(*ADMINISTRATORS, post=ADMINISTRATORS_FORM),
    "people": [Row("get", *INSIDE)],
    "person-add": both(*ADMINISTRATORS, post=ADMINISTRATORS_FORM),
    "person": [Row("get", "200", "403", "404", IN)],
    "person-act": [Row("post", "422", "403", "404", IN)],
    "right-act": [Row("post", "/workshop/people/", "403", "404", IN)],
    "account-act": [Row("post", "/workshop/people/", "403", "404", IN)],
    "this-tablet": both(*INSIDE, post=("/workshop/this-tablet", "/workshop/this-tablet", "/workshop/this-tablet", IN)),
    "at-scan": both(*INSIDE, post=OWN_FORM),
    "tablet-now": [Row("get", *FOR_ALL)],
    "worker": [Row("get", *FOR_ALL)],
    "without-connection": [Row("get", *FOR_ALL)],
    "tablets": [Row("get", *INSIDE)],
    "tablet-enrol": both(*ADMINISTRATORS, post=ADMINISTRATORS_FORM),
    "tablet-withdraw": [Row("post", "/workshop/tablets", "403", "404", IN)],
    "aircraft": [Row("get", *INSIDE)],
    "aircraft-add": both(*INSIDE, post=OWN_FORM),
    "aircraft-import": both(*ADMINISTRATORS, post=ADMINISTRATORS_FORM),
    "aircraft-page": [Row("get", "200", "200", "404", IN)],
    "aircraft-export": [Row("post", "200", "403", "404", IN)],
    "part": [Row("get", "200", "200", "404", IN)],
    "paper-add": both("403", "200", "404", IN, post=("403", "422", "404", IN)),
    "aircraft-act": [Row("post", "422", "422", "404", IN)],
    "coating": [Row("get", *INSIDE)],
    "swing": [Row("get", *INSIDE)],
    "security": [Row("get", *ADMINISTRATORS)],
    "stands": [Row("get", *INSIDE)],
    "stand-act": [Row("post", "403", "422", "403", IN)],
    "scales": [Row("get", *INSIDE)],
    "scale-add": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "scale-check": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "scale-certificate": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "scale-correct": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "scale-withdraw": [Row("post", "403", "/workshop/scales", "403", IN)],
    "records": [Row("get", *INSIDE)],
    "record": [Row("get", "200", "200", "404", IN)],
    "record-again": [Row("get", "200", "200", "404", IN)],
    "surface-history": [Row("get", "200", "200", "404", IN)],
    "picture": [Row("get", "200", "200", "404", IN)],
    "limits": [Row("get", *INSIDE)],
    "limits-document-add": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "limits-document": [Row("get", "200", "200", "404", IN)],
    "limits-issue-add": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "limits-row-add": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "limits-row": [Row("get", "200", "200", "404", IN)],
    "limits-read": both("403", "200", "404", IN, post=("403", "422", "404", IN)),
    "limits-photograph": [Row("post", "403", "422", "404", IN)],
    "limits-page": [Row("get", "200", "200", "404", IN)],
    "recordings": [Row("get", *INSIDE)],
    "recording-new": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "recording-sensors": both("403", "200", "403", IN, post=("403", "422", "403", IN)),
    "recording-arriving": [
        Row("post", "403", "422", "403", IN),
        Row("head", "403", "404", "403", IN),
        Row("patch", "403", "404", "403", IN),
    ],
    "series-new": both(*ENGINEERS, post=ENGINEERS_FORM),
    "series": [Row("get", "200", "200", "404", IN)],
    "series-again": [Row("post", "200", "200", "404", IN)],
    "recording": [Row("get", "200", "200", "404", IN)],
    "recording-judge": [Row("post", "403", "422", "404", IN)],
    "recording-again": [Row("post", "200", "200", "404", IN)],
    "recordings-marks-sheet": [Row("get", *INSIDE)],
    "recording-tap": [Row("get", "200", "200", "404", IN)],
    "recording-tap-lines": [Row("get", "200", "200", "404", IN)],
    "recording-replay": [Row("get", "200", "200", "404", IN)],
    "recording-film": [Row("get", "404", "404", "404", IN)],
    "recording-picture": [Row("get", "404", "404", "404", IN)],
    "recording-marks": both("403", "/recordings/", "404", IN, post=("403", "/recordings/", "404", IN)),
    "recording-marks-file": [Row("get", "404", "404", "404", IN)],
    "recording-far": [Row("get", "200", "200", "404", IN)],
    "recording-follow": [Row("post", "403", "/recordings/", "404", IN)],
    "recording-stop": [Row("post", "403", "/recordings/", "404", IN)],
    "recording-keep": [Row("post", "403", "/recordings/", "404", IN)],
    "why-balance": [Row("get", *INSIDE)],
    "why-balance-answer": [Row("get", *INSIDE)],
    "why-balance-band": [Row("get", *INSIDE)],
    "why-balance-damping": [Row("get", *INSIDE)],
    "why-balance-file": [Row("get", *INSIDE)],
    "why-balance-side": [Row("get", *INSIDE)],
    "why-balance-own": both(*INSIDE, post=("403", "422", "403", IN)),
    "why-balance-own-model": [Row("get", "404", "404", "404", IN)],
    "study-new": both("404", "404", "404", IN, post=("404", "404", "404", IN)),
    "study": both("404", "404", "404", IN, post=("404", "404", "404", IN)),
    "study-far": [Row("get", "404", "404", "404", IN)],
    "study-file": [Row("get", "404", "404", "404", IN)],
    "why-balance-bench": [Row("get", *INSIDE)],
    "why-balance-sheet": [Row("get", *INSIDE)],
    "ledger": [Row("get", *INSIDE)],
    "ledger-verify": [Row("post", "200", "200", "200", IN)],
    "ledger-head": [Row("post", "200", "200", "200", IN)],
    "ledger-compare": both(*INSIDE, post=OWN_FORM),
    "ledger-time": [Row("post", "/ledger", "403", "/ledger", IN)],
    "onboarding": both(*ADMINISTRATORS, post=ADMINISTRATORS_FORM),
    "onboarding-take-in": [Row("post", "/onboarding", "403", "/onboarding", IN)],
    "backups": [Row("get", *ADMINISTRATORS)],
    "backup-now": [Row("post", "/backups", "403", "/backups", IN)],
    **HANGAR,
}
ACT_OF = {"right-act": "end", "account-act": "close", "aircraft-act": "surface", "stand-act": "stand"}
# What the one-button acts ask for.
SENT = {"reason": "moved"}
CASES = [(name, row) for name, rows in TABLE.items() for row in rows]
# What a backup or a whole look costs is tried in their own tests; here only the door counts.
COSTLY = {"backup-now", "ledger-verify"}
# After the set-up its page sends on before it is asked anything.
NEVER_COME_TO = {"set-up"}
PATTERNS = {pattern.name: pattern for pattern in urlpatterns if isinstance(pattern, URLPattern)}


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
        "part": part_of(fenholt),
        "surface": surface.pk,
        "aircraft": surface.aircraft_id,
        "attachment": fenholt.approved["photograph"],
    }
    wanted = PATTERNS[name].pattern.converters
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
