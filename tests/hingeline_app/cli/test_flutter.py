"""``hingeline flutter``: the finding first, no good word, one JSON document, refusals."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from hingeline.flutter import analyse
from hingeline_app.cli.main import main
from hingeline_app.files.flutter_file import read_flutter
from tests.doors.checkouts import ROOT

EXAMPLES = sorted((ROOT / "examples" / "flutter").glob("*.toml"))
STRIP = EXAMPLES[0]
NEVER_SAID = ("safe", "flutter-free", "stable", "clear of flutter", "no flutter")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_is_shown_without_a_good_word(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each page opens with its finding, calls itself an estimate, warns, and says nothing reassuring."""
    assert main(["flutter", str(path)]) == 0
    page, errors = capsys.readouterr()
    assert errors == ""
    assert "an estimate from a model" in page
    assert "Caution" in page
    assert not [word for word in NEVER_SAID if word in page.lower()]


def test_the_page_and_the_document_say_what_python_says(capsys: pytest.CaptureFixture[str]) -> None:
    """The onset of the document is that of ``analyse``, to the last digit, and the page rounds it."""
    onset = analyse(read_flutter(STRIP.read_bytes())).flutter
    assert onset is not None
    assert main(["flutter", str(STRIP), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert document["format"] == "hingeline/flutter-result/1"
    assert document["flutter"]["speed"] == {"value": onset.speed, "unit": "m/s"}
    assert document["airspeed"] == "true"
    main(["flutter", str(STRIP)])
    assert f"Growth starts at {onset.speed:.1f}\u00a0m/s" in capsys.readouterr().out


def test_roots_and_sensitivities_are_given_where_they_are_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    """Without the options both are null; with them every speed has its modes, and every input its derivative."""
    main(["flutter", str(STRIP), "--json"])
    plain = json.loads(capsys.readouterr().out)
    assert plain["roots"] in (None, [])
    assert plain["sensitivities"] in (None, [])
    main(["flutter", str(STRIP), "--json", "--roots", "--sensitivity"])
    full = json.loads(capsys.readouterr().out)
    assert len(full["roots"]) == 12
    growing = [root for each in full["roots"] for root in each["roots"] if root["damping_ratio"] < 0.0]
    assert growing
    assert {"section.plunge_stiffness", "section.surface_static_moment"} <= {
        each["field"] for each in full["sensitivities"]
    }
    assert main(["flutter", str(STRIP), "--roots", "--sensitivity"]) == 0
    assert "How the onset moves" in capsys.readouterr().out


def test_none_found_is_a_finding_with_a_range(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Below its onset the strip shows no growth: the page says up to where, and that it is no proof."""
    text = STRIP.read_text("utf-8").replace('"150 m/s"', '"30 m/s"')
    assert text != STRIP.read_text("utf-8")
    (tmp_path / "slow.toml").write_text(text, "utf-8")
    assert main(["flutter", str(tmp_path / "slow.toml")]) == 0
    page = " ".join(capsys.readouterr().out.split())
    assert "The model finds no growth from 2.0 m/s (4 kn) up to 30.0 m/s (58 kn): not proof." in page


def test_what_is_not_worked_out_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    """A file that states free play is computed without it, and the notes say so."""
    (path,) = [path for path in EXAMPLES if "free-play" in path.name]
    main(["flutter", str(path), "--json"])
    notes = json.loads(capsys.readouterr().out)["notes"]
    assert "The file states free play: this version does not work it out." in notes


def test_a_bad_file_is_refused_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A field that is not known exits with 2, and is named."""
    (tmp_path / "bad.toml").write_text(
        STRIP.read_text("utf-8").replace("[section]", "[section]\nsemichrd = 1", 1), "utf-8"
    )
    assert main(["flutter", str(tmp_path / "bad.toml"), "--json"]) == 2
    out, errors = capsys.readouterr()
    assert json.loads(out)["errors"][0]["field"].startswith("section.")
    assert "semichrd" in errors
