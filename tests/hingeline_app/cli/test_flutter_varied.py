"""The command that varies a number of a model, or two: a table, a curve, a map, and what cannot be varied."""

from __future__ import annotations

import json
import os
import re
import signal
from pathlib import Path
from typing import Any

import pytest

from hingeline.flutter import sweeps
from hingeline_app.cli.main import main
from tests.hingeline_app.cli.flutter_shown import STRIP, changed, document_of, onset_of, page_of

MOMENT = "section.surface_static_moment=-0.01 kg:0.04 kg:3"


@pytest.mark.slow
def test_a_number_is_varied_in_the_units_of_the_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each point is the onset of the file with that value typed in it; the page lists them, and calls none a proof."""
    found = document_of(STRIP, capsys, "--vary", "surface_static_moment=-10 g:40 g:3")["variation"]
    assert (found["fields"], found["units"]) == (["section.surface_static_moment"], ["kg"])
    assert [point["values"] for point in found["points"]] == [[-0.01], [pytest.approx(0.015)], [0.04]]
    assert found["points"][0]["speed"] is None
    again = onset_of(changed(STRIP, tmp_path, ('value = "0.0200 kg"', 'value = "40 g"')))
    assert found["points"][2]["speed"]["value"] == pytest.approx(again.speed, rel=1e-9)
    said = page_of(STRIP, capsys, "--vary", MOMENT)
    assert "with section.surface_static_moment, kg, tail-heavy positive (an estimate)" in said
    assert re.search(r"−0\.010 none 0\.015 [\d.]+ m/s [\d.]+ kn 0\.040 31\.32 m/s 60\.88 kn", said)
    assert "none: no growth found in the range, which is no proof." in said


@pytest.mark.slow
def test_two_numbers_make_a_map(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """The map is the sweep of the second number for each value of the first; a wide one is left to picture and JSON."""
    both = ("--vary", MOMENT, "--vary", "structural_damping=0:0.02:2")
    found = document_of(STRIP, capsys, *both)["variation"]
    assert [point["values"][1] for point in found["points"]] == [0.0, 0.02] * 3
    alone = document_of(STRIP, capsys, "--vary", MOMENT)["variation"]["points"]
    for one, other in zip(found["points"][1::2], alone, strict=True):
        assert (one["speed"] is None) == (other["speed"] is None)
        if one["speed"] is not None:
            assert one["speed"]["value"] == pytest.approx(other["speed"]["value"], rel=1e-10)
    assert re.search(r"0\.040 28\.9 31\.3", page_of(STRIP, capsys, *both))
    picture = tmp_path / "map.svg"
    wide = ("--vary", "surface_static_moment=0.03 kg:0.04 kg:2", "--vary", "structural_damping=0:0.02:12")
    assert "The map has 12 columns" in page_of(STRIP, capsys, *wide, "--plot", str(picture))
    drawn = picture.read_text("utf-8")
    assert drawn.count('class="wash"') == 24
    assert "Model, not proof." in drawn


def test_a_varied_number_is_drawn_as_a_curve(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """The curve has a point for each onset, hatches where none was found, and writes what it is worth."""
    picture = tmp_path / "curve.svg"
    page_of(STRIP, capsys, "--vary", "surface_static_moment=-0.01 kg:0.04 kg:6", "--plot", str(picture))
    drawn = picture.read_text("utf-8")
    assert drawn.count('class="point"') == 3
    assert "model finds no growth" in drawn
    assert "Model, not proof." in drawn
    assert "section.surface_static_moment, kg, tail-heavy positive" in drawn


def test_growth_from_the_start_is_a_cell_of_its_own(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    """Searched from inside the hump, a variant that grows already is called so on page and picture, not none."""
    path = changed(STRIP, tmp_path, ('"2 m/s"', '"45 m/s"'))
    picture = tmp_path / "map.svg"
    both = ("--vary", "surface_static_moment=0 kg:0.02 kg:2", "--vary", "structural_damping=0.02:0.03:2")
    said = page_of(path, capsys, *both, "--plot", str(picture))
    assert re.search(r"0\.00 none none 0\.02 grows", said)
    assert ">grows<" in picture.read_text("utf-8")


@pytest.mark.parametrize(
    ("given", "told"),
    [
        ("surface_static_moment", "a number of the file, from where, and to where"),
        ("surface_static_moment=0 kg:", "a number of the file, from where, and to where"),
        ("surface_static_moment=0 kg:1 kg:2:3", "a number of the file, from where, and to where"),
        ("surface_static_moment=0 kg:0.04 kg:1", "from 2 to 101 values"),
        ("surface_static_moment=0 kg:0.04 kg:9999", "from 2 to 101 values"),
        ("surface_static_moment=0.02 kg:20 g", "two ends that differ"),
        ("surface_static_moment=0:0.04", "section.surface_static_moment"),
        ("surface_static_moment=0 m:0.04 m", "section.surface_static_moment"),
        ("surface_static_moment=nan:0.04 kg", "section.surface_static_moment"),
        ("elastic_axis=nan:0.1", "section.elastic_axis"),
        ("surface_inertia=-1 kg m:1 kg m", "section.surface_inertia"),
        ("section.colour=1:2", "a number of this model, by its dotted name"),
        ("speeds=1:2", "a number of this model, by its dotted name"),
    ],
)
def test_what_cannot_be_varied_is_refused(given: str, told: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A wrong way to write it, a number that is not there, or one that no file may hold ends with 2, in words."""
    assert main(["flutter", str(STRIP), "--vary", given]) == 2
    assert told in re.sub(r"\s+", " ", capsys.readouterr().err)


def test_three_numbers_at_once_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """A page has two directions."""
    assert main(["flutter", str(STRIP), *("--vary", MOMENT) * 3]) == 2
    assert "one number of the file, or two" in capsys.readouterr().err
    assert main(["flutter", str(STRIP), *("--vary", MOMENT) * 2]) == 2
    assert "two different fields" in capsys.readouterr().err


def test_ctrl_c_shows_the_variants_done(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends a sweep after the part at work, with 130; the answer says how many variants it has."""
    monkeypatch.setattr(sweeps, "AT_ONCE", 2)
    work = sweeps.work_part

    def pressed(part: Any) -> Any:
        os.kill(os.getpid(), signal.SIGINT)
        return work(part)

    monkeypatch.setattr(sweeps, "work_part", pressed)
    assert main(["flutter", str(STRIP), "--vary", "surface_static_moment=0.02 kg:0.04 kg:6", "--json"]) == 130
    said, errors = capsys.readouterr()
    document = json.loads(said)
    assert len(document["variation"]["points"]) == 2
    assert document["notes"][-1] in errors
    assert "Stopped after 2 of 6 variants" in errors
