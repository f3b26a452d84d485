"""``hingeline ballast``: one document on standard output, a page for people, its sheet, its refusals."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from hingeline_app.cli.main import main
from hingeline_app.cli.quiet import quiet_solver
from tests.doors.checkouts import ROOT
from tools import schemas

EXAMPLES = sorted([*(ROOT / "examples").glob("09-*.toml"), *(ROOT / "examples").glob("1[01]-*.toml")])
FIRST = EXAMPLES[0]

GOOD = """
format = "hingeline/ballast/1"
moment = {value = "2.106 N m", expanded = "0.044 N m", k = 2}
inertia = "0.0420 kg m^2"
product_of_inertia = "0.128 kg m^2"
target = "1.85 N m"
[limits]
lower = "0.00 N m"
upper = "2.10 N m"
source = "data sheet 7"
[[place]]
name = "Arm weight"
arm = "180 mm"
side = "forward"
spanwise = "620 mm"
present_mass = "600 g"
largest_mass = "800 g"
smallest_step = "5 g"
"""

# what is replaced, by what, and the field and words that must come back
BROKEN: dict[str, tuple[str, str, str, str]] = {
    "no format": ('format = "hingeline/ballast/1"', "", "format", "this field"),
    "a weighing": ("hingeline/ballast/1", "hingeline/weighing/1", "format", "hingeline/ballast/1"),
    "a newer version": ("hingeline/ballast/1", "hingeline/ballast/2", "format", "hingeline/ballast/1"),
    "no moment": ('moment = {value = "2.106 N m", expanded = "0.044 N m", k = 2}', "", "moment", "this field"),
    "a bare moment": ('{value = "2.106 N m", expanded = "0.044 N m", k = 2}', "2.106", "moment", "a number with its"),
    "a moment without a value": ('value = "2.106 N m", ', "", "moment.value", "the value itself"),
    "expanded without k": (", k = 2", "", "moment.k", "coverage factor"),
    "k of nothing": ("k = 2", "k = 0.0", "moment.k", "the coverage factor"),
    "U below zero": ('"0.044 N m"', '"-0.044 N m"', "moment.standard_uncertainty", "zero or a positive"),
    "two uncertainties": (", k = 2", ', k = 2, limit = "1 N m"', "moment", "exactly one of"),
    "a moment in millimetres": ('"2.106 N m"', '"2.106 mm"', "moment.value", "moment"),
    "grouped digits": ('"2.106 N m"', '"2_106 N m"', "moment.value", "a number such as"),
    "nan": ('"2.106 N m"', '"nan N m"', "moment.value", "a number such as"),
    "a decimal comma": ('"2.106 N m"', '"2,106 N m"', "moment.value", "a number such as"),
    "full-width digits": ('"2.106 N m"', '"２.106 N m"', "moment.value", "a number such as"),
    "an unknown target": ('"1.85 N m"', '"lightest"', "target", "nearest, middle, or a moment"),
    "a target that is bare": ('target = "1.85 N m"', "target = 1.85", "target", "a number with its unit"),
    "a target outside": ('"1.85 N m"', '"2.85 N m"', "target", "inside the limits"),
    "a middle of one side": ('upper = "2.10 N m"', "", "target", "where a limit is missing"),
    "limits swapped": ('lower = "0.00 N m"', 'lower = "3.00 N m"', "limits.lower", "below the upper"),
    "a rule that is none": ("[limits]", '[limits]\nrule = "strict"', "limits.rule", "simple"),
    "mass limits": ("[[place]]", '[limits.mass]\nupper = "5 kg"\n[[place]]', "limits.mass", "moment alone"),
    "no place": (GOOD[GOOD.index("[[place]]") :], "", "place", "1 to 20 places"),
    "a place without a name": ('name = "Arm weight"\n', "", "place[0].name", "this field"),
    "a place without a side": ('side = "forward"\n', "", "place[0].side", "this field"),
    "a side that is none": ('"forward"', '"left"', "place[0].side", "aft"),
    "an arm below zero": ('"180 mm"', '"-180 mm"', "place[0].arm", "between 1 mm and 10 m"),
    "an arm of nothing": ('"180 mm"', '"0 mm"', "place[0].arm", "between 1 mm and 10 m"),
    "an arm of kilometres": ('"180 mm"', '"180 km"', "place[0].arm", "between 1 mm and 10 m"),
    "an arm in grams": ('"180 mm"', '"180 g"', "place[0].arm", "length"),
    "a bare arm": ('"180 mm"', "180", "place[0].arm", "a number with its unit"),
    "no y beside K": ('spanwise = "620 mm"\n', "", "place[0].spanwise", "spanwise position"),
    "smallest above largest": ("[[place]]", '[[place]]\nsmallest_mass = "900 g"', "place[0].smallest_mass", "at most"),
    "a step of nothing": ('"5 g"', '"0 g"', "place[0].smallest_step", "a step above"),
    "a step below zero": ('"5 g"', '"-5 g"', "place[0].smallest_step", "a step above"),
    "pieces beside a step": ("[[place]]", '[[place]]\npieces = ["20 g"]', "place[0].smallest_step", "no step beside"),
    "pieces as one text": ("[[place]]", '[[place]]\npieces = "20 g"', "place[0].pieces", "a list"),
    "present below zero": ('"600 g"', '"-600 g"', "place[0].present_mass", "a mass from 0"),
    "an unknown field": ("[[place]]", '[[place]]\nsmalest = "5 g"', "place[0].smalest", "field of this table"),
    "an unknown table": ("[limits]", '[limit]\nlower = "0 N m"\n[limits]', "limit", "field of this table"),
    "inertia of a length": ('"0.0420 kg m^2"', '"0.0420 m"', "inertia", "inertia"),
    "inertia of nothing": ('"0.0420 kg m^2"', '"0 kg m^2"', "inertia", "more than 0"),
    "inertia below its weights": ('"0.0420 kg m^2"', '"0.0100 kg m^2"', "inertia", "weights present"),
    "gravity of the moon": ("[limits]", "[limits]", "local_gravity", "between 9.7"),
    "a coverage of one": ("[[place]]", "[uncertainty]\ncoverage = 1.0\n[[place]]", "coverage", "probability"),
    "uncertainty in words": ("[[place]]", '[uncertainty]\narm = "1 mm"\n[[place]]', "uncertainty.arm", "a table"),
    "uncertainty of an arm in grams": (
        "[[place]]", '[uncertainty]\narm = {limit = "1 g"}\n[[place]]', "uncertainty.arm.limit", "length"),
}  # fmt: skip


def run(text: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, *more: str) -> tuple[int, Any]:
    """Run the command on standard input; give status and document."""
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode("utf-8"))))
    status = main(["ballast", "-", "--json", *more])
    return status, json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("name", BROKEN)
def test_bad_input_is_refused_with_field_and_remedy(
    name: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each of these slips ends with status 2, its field, what was expected, and how to mend it."""
    old, new, field, expected = BROKEN[name]
    assert old in GOOD
    text = GOOD.replace(old, new, 1)
    if name == "a middle of one side":
        text = text.replace('"1.85 N m"', '"middle"')
    if name == "gravity of the moon":
        text = text.replace("[limits]", "", 1).replace("target =", 'local_gravity = "1.62 m/s^2"\ntarget =', 1)
        text = text.replace('lower = "0.00 N m"', '[limits]\nlower = "0.00 N m"', 1)
    status, document = run(text, capsys, monkeypatch)
    assert status == 2
    assert document["format"] == "hingeline/error/1"
    faults = {error["field"]: error for error in document["errors"]}
    assert field in faults
    assert expected in faults[field]["expected"]
    assert faults[field]["remedy"]


