"""``hingeline due``: one document, a page with its cautions, a calendar file, and refusals in words."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from hingeline_app.cli.explain import explanation
from hingeline_app.cli.main import main
from hingeline_app.files.job_text import read_job
from tests.doors.checkouts import ROOT
from tools import schemas

EXAMPLES = sorted((ROOT / "examples" / "due").glob("*.toml"))
FIRST = EXAMPLES[0]

# The file of the contract, word for word, save what its own comments leave open.
CONTRACT = """\
format = "hingeline/due/1"
on = "2027-03-12"

[[aircraft]]
name = "T2-03"
hours = 613.0
meter_changes = [{date = "2026-06-01", old = 801.5, new = 0.0}]

[[part]]
name = "arm 0071"
hours_when_new_fitted = 122.4
fitted = [{aircraft = "T2-01", from = 3102.2, to = 3310.7}, {aircraft = "T2-03", from = 770.1}]

[[task]]
name = "arm crack check"
aircraft = "T2-03"
applies_to = "serial 0001 to 0120"
source = "directive"
start = {total_hours = 1500.0, within_hours = 50.0, effective = "2026-01-01", join = "first"}
every = {hours = 100.0, months = 12}
months_are = "anniversary"
join = "first"
tolerance = {hours = 10.0}
counts_from = "done"
done = [{date = "2026-11-02", hours = 1312.3, due_hours = 1300.0}]
before_next_flight = false
"""


def asked(capsys: pytest.CaptureFixture[str], file: Path, *more: str, status: int = 0) -> dict[str, Any]:
    """Give the one document that the command writes."""
    assert main(["due", str(file), "--json", *more]) == status
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


def written(folder: Path, text: str) -> Path:
    """Write a file."""
    path = folder / "due.toml"
    path.write_text(text, "utf-8")
    return path


def test_a_file_as_it_was_agreed_gives_the_fields_that_were_agreed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Every field of the result that other programs rely on is there, worked out by hand: overdue by 2.2 h."""
    (task,) = asked(capsys, written(tmp_path, CONTRACT))["tasks"]
    assert task["state"] == "overdue"
    assert task["binding"] == "hours"
    assert (task["due_at"]["hours"], task["due_at"]["landings"]) == (1412.3, None)
    assert task["due_at"]["hours_on_meter"] == 610.8
    assert task["due_date"] == "2027-11-02"
    assert task["remaining"] == {"hours": -2.2, "landings": None, "days": 235}
    assert set(task["window"]) == {"from", "to"}
    assert task["forecast"] is None
    assert task["because"].startswith("Overdue by 2.2 h: due at 1412.3 h in all (610.8 h on the meter)")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_goes_in_and_comes_out_fits_the_schemas(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """File and result fit their schemas in the strict form, which refuses what it does not describe."""
    strict = schemas.schemas(closed=True)
    for document in (read_job(path.read_bytes()), asked(capsys, path)):
        Draft202012Validator(strict[document["format"]]).validate(document)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_page_has_every_reason_and_its_cautions(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each task with its reason, and that the approved data governs, stand on the page; nothing on standard error."""
    document = asked(capsys, path)
    assert main(["due", str(path)]) == 0
    page, errors = capsys.readouterr()
    flat = "".join(page.replace("│", " ").split())
    for task in document["tasks"]:
        assert "".join(task["because"].split()) in flat
    assert "Theapproveddataandtherecordsgovern" in flat
    assert "Caution" in page
    assert errors == ""


def test_nothing_on_the_page_is_a_green_light(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where nothing is due the page says so of what was typed in, and no word says go."""
    text = CONTRACT.replace("hours = 613.0", "hours = 550.0")
    assert main(["due", str(written(tmp_path, text))]) == 0
    page = capsys.readouterr().out
    assert "By what was typed in, none of these tasks is due on that day." in page
    assert "says nothing about the condition of the aircraft" in page
    assert not {"ok", "safe", "pass", "airworthy", "serviceable"} & set(page.lower().replace(".", " ").split())


def test_a_calendar_file_is_written_whole(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """--ics writes the entries beside the page and says where; into a folder it is refused, and leaves nothing."""
    out = tmp_path / "checks.ics"
    assert main(["due", str(FIRST), "--ics", str(out), "--json"]) == 0
    said = capsys.readouterr()
    assert f"written to {out}" in said.err
    assert out.read_bytes().count(b"BEGIN:VEVENT") == len(json.loads(said.out)["tasks"])
    assert main(["due", str(FIRST), "--ics", str(tmp_path)]) == 2
    assert [path.name for path in tmp_path.iterdir()] == ["checks.ics"]


EDITS = {
    "hours in quotes": ("hours = 613.0", 'hours = "613.0 h"', "aircraft[0].hours", "without a unit"),
    "hours as true": ("hours = 613.0", "hours = true", "aircraft[0].hours", "plain number"),
    "hours below nothing": ("hours = 613.0", "hours = -613.0", "aircraft[0].hours", "digits"),
    "hours of five decimals": ("hours = 613.0", "hours = 613.00001", "aircraft[0].hours", "six minutes"),
    "hours with an underscore": ("hours = 613.0", "hours = 1_613.0", "line 6", "Write it out"),
    "hours not a number": ("hours = 613.0", "hours = nan", "aircraft[0].hours", "measured"),
    "months with a point": ("months = 12", "months = 12.0", "task[0].every.months", "whole number"),
    "a date of the other order": ('"2027-03-12"', '"12.03.2027"', "on", "2027-03-12"),
    "a day that does not exist": ('"2027-03-12"', '"2027-02-30"', "on", "year, month and day"),
    "a date in another century": ('on = "2027-03-12"', 'on = "1027-03-12"', "on", "year"),
    "a word that is none": ('join = "first"\ntol', 'join = "both"\ntol', "task[0].join", "one of these words"),
    "a field that is none": ("tolerance = ", "tolerence = ", "task[0].tolerence", 'Did you mean "tolerance"?'),
    "a fitting without from": ("from = 770.1", "form = 770.1", "part[0].fitted[1].form", "from"),
    "done after the day": ('"2026-11-02"', '"2027-11-02"', "task[0].done[0].date", "future"),
    "done at meter hours": ("hours = 1312.3", "hours = 510.8", "task[0].done[0].hours", "totals"),
    "an aircraft nobody knows": (
        'aircraft = "T2-03"\napp',
        'aircraft = "T2-04"\napp',
        "task[0].aircraft",
        "Did you mean",
    ),
}


@pytest.mark.parametrize("edit", EDITS)
def test_a_spoilt_file_is_refused_at_its_field(edit: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Status 2, one document, the field, and a remedy in words; never a number."""
    old, new, field, word = EDITS[edit]
    assert old in CONTRACT
    document = asked(capsys, written(tmp_path, CONTRACT.replace(old, new, 1)), status=2)
    assert document["format"] == "hingeline/error/1"
    told = {each["field"]: f"{each['expected']} {each['remedy']}" for each in document["errors"]}
    assert word in told[field]


def test_without_a_day_the_option_gives_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A file without a day is refused until --on gives one; a day that is none is refused at the option."""
    path = written(tmp_path, CONTRACT.replace('on = "2027-03-12"\n', ""))
    assert asked(capsys, path, status=2)["errors"][0]["field"] == "on"
    assert asked(capsys, path, "--on", "2027-03-12")["on"] == "2027-03-12"
    assert asked(capsys, path, "--on", "soon", status=2)["errors"][0]["field"] == "--on"


def test_a_day_before_the_counters_were_read_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody knows today's counters of an earlier day: it is refused, not answered wrongly."""
    document = asked(capsys, written(tmp_path, CONTRACT), "--on", "2027-03-11", status=2)
    assert document["errors"][0]["field"] == "aircraft[0].counted_on"


def test_a_file_of_another_command_names_that_command(capsys: pytest.CaptureFixture[str]) -> None:
    """A weighing is sent to weigh, and a due file given to weigh is sent here."""
    document = asked(capsys, ROOT / "examples" / "01-elevator-left-half.toml", status=2)
    assert "hingeline weigh" in document["errors"][0]["remedy"]
    assert main(["weigh", str(FIRST), "--json"]) == 2
    assert "hingeline due" in json.loads(capsys.readouterr().out)["errors"][0]["remedy"]


RULES = ["done", "due", "late from due, early from done", "inside from due, outside from done"]


@pytest.mark.parametrize("rule", RULES)
def test_the_table_of_rules_in_the_explanation_is_what_comes_out(
    rule: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Each row of the table in explain due is computed again."""
    row = next(
        line for line in explanation("due").splitlines() if line.startswith(f"| {rule} ") and line.count(" h ") == 3
    )
    for cell, hours in zip(row.strip("|").split("|")[1:], (107.5, 92.0, 87.0), strict=True):
        text = (
            'format = "hingeline/due/1"\non = "2027-03-12"\n[[aircraft]]\nname = "T2-03"\nhours = 150.0\n'
            '[[task]]\nname = "check"\naircraft = "T2-03"\nsource = "manual"\nevery = {hours = 100.0}\n'
            f'tolerance = {{hours = 10.0}}\ncounts_from = "{rule}"\n'
            f'done = [{{date = "2026-11-02", hours = {hours}, due_hours = 100.0}}]\n'
        )
        (task,) = asked(capsys, written(tmp_path, text))["tasks"]
        assert float(cell.strip().removesuffix(" h")) == task["due_at"]["hours"]
