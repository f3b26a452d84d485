"""Many at once on a real server: drafts, sessions, wrong tries and entries wait in turn; a stop is clean."""

from __future__ import annotations

import http.cookiejar
import re
import signal
import socket
import threading
import time
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

from tests.browser.conftest import Serving, answers, served

pytestmark = pytest.mark.slow
PASSWORD = "a long walk to the hangar"
PEOPLE, ACTS = 8, 8


class Visitor:
    """A browser without a window: keeps cookies, sends the token of the page before."""

    def __init__(self, address: str) -> None:
        self.address = address
        jar = urllib.request.HTTPCookieProcessor(http.cookiejar.CookieJar())
        self.opener = urllib.request.build_opener(jar)
        self.page = ""

    def get(self, page: str) -> int:
        return self._answer(urllib.request.Request(self.address + page))

    def post(self, page: str, **said: str) -> int:
        token = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', self.page)
        sent = urllib.parse.urlencode({**said, "csrfmiddlewaretoken": token.group(1) if token else ""}).encode()
        return self._answer(urllib.request.Request(self.address + page, sent, {"Referer": self.address}))

    def _answer(self, request: urllib.request.Request) -> int:
        try:
            with self.opener.open(request, timeout=60) as answer:
                text = answer.read().decode()
                status: int = answer.status
        except urllib.error.HTTPError as fault:
            with fault:
                text, status = fault.read().decode(), fault.code
        self.page = text or self.page
        return status


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory):  # type: ignore[no-untyped-def]
    with served(tmp_path_factory.mktemp("many") / "records", "--loopback") as found:
        assert answers(found.address)
        first = Visitor(found.address)
        first.get("/set-up")
        said = {"code": found.code, "workshop": "Fenholt", "local_gravity": "9.81 m/s^2", "zone": "UTC",
                "language": "en", "name": "Mara Tarrow", "initials": "MT", "sign_in_name": "mara",
                "password": PASSWORD}  # fmt: skip
        assert first.post("/set-up", **said) == 200
        yield found


def _one_person(server: Serving, number: int) -> list[int]:
    """Sign in, leave drafts, enter people, look at pages; every third is a stranger who guesses."""
    visitor = Visitor(server.address)
    visitor.get("/sign-in/password")
    if number % 3 == 2:
        return [visitor.post("/sign-in/password", sign_in_name=f"who{number}", password="wrong") for _ in range(4)]
    statuses = [visitor.post("/sign-in/password", sign_in_name="mara", password=PASSWORD)]
    for act in range(ACTS):
        statuses.append(visitor.get("/workshop/people/add"))
        statuses.append(visitor.post("/draft", draft_page="/workshop/people/add", name=f"Draft {number} {act}"))
        name = f"Person {chr(65 + number)}{chr(65 + act)}"
        statuses.append(visitor.post("/workshop/people/add", name=name, initials="P", command_key=f"{number}-{act}"))
    return statuses


@pytest.mark.fault("F10")
def test_eight_at_once_are_never_told_busy_and_nothing_is_lost(server: Serving) -> None:
    """No answer is a fault or "busy"; every person entered is there once; the ledger is whole after."""
    with ThreadPoolExecutor(PEOPLE) as pool:
        statuses = [each for found in pool.map(lambda n: _one_person(server, n), range(PEOPLE)) for each in found]
    assert {each for each in statuses if each not in (200, 204, 422)} == set()
    visitor = Visitor(server.address)
    visitor.get("/sign-in/password")
    visitor.post("/sign-in/password", sign_in_name="mara", password=PASSWORD)
    visitor.get("/workshop/people")
    workers = [number for number in range(PEOPLE) if number % 3 != 2]
    found = re.findall(r'class="n">(Person \w\w)</span>', visitor.page)
    assert len(found) == len(set(found)) == len(workers) * ACTS
    visitor.post("/ledger/verify")
    assert "Whole" in visitor.page


@pytest.mark.fault("F14")
def test_one_form_sent_twenty_times_at_once_is_one_entry(server: Serving) -> None:
    """Twenty posts of one form with one key, side by side: each is answered as done, one person is entered."""
    visitor = Visitor(server.address)
    visitor.get("/sign-in/password")
    visitor.post("/sign-in/password", sign_in_name="mara", password=PASSWORD)
    visitor.get("/workshop/people/add")
    form = visitor.page

    def send(_number: int) -> int:
        again = Visitor(server.address)
        again.opener, again.page = visitor.opener, form
        return again.post("/workshop/people/add", name="Ida Quill", initials="IQ", command_key="the one key")

    with ThreadPoolExecutor(20) as pool:
        assert set(pool.map(send, range(20))) == {200}
    visitor.get("/workshop/people")
    assert visitor.page.count('class="n">Ida Quill</span>') == 1


