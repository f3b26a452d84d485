"""``hingeline motion``: statement, tap, series, picture, and what is refused."""

from __future__ import annotations

import hashlib
import json
import math
import re
from pathlib import Path
from typing import Any

import pytest

from hingeline.flutter.where_from import stated_sources
from hingeline_app.cli.main import main
from hingeline_app.files.flutter_file import read_flutter
from tests.hingeline_app.figures.reading_svg import outside, overlapping, parsed

EXAMPLES = Path(__file__).parents[3] / "examples" / "motion"
GROWING, KNOCK, TAP = (
    str(EXAMPLES / f"{name}.csv") for name in ("04-growing", "01-knock-in-the-wind", "06-tap-on-the-ground")
)


def said(capsys: pytest.CaptureFixture[str], *words: str, status: int = 0) -> str:
    """Run the command and give what it wrote."""
    assert main(["motion", *words]) == status
    return capsys.readouterr().out


def document(capsys: pytest.CaptureFixture[str], *words: str, status: int = 0) -> dict[str, Any]:
    """Run the command and give its document."""
    found: dict[str, Any] = json.loads(said(capsys, *words, "--json", status=status))
    return found


def test_the_fields_of_the_contract_are_there(capsys: pytest.CaptureFixture[str]) -> None:
    """Names that other people's scripts rely on stand in the document."""
    found = document(capsys, GROWING)

    assert found["format"] == "hingeline/motion-result/1"
    assert found["statement"] == "growing"
    assert {"value", "low", "high"} <= set(found["frequency"])
    assert found["time_scale"] == {"true_over_file": 1.0, "from": "given"}
    assert {"measure", "value", "points_to", "role"} <= set(found["evidence"][0])
    assert {each["role"] for each in found["evidence"]} == {"decides", "shown"}
    assert found["reasons"]
    assert found["next"]
    for name in ("damping_ratio", "growth_rate", "phase", "cycles", "stretch", "signal_to_noise"):
        assert name in found


def test_the_page_leads_with_the_statement_and_ends_with_the_cautions(capsys: pytest.CaptureFixture[str]) -> None:
    """People read the statement, its reasons, and last the cautions; no word says that all is well."""
    page = said(capsys, GROWING)

    assert page.index("Growing: it feeds itself") < page.index("Evidence") < page.index("Caution")
    assert not re.search(r"\b(safe|OK|passed)\b", page)