def test_the_good_file_is_good(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """The file that the slips are made from gives the plan of the demo: so they alone are refused."""
    status, document = run(GOOD, capsys, monkeypatch)
    assert status == 0
    assert document["format"] == "hingeline/ballast-result/1"
    (change,) = document["changes"]
    assert (change["place"], round(change["mass"]["value"], 9)) == ("Arm weight", 0.145)
    assert document["moment_after"]["sense"] == "tail-heavy"
    assert document["feasible"] is True


def test_moments_come_in_the_document_s_own_words(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Inch-pounds with a sense word give the same plan as newton metres would."""
    text = GOOD.replace('"1.85 N m"', '"16.37 in-lb tail-heavy"').replace('"180 mm"', '"7.0866142 in"')
    status, document = run(text, capsys, monkeypatch)
    assert status == 0
    assert document["changes"][0]["mass"]["value"] == pytest.approx(0.145)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_gives_a_page_with_its_cautions(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The page says predicted before the word, what to change, what it does, and that a new weighing decides."""
    assert main(["ballast", str(path)]) == 0
    said = capsys.readouterr().out
    flat = " ".join(said.replace("│", " ").split())
    assert "Predicted inside, not weighed" in said or "Predicted outside, not weighed" in said
    assert "a new weighing decides" in flat
    assert "Use only the places, parts and amounts that the approved data allows." in flat
    assert "What it does" in said
    assert "nan" not in said.lower()


def test_what_is_out_of_reach_says_what_would_mend_it(capsys: pytest.CaptureFixture[str]) -> None:
    """The page of the rudder names the nearest plan as not enough, and three ways out."""
    assert main(["ballast", str(EXAMPLES[1])]) == 0
    said = " ".join(capsys.readouterr().out.replace("│", " ").split())
    assert "it is not enough" in said
    assert "No plan meets what is asked." in said
    assert "Horn weight: a largest mass of 775 g (now 650 g)." in said


def without_buffering_of_ours() -> dict[str, str]:
    """Give the surroundings in which C's library holds what is printed into a pipe, as on a user's machine."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"} | {
        "PYTHONPATH": str(ROOT / "src")
    }


# (place, arm [mm], side, largest mass [g], more): with the solver of scipy 1.17 it prints a line of its own.
TALKATIVE = (
    ("137", "forward", "369", 'present_mass = "125 g"\nsmallest_step = "5 g"'),
    ("386", "aft", "51", ""),
    ("41", "forward", "65", 'smallest_step = "12.3 g"'),
    ("44", "forward", "421", 'smallest_step = "10 g"'),
    ("265", "aft", "455", 'fixed_mass = "16 g"'),
    ("81", "forward", "378", ""),
    ("185", "aft", "147", 'pieces = ["97.5 g", "94.5 g"]'),
    ("47", "aft", "351", ""),
)


TALKATIVE_HEAD = """
format = "hingeline/ballast/1"
moment = {value = "0.315 N m", standard = "0.01 N m"}
target = "middle"
[limits]
lower = "0.595 N m"
upper = "0.605 N m"
source = "data sheet 7"
"""


@pytest.mark.slow
def test_a_correction_of_many_places_is_one_document(tmp_path: Path) -> None:
    """The solver's own line, which comes out when the process ends, does not stand behind the document."""
    places = [
        f'[[place]]\nname = "p{index}"\narm = "{arm} mm"\nside = "{side}"\nlargest_mass = "{most} g"\n{more}\n'
        for index, (arm, side, most, more) in enumerate(TALKATIVE)
    ]
    (tmp_path / "many.toml").write_text(TALKATIVE_HEAD + "".join(places), encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-P", "-m", "hingeline_app", "ballast", str(tmp_path / "many.toml"), "--json"],
        env=without_buffering_of_ours(),
        capture_output=True,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert json.loads(done.stdout)["format"] == "hingeline/ballast-result/1"


SPOKEN = {
    "past C's library": "os.write(1, b'the solver says something\\n')",
    "through C's library": "ctypes.CDLL(None).printf(b'the solver says something\\n')",
}


@pytest.mark.slow
@pytest.mark.parametrize("spoken", SPOKEN)
def test_standard_output_is_one_document_even_where_the_solver_talks(spoken: str) -> None:
    """What compiled code writes to the process's own standard output stands neither before nor behind the document."""
    script = (
        "import ctypes, os, sys\n"
        "from hingeline.balance.ballast import programme\n"
        "real = programme._attempt\n"
        "def talking(*given):\n"
        f"    {SPOKEN[spoken]}\n"
        "    return real(*given)\n"
        "programme._attempt = talking\n"
        "from hingeline_app.cli.main import main\n"
        f"sys.exit(main(['ballast', {str(FIRST)!r}, '--json']))\n"
    )
    done = subprocess.run([sys.executable, "-c", script], env=without_buffering_of_ours(), capture_output=True)
    assert done.returncode == 0
    assert json.loads(done.stdout)["format"] == "hingeline/ballast-result/1"


def test_the_output_is_back_after_the_solver(capfd: pytest.CaptureFixture[str]) -> None:
    """What is written meanwhile is lost, what is written afterwards is not."""
    with quiet_solver():
        os.write(1, b"meanwhile")
    os.write(1, b"afterwards")
    assert capfd.readouterr().out == "afterwards"


@pytest.mark.slow
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_a_sheet_replays_to_the_last_digit(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The record inside a correction's sheet, worked out again, is the same, and its check sum holds."""
    pdf = tmp_path / "correction.pdf"
    assert main(["ballast", str(path), "--pdf", str(pdf), "--json"]) == 0
    capsys.readouterr()
    assert main(["replay", str(pdf), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert (document["same"], document["differences"], document["check_sum_holds"]) == (True, [], True)
    assert document["predicted_moment"]["unit"] == "N m"
    assert main(["replay", str(pdf)]) == 0
    assert "predicted, not weighed" in capsys.readouterr().out


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_document_fits_its_schema(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The result of each example fits the strict schema of its format, and so does the example itself."""
    assert main(["ballast", str(path), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    strict = schemas.schemas(closed=True)
    Draft202012Validator(strict["hingeline/ballast-result/1"]).validate(document)
    Draft202012Validator(strict["hingeline/ballast/1"]).validate(tomllib.loads(path.read_text("utf-8")))


def test_the_picture_stands_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """--picture writes an SVG that carries its own style and says what it shows."""
    out = tmp_path / "places.svg"
    assert main(["ballast", str(FIRST), "--picture", str(out), "--json"]) == 0
    json.loads(capsys.readouterr().out)
    svg = out.read_text("utf-8")
    assert svg.startswith("<svg")
    assert "<style>" in svg
    assert "Arm weight, 180" in svg
