"""``coating``, ``swing`` and ``dynamic``: one document on standard output, a page for people, their refusals."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.cli.main import main
from hingeline_app.files.coating_file import read_coating
from tests.doors.checkouts import ROOT

EXAMPLES = {
    path: command
    for number, command in (("12", "coating"), ("13", "coating"), ("14", "swing"), ("15", "dynamic"))
    for path in (ROOT / "examples").glob(f"{number}-*.toml")
}

COATING = """
format = "hingeline/coating/1"
moment = {value = "0.284 N m", expanded = "0.012 N m", k = 2}
[limits]
upper = "0.39 N m"
source = "data sheet 5"
[[layer]]
name = "topcoat"
area = {value = "0.327 m^2", limit = "2 %"}
arm = "60 mm"
side = "aft"
count = 2
mass_per_area = "95 g/m^2"
"""
WET = """
[[layer]]
name = "wet"
arm = "60 mm"
side = "aft"
wet_volume = "120 ml"
volume_solids = {value = 0.48, limit = 0.03}
solids_density = "1350 kg/m^3"
transfer = 0.65
"""
SWING = """
format = "hingeline/swing/1"
method = "added mass"
periods = ["14.82 s", "14.86 s"]
swings_per_period = 10
amplitude = {value = "6 deg", limit = "2 deg"}
surface_mass_moment = "0.004 kg m"
added_mass = "250 g"
added_arm = "310 mm"
[uncertainty]
timing = {limit = "0.15 s"}
"""
DYNAMIC = """
format = "hingeline/dynamic/1"
[[plate]]
chordwise = ["-15 mm", "235 mm"]
spanwise = ["2.60 m", "3.95 m"]
mass_per_area = "5.6 kg/m^2"
[[point]]
mass = "95 g"
arm = "70 mm"
side = "aft"
spanwise = "3.95 m"
[weight]
arm = "75 mm"
side = "forward"
"""
GOOD = {"coating": COATING + WET, "swing": SWING, "dynamic": DYNAMIC}

# command, what is replaced, by what, and the field and words that must come back
BROKEN: dict[str, tuple[str, str, str, str, str]] = {
    "another format": ("coating", "coating/1", "weighing/1", "format", "hingeline/coating/1"),
    "a newer version": ("swing", "swing/1", "swing/2", "format", "hingeline/swing/1"),
    "no format": ("dynamic", 'format = "hingeline/dynamic/1"', "", "format", "a value for this field"),
    "a bare moment": ("coating", '{value = "0.284 N m", expanded = "0.012 N m", k = 2}', "0.284", "moment",
     "a number with"),
    "a moment without value": ("coating", 'value = "0.284 N m", ', "", "moment.value", "the value itself"),
    "expanded without k": ("coating", ", k = 2", "", "moment.k", "the coverage factor"),
    "k of nothing": ("coating", "k = 2", "k = 0.0", "moment.k", "coverage factor"),
    "U below zero": ("coating", '"0.012 N m"', '"-0.012 N m"', "moment.standard_uncertainty", "zero or a positive"),
    "a moment in millimetres": ("coating", '"0.284 N m"', '"0.284 mm"', "moment.value", "a moment"),
    "grouped digits": ("coating", '"0.284 N m"', '"0_284 N m"', "moment.value", "a number such as"),
    "nan": ("coating", '"0.284 N m"', '"nan N m"', "moment.value", "a number such as"),
    "a decimal comma": ("coating", '"0.284 N m"', '"0,284 N m"', "moment.value", "a number such as"),
    "full-width digits": ("coating", '"0.284 N m"', '"０.284 N m"', "moment.value", "a number such as"),
    "an unknown field": ("coating",
     'arm = "60 mm"\nside = "aft"\ncount', 'amr = "60 mm"\nside = "aft"\ncount', "layer[0].amr", "a field"),
    "no side": ("coating", 'side = "aft"\ncount', "count", "layer[0].side", "a value for this field"),
    "another side": ("coating", 'side = "aft"\ncount', 'side = "behind"\ncount', "layer[0].side", "'aft' or 'forward'"),
    "a signed arm": ("coating",
     '"60 mm"\nside = "aft"\ncount', '"-60 mm"\nside = "aft"\ncount', "layer[0].arm", "0 or more"),
    "an arm in square metres": ("coating",
     '"60 mm"\nside = "aft"\ncount', '"60 m^2"\nside = "aft"\ncount', "layer[0].arm", "a length"),
    "a count in quotes": ("coating", "count = 2", 'count = "2"', "layer[0].count", "a bare number"),
    "a count that is true": ("coating", "count = 2", "count = true", "layer[0].count", "a bare number"),
    "no count": ("coating", "count = 2", "count = 0", "layer[0].count", "that is not 0"),
    "an area of nothing": ("coating", '"0.327 m^2"', '"0 m^2"', "layer[0].area", "above 0"),
    "two shapes": ("coating", 'limit = "2 %"', 'limit = "2 %", standard = "1 %"', "layer[0].area", "exactly one of"),
    "an uncertainty in metres": ("coating", 'limit = "2 %"', 'limit = "2 mm"', "layer[0].area.limit", "an area"),
    "more than all": ("coating", 'limit = "2 %"', 'limit = "120 %"', "layer[0].area", "less than 100 %"),
    "no mass": ("coating", 'mass_per_area = "95 g/m^2"', "", "layer[0]", "exactly one of mass_per_area"),
    "two masses": ("coating",
     'mass_per_area = "95 g/m^2"', 'mass_per_area = "95 g/m^2"\nfilm = "50 µm"', "layer[0]", "exactly one"),
    "solids with a unit": ("coating", "{value = 0.48, limit = 0.03}", '"48 %"', "layer[1].volume_solids",
     "a bare number"),
    "solids in percent": ("coating", "value = 0.48", "value = 48", "layer[1].volume_solids", "above 0 and up to 1"),
    "a percentage that does not say of what": ("coating",
     "limit = 0.03", 'limit = "3 %"', "layer[1].volume_solids.limit", "a percentage that says of what"),
    "points of text": ("coating", "limit = 0.03", 'limit = "few points"', "layer[1].volume_solids.limit", "a number"),
    "solids of text": ("coating", "value = 0.48", 'value = "much"', "layer[1].volume_solids.value", "a bare number"),
    "a part uncertain of nothing": ("coating", "value = 0.48", "value = 0.0", "layer[1].volume_solids.limit", "not 0"),
    "no layers": ("coating", COATING[COATING.index("[[layer]]"):] + WET, "", "layer", "at least one layer"),
    "limits swapped": ("coating",
     'upper = "0.39 N m"', 'upper = "0.39 N m"\nlower = "0.5 N m"', "limits.lower", "below the upper"),
    "limits without a limit": ("coating", 'upper = "0.39 N m"', "", "limits", "a lower or an upper limit"),
    "both forms": ("coating", "[limits]", '[[surface]]\nname = "left"\n[limits]', "moment", "one surface at the top"),
    "an unknown method": ("swing", '"added mass"', '"by hand"', "method", "own weight"),
    "a time without a unit": ("swing", '"14.82 s"', '"14.82"', "periods[0]", "a time"),
    "a bare time": ("swing", '"14.82 s"', "14.82", "periods[0]", "a number with its unit"),
    "no times": ("swing", '["14.82 s", "14.86 s"]', "[]", "periods", "at least one time"),
    "a time of nothing": ("swing", '"14.82 s"', '"0 s"', "periods[0]", "a time from 0.2 to 600 s"),
    "half a swing": ("swing", "= 10", "= 0.5", "swings_per_period", "a whole number"),
    "amplitude in millimetres": ("swing", '"6 deg"', '"6 mm"', "amplitude.value", "an angle"),
    "amplitude over the top": ("swing", '"6 deg"', '"120 deg"', "amplitude", "from 0 to 90 deg"),
    "a moment in newtons": ("swing", '"0.004 kg m"', '"0.04 N m"', "surface_mass_moment", "a mass moment"),
    "a mass that is missing": ("swing", 'added_mass = "250 g"', "", "added_mass", "which this method needs"),
    "a field of another method": ("swing", "[uncertainty]",
     'spring_arm = "1 m"\n[uncertainty]', "spring_arm", "nothing here"),
    "a timing of metres": ("swing", '"0.15 s"', '"0.15 m"', "uncertainty.timing.limit", "a time"),
    "coverage and k": ("swing", "timing", "coverage = 0.95\nk = 2\ntiming", "uncertainty.k", "either coverage or k"),
    "it would not hang": ("swing", '"0.004 kg m"', '"-0.4 kg m"', "added_mass", "hangs tail down"),
    "one end": ("dynamic", '["-15 mm", "235 mm"]', '["235 mm"]', "plate[0].chordwise", "at least 2 items"),
    "three ends": ("dynamic", '["-15 mm", "235 mm"]', '["1 mm", "2 mm", "3 mm"]', "plate[0].chordwise",
     "at most 2 items"),
    "ends swapped": ("dynamic", '["-15 mm", "235 mm"]', '["235 mm", "-15 mm"]', "plate[0].chordwise",
     "smaller to a larger"),
    "no plate's mass": ("dynamic", 'mass_per_area = "5.6 kg/m^2"', "", "plate[0].mass", "either mass or mass_per_area"),
    "a point without place": ("dynamic", 'spanwise = "3.95 m"', "", "point[0].spanwise", "a value for this field"),
    "a weight on the heavy side": ("dynamic", '"forward"', '"aft"', "weight.mass", "no mass there balances it"),
    "gravity of the moon": ("dynamic", "[[plate]]",
     'local_gravity = "1.6 m/s^2"\n[[plate]]', "local_gravity", "between 9.7"),
    "nothing at all": ("dynamic", DYNAMIC, " ", "file", "a job file"),
}  # fmt: skip


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, Any, str]:
    """Run a command with --json: status, document, standard error."""
    status = main([*arguments, "--json"])
    out, errors = capsys.readouterr()
    return status, json.loads(out), errors


@pytest.mark.parametrize("command", GOOD)
def test_the_good_files_are_good(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is spoiled below is computed as it stands."""
    (tmp_path / "job.toml").write_text(GOOD[command], encoding="utf-8")
    status, document, errors = run(capsys, command, str(tmp_path / "job.toml"))
    assert (status, errors) == (0, "")
    assert document["format"] == f"hingeline/{command}-result/1"