def test_the_picture_shows_the_growth_and_keeps_its_words_apart(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """A growth has a heavy line; words neither overlap nor leave the picture; a decay has no heavy line."""
    for file, heavy in ((GROWING, True), (KNOCK, False)):
        out = tmp_path / "strip.svg"
        said(capsys, file, "--plot", str(out))
        svg = out.read_text("utf-8")
        root = parsed(svg)
        assert ('class="moment out"' in svg) is heavy
        assert overlapping(root) == []
        assert outside(root) == []


def test_a_tap_gives_its_modes(capsys: pytest.CaptureFixture[str]) -> None:
    """Two close modes are found, each with an interval."""
    found = document(capsys, "tap", TAP)

    assert len(found["modes"]) == 2
    assert all(mode["frequency"]["low"] < mode["frequency"]["high"] for mode in found["modes"])
    page = said(capsys, "tap", TAP)
    for number, mode in enumerate(found["modes"], 1):
        assert re.search(rf"^ +{number} +{mode['frequency']['value']:.4f}.Hz \(", page, re.MULTILINE)


def test_a_tap_becomes_a_number_of_a_flutter_file_with_its_source(capsys: pytest.CaptureFixture[str]) -> None:
    """The lines, put into a flutter file, are read there: frequency, standard uncertainty and source come out."""
    lines = said(capsys, "tap", TAP, "--into", "tailplane.support_frequency")
    values, _, sources = lines.partition("# under [sources]\n")
    number = next(line for line in values.splitlines() if line.startswith("support_frequency"))
    text = (EXAMPLES.parent / "flutter" / "03-tailplane-weight-on-an-arm.toml").read_text("utf-8")
    text, count = re.subn(r"(?m)^support_frequency = .*$", number, text)
    assert count == 1
    task = read_flutter((text.replace("[sources]\n", "") + f"\n[sources]\n{sources}").encode())
    (source,) = stated_sources(task)
    mode = document(capsys, "tap", TAP)["modes"][0]
    natural = mode["frequency"]["value"] / math.sqrt(1.0 - mode["damping_ratio"]["value"] ** 2)
    half = (mode["frequency"]["high"] - mode["frequency"]["low"]) / 2.0
    assert source.field == "tailplane.support_frequency"
    assert source.value == pytest.approx(natural, abs=0.06 * half)
    assert source.standard_uncertainty == pytest.approx(half / 1.96, rel=0.06)
    assert hashlib.sha256(Path(TAP).read_bytes()).hexdigest() in source.source


@pytest.mark.parametrize("field", ["support_frequency", "a.b --json", "a.b,a.c,a.d,a.e,a.f,a.g,a.h,a.i,a.j,a.k,a.l"])
def test_lines_that_cannot_be_written_are_refused(field: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A field without a table, lines and JSON at once, more fields than modes."""
    name, _, rest = field.partition(" ")
    words = [word for each in name.split(",") for word in ("--into", each)]
    assert main(["motion", "tap", TAP, *words, *rest.split()]) == 2
    assert "--into" in capsys.readouterr().err


def test_a_sheet_of_marks_comes_from_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One option writes the sheet; beside a file, or with a marker too small to be read, it is refused."""
    out = tmp_path / "marks.pdf"
    assert main(["motion", "--sheet", str(out), "--side", "35 mm", "--paper", "letter"]) == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert main(["motion", TAP, "--sheet", str(out)]) == 2
    assert main(["motion", "--sheet", str(out), "--side", "2 mm"]) == 2
    assert main(["motion"]) == 2
    assert "FILE" in capsys.readouterr().err


def test_a_series_against_weight(capsys: pytest.CaptureFixture[str]) -> None:
    """Growing with nothing, dying out with 120 g: it stops between the two."""
    words = ("onset", GROWING, KNOCK, "--against", "weight", "--weight", "0 g", "--weight", "120 g")
    found = document(capsys, *words)

    assert found["onset_speed"] is None
    assert found["stops_between"]["high"] == {"value": 0.12, "unit": "kg"}
    assert "stops feeding itself" in said(capsys, *words)


def test_a_series_with_a_growing_recording_is_refused_an_onset(capsys: pytest.CaptureFixture[str]) -> None:
    """The answer is null, with the reason; status 0, because it was computed."""
    found = document(capsys, "onset", GROWING, KNOCK, "--airspeed", "20 kn", "--airspeed", "25 kn")

    assert found["onset_speed"] is None
    assert "already there" in found["refused"]


def test_files_whose_columns_show_nearly_one_airspeed_are_one_speed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Knocks at 20.00 and 20.13 m/s by their own columns stand at one speed, their mean; 22.0 m/s apart."""
    _, head, *rows = Path(KNOCK).read_text(encoding="utf-8").splitlines()
    names = []
    for speed in (20.13, 22.0, 20.0):
        names.append(tmp_path / f"{speed}.csv")
        table = [f"{head},airspeed_m_s", *(f"{row},{speed}" for row in rows)]
        names[-1].write_text("\n".join(table), encoding="utf-8")
    points = document(capsys, "onset", *map(str, names))["points"]

    assert [(point["at"], point["recordings"]) for point in points] == [(pytest.approx(20.065), 2), (22.0, 1)]


@pytest.mark.parametrize(
    "words",
    [
        (KNOCK, GROWING),
        ("tap",),
        ("onset", KNOCK),
        ("onset", KNOCK, "--airspeed", "20 kn", "--airspeed", "21 kn"),
        ("onset", KNOCK, "--against", "weight"),
        ("tap", KNOCK, "--plot", "x.svg"),
        (KNOCK, "--column", "pitch"),
        (KNOCK, "--captured-at", "0"),
        ("nowhere.csv",),
    ],
)
def test_what_makes_no_sense_is_refused(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> None:
    """Status 2 and an error document; nothing is computed."""
    assert document(capsys, *words, status=2)["format"] == "hingeline/error/1"
