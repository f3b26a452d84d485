"""Records that may not be written: shown from a copy, nothing taken, nothing of them touched."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
import urllib.error
import urllib.parse
import urllib.request
from http.cookiejar import CookieJar
from pathlib import Path

import pytest

from tests.browser.conftest import served
from tests.browser.ports import answers
from tests.doors.checkouts import ROOT

pytestmark = [pytest.mark.fault("F06"), pytest.mark.slow]
SET_UP = """
from hingeline_app.records.opening import open_records
open_records(must_exist=False)
from django.core.management import call_command
call_command("migrate", verbosity=0, interactive=False)
from hingeline_app.records.actions.workshop import set_up_workshop
mara = {"person": "Mara Tarrow", "initials": "MT", "sign_in_name": "mara"}
set_up_workshop("Fenholt", **mara, password="a long walk to the hangar")
"""


def contents(folder: Path) -> dict[str, tuple[str, int]]:
    """Give what lies in a folder: each file's digest and when it was written."""
    files = [path for path in sorted(folder.rglob("*")) if path.is_file()]
    return {
        path.relative_to(folder).as_posix(): (hashlib.sha256(path.read_bytes()).hexdigest(), path.stat().st_mtime_ns)
        for path in files
    }


class Visitor:
    """Somebody with a browser without script."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))

    def ask(self, page: str, form: dict[str, str] | None = None) -> tuple[int, str]:
        if form is not None:
            token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', self.ask(self.token_from)[1])
            assert token
            form = {**form, "csrfmiddlewaretoken": token.group(1)}
        data = urllib.parse.urlencode(form).encode() if form is not None else None
        try:
            with self.opener.open(self.address + page, data, 60) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as fault:
            return fault.code, fault.read().decode()

    token_from = "/sign-in/password"


def test_a_folder_that_may_not_be_written_is_read_from_a_copy(tmp_path: Path) -> None:
    """Signed in and looked at as ever, with a banner; a form is refused with 503; the folder is as it was, to the byte.

    The copy is gone at the end. The folder may not be written by anybody but an administrator, who may always.
    """
    data, elsewhere = tmp_path / "records", tmp_path / "temporary"
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "HINGELINE_DATA": str(data)}
    surroundings.pop("DJANGO_SETTINGS_MODULE", None)
    subprocess.run([sys.executable, "-c", SET_UP], env=surroundings, check=True, timeout=120)
    elsewhere.mkdir()
    before = contents(data)
    for path in (*data.rglob("*"), data):
        path.chmod(0o500 if path.is_dir() else 0o400)
    os.environ["TMPDIR"] = str(elsewhere)
    try:
        with served(data, "--loopback", "--read-only") as server:
            assert "Only for reading" in server.said
            assert answers(server.address)
            visitor = Visitor(server.address)
            signed_in = {"sign_in_name": "mara", "password": "a long walk to the hangar"}
            assert visitor.ask("/sign-in/password", signed_in)[0] == 200
            status, page = visitor.ask("/workshop")
            assert status == 200
            assert "Nothing is kept here" in page
            visitor.token_from = "/workshop/people/add"
            status, refused = visitor.ask("/workshop/people/add", {"name": "Ulla Storm", "initials": "US"})
            assert (status, "was not saved" in refused) == (503, True)
            assert "Ulla Storm" not in visitor.ask("/workshop/people")[1]
            assert list(elsewhere.glob("hingeline-reading-*"))
    finally:
        del os.environ["TMPDIR"]
        for path in (data, *data.rglob("*")):
            path.chmod(0o700 if path.is_dir() else 0o600)
    assert contents(data) == before
    assert not list(elsewhere.glob("hingeline-reading-*"))


def test_where_there_is_nothing_to_read_it_is_said(tmp_path: Path) -> None:
    """An empty folder, and records that a server keeps, are refused with what to do."""
    a_server = {"HINGELINE_DATABASE": "postgresql://h@x/y"}
    for more, words in (({}, "holds a workshop's records"), (a_server, "last backup")):
        surroundings = {**os.environ, "PYTHONPATH": str(ROOT / "src"), **more}
        command = [sys.executable, "-m", "hingeline_app", "serve", "--data", str(tmp_path), "--read-only", "--loopback"]
        done = subprocess.run(command, env=surroundings, capture_output=True, text=True, timeout=60, check=False)
        assert done.returncode == 2, done.stderr
        assert words in done.stderr