@pytest.mark.parametrize("how", BROKEN)
def test_a_spoiled_file_is_refused(how: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit 2, one error document, and among its errors the field with what was expected; nothing computed."""
    command, old, new, field, expected = BROKEN[how]
    assert old in GOOD[command]
    (tmp_path / "job.toml").write_text(GOOD[command].replace(old, new, 1), encoding="utf-8")
    status, document, errors = run(capsys, command, str(tmp_path / "job.toml"))
    assert status == 2
    assert document["format"] == "hingeline/error/1"
    found = {error["field"]: error for error in document["errors"]}
    assert field in found, list(found)
    assert expected.replace("'", '"') in found[field]["expected"]
    assert found[field]["remedy"].endswith((".", "?"))
    assert "Refused" in errors
    assert "Traceback" not in errors


def test_a_surface_is_named_where_there_are_several(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With several surfaces a fault says in which it stands."""
    head, _, layer = COATING.partition("[[layer]]")
    surfaces = "".join(
        f'[[surface]]\nname = "{name}"\n{moment}[[surface.layer]]{layer.replace("60 mm", arm)}'
        for name, arm, moment in (
            ("left", "60 mm", ""),
            ("right", "-60 mm", 'moment = {value = "1 N m", limit = "-1 N m"}\n'),
        )
    )
    assert "moment" in head
    (tmp_path / "job.toml").write_text('format = "hingeline/coating/1"\n' + surfaces, encoding="utf-8")
    fields = [error["field"] for error in run(capsys, "coating", str(tmp_path / "job.toml"))[1]["errors"]]
    assert fields == ["surface[1].moment.standard_uncertainty"]
    mended = surfaces.replace("-1 N m", "0.1 N m")
    (tmp_path / "job.toml").write_text('format = "hingeline/coating/1"\n' + mended, encoding="utf-8")
    fields = [error["field"] for error in run(capsys, "coating", str(tmp_path / "job.toml"))[1]["errors"]]
    assert fields == ["surface[1].layer[0].arm"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_standard_input_gives_the_same(
    path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The document from standard input is the document from the file."""
    from_file = run(capsys, EXAMPLES[path], str(path))[1]
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(path.read_bytes())))
    assert run(capsys, EXAMPLES[path], "-")[1] == from_file


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_page_says_what_the_document_says(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The page carries every note and caution, and calls what was not weighed predicted or an estimate."""
    document = run(capsys, EXAMPLES[path], str(path))[1]
    assert main([EXAMPLES[path], str(path)]) == 0
    page = " ".join(capsys.readouterr().out.replace("│", " ").replace("·", " ").split())
    for sentence in (*document["notes"], *document["cautions"]):
        assert " ".join(sentence.replace("·", " ").split()) in page, sentence
    if EXAMPLES[path] == "coating":
        assert "Predicted inside, not weighed" in page
        assert "A new weighing decides." in page
    if EXAMPLES[path] == "dynamic":
        assert "an estimate" in page


def test_a_page_without_moment_or_limits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A change alone is shown without a statement; the notes say why."""
    layer = COATING[COATING.index("[[layer]]") :]
    (tmp_path / "job.toml").write_text('format = "hingeline/coating/1"\n' + layer, encoding="utf-8")
    assert main(["coating", str(tmp_path / "job.toml")]) == 0
    page = capsys.readouterr().out
    for word in ("inside", "outside", "too close to tell"):
        assert f"Predicted {word}" not in page
    assert "No moment is given" in page


@pytest.mark.parametrize(("command", "number"), [("dynamic", "15"), ("coating", "12")])
def test_the_picture_is_written_whole(
    command: str, number: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """--picture writes an SVG file that stands alone; a place that cannot be written is refused."""
    (example,) = [str(path) for path in EXAMPLES if path.name.startswith(number)]
    out = tmp_path / "picture.svg"
    status, _, errors = run(capsys, command, example, "--picture", str(out))
    assert status == 0
    assert "The picture was written" in errors
    text = out.read_text(encoding="utf-8")
    assert text.startswith("<svg")
    assert "<style>" in text
    status, document, _ = run(capsys, command, example, "--picture", str(tmp_path / "none" / "picture.svg"))
    assert status == 2
    assert document["errors"][0]["field"] == "--picture"
    assert [path.name for path in tmp_path.iterdir()] == ["picture.svg"]


def test_a_picture_of_nothing_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without a weight to try, or with several surfaces, there is no picture, and the refusal says so."""
    (tmp_path / "job.toml").write_text(DYNAMIC[: DYNAMIC.index("[weight]")], encoding="utf-8")
    out = str(tmp_path / "picture.svg")
    _, document, _ = run(capsys, "dynamic", str(tmp_path / "job.toml"), "--picture", out)
    assert "a weight to try" in document["errors"][0]["expected"]
    (several,) = [str(path) for path in EXAMPLES if path.name.startswith("13")]
    _, document, _ = run(capsys, "coating", several, "--picture", out)
    assert "one surface" in document["errors"][0]["expected"]
    assert not Path(out).exists()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_number_package_is_loaded(path: Path) -> None:
    """The three commands run without numpy and scipy."""
    code = (
        "import sys; from hingeline_app.cli.main import main; "
        f"status = main([{EXAMPLES[path]!r}, {str(path)!r}, '--json']); "
        "sys.exit(status or int(bool({'numpy', 'scipy'} & set(sys.modules))))"
    )
    environment = os.environ | {"PYTHONPATH": str(ROOT / "src")}
    assert subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True).returncode == 0


def test_a_part_known_to_points_and_a_part_known_to_a_part_of_itself_are_two_things() -> None:
    """3 points beside 0.48 are 0.45 … 0.51; 3 % of it are 0.4656 … 0.4944. A bare number is of the whole."""

    def spread(amount: str) -> float:
        (layer,) = (
            read_coating((COATING + WET).replace("limit = 0.03", f"limit = {amount}").encode()).surfaces[0].layers[1:]
        )
        assert layer.volume_solids_uncertainty is not None
        return layer.volume_solids_uncertainty.of(0.48)

    assert spread('"3 points"') == spread("0.03") == pytest.approx(0.03 / 3**0.5)
    assert spread('"3 % of it"') == pytest.approx(0.03 * 0.48 / 3**0.5)
    assert spread('"3\u00a0%\u202fof it"') == spread('"3 % of it"')
    assert spread('"3\u00a0points"') == spread("0.03")


@pytest.mark.parametrize("amount", ["3\u00a0%", "3\u202f%", "3\u2009%", "3 \u00a0%", " 3%", "3 %.", "3 per cent"])
def test_a_bare_percentage_of_a_part_is_refused_however_it_is_written(amount: str) -> None:
    """Copied from a data sheet it comes with a space that holds: that one was taken as a part of the value."""
    text = (COATING + WET).replace("limit = 0.03", f'limit = "{amount}"')
    with pytest.raises(InputRefused, match="a percentage that says of what"):
        read_coating(text.encode())
    (layer,) = read_coating(text.encode(), kept=True).surfaces[0].layers[1:]
    assert layer.volume_solids_uncertainty is not None
    assert layer.volume_solids_uncertainty.of(0.48) == pytest.approx(0.03 * 0.48 / 3**0.5)