def _slow(server: Serving, beginning: bytes) -> socket.socket:
    """Connect, send the beginning of a request, and no more."""
    host, _, port = server.address.rpartition("/")[2].rpartition(":")
    made = socket.create_connection((host, int(port)), 5)
    made.sendall(beginning)
    return made


def _is_cut_off(slow: socket.socket) -> bool:
    """Whether the other side ends it within half a minute."""
    slow.settimeout(30)
    try:
        while slow.recv(1000):
            pass
    except TimeoutError:
        return False
    except OSError:
        return True
    return True


HALF_A_HEAD = b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Slow: "
HALF_A_FORM = b"POST /draft HTTP/1.1\r\nHost: localhost\r\nContent-Length: 900\r\n\r\na"
HALF_A_FILE = b"POST /job/1/entry HTTP/1.1\r\nHost: localhost\r\nContent-Length: 5000000\r\n\r\na"
HALF_A_CHUNK = b"POST /draft HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\nffff\r\na"
HALVES = (HALF_A_HEAD, HALF_A_FORM, HALF_A_FILE, HALF_A_CHUNK)
SILENT, DRIPPING = 4, 15


@contextmanager
def _dripping(connections: list[socket.socket]) -> Iterator[None]:
    """Send a byte more on each, twice a second, as one does who wants to stay: whoever only waits for silence waits."""
    over = threading.Event()

    def drip() -> None:
        while not over.wait(0.5):
            for each in connections:
                with suppress(OSError):
                    each.send(b"a", socket.MSG_DONTWAIT)

    thread = threading.Thread(target=drip)
    thread.start()
    try:
        yield
    finally:
        over.set()
        thread.join()


@pytest.mark.fault("F19")
def test_seventy_six_slow_ones_hold_nobody_up_and_are_cut_off(server: Serving) -> None:
    """In a head, a form, a file, a chunk: sixteen stop, sixty drip on; pages come at once, and they are cut off.

    Dripping keeps nobody in: the time to send a head and a form is counted from the first byte. What somebody who has
    not come in sends beside them is answered unread, and what still comes of it is waited for no longer.
    """
    slow = [_slow(server, beginning) for _ in range(SILENT + DRIPPING) for beginning in HALVES]
    with _dripping(slow[SILENT * len(HALVES) :]):
        began = time.monotonic()
        assert [Visitor(server.address).get("/trust") for _ in range(3)] == [200] * 3
        assert time.monotonic() - began < 4
        assert all(_is_cut_off(each) for each in slow)
    for each in slow:
        each.close()


@pytest.mark.fault("F41")
def test_many_guesses_at_once_are_counted_like_one_after_the_other(server: Serving) -> None:
    """Forty guesses side by side: no more than five are looked at, and the right password waits too.

    The last test of this file: who guessed from this machine is locked out.
    """

    def guess(number: int) -> int:
        visitor = Visitor(server.address)
        visitor.get("/sign-in/password")
        return visitor.post("/sign-in/password", sign_in_name="mara", password=f"guess number {number}")

    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(guess, range(40)))
    assert found.count(422) <= 5
    assert set(found) <= {422, 429}
    late = Visitor(server.address)
    late.get("/sign-in/password")
    assert late.post("/sign-in/password", sign_in_name="mara", password=PASSWORD) == 429


def test_a_stop_is_clean(tmp_path: Path) -> None:
    """Told to stop as a machine that goes down tells it, the server ends by itself with status 0."""
    with served(tmp_path / "records", "--loopback") as found:
        assert answers(found.address)
        found.process.send_signal(signal.SIGTERM)
        assert found.process.wait(20) == 0


def test_a_second_start_on_the_same_folder_keeps_certificate_and_code(tmp_path: Path) -> None:
    """Authority, fingerprint and set-up code are those of the first start: a tablet is told once."""
    said = []
    for _ in range(2):
        with served(tmp_path / "records") as found:
            assert answers(found.address)
            fingerprint = re.search(r"^ +((?:[0-9A-F]{2} ){31}[0-9A-F]{2})$", found.said, re.M)
            assert fingerprint
            said.append((fingerprint.group(1), found.code))
    assert said[0] == said[1]
