"""Onboarding, and one aircraft out and in, as they are typed: in folders of their own, by a person with a password."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.doors.checkouts import ROOT
from tests.hingeline_app.records.own_folder import refuse_another_shape

pytestmark = pytest.mark.slow

PASSWORD = "hinge line before lunch"
SET_UP = """
import sys
from pathlib import Path
from hingeline_app.records.opening import open_records
open_records(Path(sys.argv[1]), must_exist=False)
from django.core.management import call_command
call_command("migrate", verbosity=0)
from hingeline_app.records.actions.workshop import set_up_workshop
set_up_workshop(sys.argv[2], person="Fred Fenholt", initials="FF", sign_in_name="fred", password=sys.argv[3])
"""
AIRCRAFT = "registration,type,serial number\nD-EFHM,Merle T2,T2-07\n"


def run(*words: str, typed: str = "", status: int = 0) -> dict[str, Any]:
    """Run the program with a line typed to it, and give its document."""
    command = [sys.executable, "-m", "hingeline_app", *words, "--json"]
    where = {"PYTHONPATH": str(ROOT / "src"), "PATH": "/usr/bin:/bin"}
    done = subprocess.run(command, input=f"{typed}\n", capture_output=True, text=True, env=where, timeout=120)
    assert done.returncode == status, done.stderr
    document: dict[str, Any] = json.loads(done.stdout)
    refuse_another_shape(document)
    return document


@pytest.fixture(scope="module")
def folders(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """Two workshops, each in a folder of its own."""
    made = []
    for name in ("fenholt", "elsewhere"):
        folder = tmp_path_factory.mktemp(name) / "records"
        folder.mkdir()
        where = {"PYTHONPATH": str(ROOT / "src"), "PATH": "/usr/bin:/bin"}
        subprocess.run([sys.executable, "-c", SET_UP, str(folder), name.capitalize(), PASSWORD], check=True, env=where)
        made.append(folder)
    return made[0], made[1]


def test_a_table_is_looked_at_then_entered_and_the_aircraft_goes_on_to_another_workshop(
    folders: tuple[Path, Path], tmp_path: Path
) -> None:
    """The whole way: preview, take in, export by registration, import there; and what stands against each."""
    fenholt, elsewhere = map(str, folders)
    table, file = tmp_path / "aircraft.csv", str(tmp_path / "D-EFHM.zip")
    table.write_text(AIRCRAFT)
    onboard = ("tables", str(table), "--as", "fred", "--data", fenholt)
    looked = run(*onboard, typed=PASSWORD)
    assert (looked["taken_in"], looked["rows"], looked["receipt"]) == (False, {"aircraft": 1}, None)
    assert run(*onboard, "--take-in", typed=PASSWORD)["receipt"]
    again = run(*onboard, "--take-in", typed=PASSWORD, status=2)
    assert "registration" in json.dumps(again)
    out = ("ledger", "export", file, "--aircraft", "d-efhm", "--as", "fred", "--data", fenholt)
    run(*out, typed="a wrong guess", status=2)
    assert run(*out, typed=PASSWORD)["way"] == "out"
    taken = run("ledger", "import", file, "--as", "fred", "--data", elsewhere, typed=PASSWORD)
    assert (taken["way"], taken["aircraft"]) == ("in", "D-EFHM")
    refused = run("ledger", "import", file, "--data", elsewhere, status=2)
    assert "--as" in json.dumps(refused)
    assert run("ledger", "verify", "--data", elsewhere)["whole"]


def test_a_cell_that_cannot_be_read_is_named_by_row_and_column(folders: tuple[Path, Path], tmp_path: Path) -> None:
    table = tmp_path / "aircraft.csv"
    table.write_text(
        AIRCRAFT.replace("type,serial number", "type,serial number,built on").replace("T2-07", "T2-09,soon")
    )
    told = run("onboard", str(table), "--as", "fred", "--data", str(folders[0]), typed=PASSWORD, status=2)
    assert "built on" in json.dumps(told)
