"""``hingeline flutter``: the finding first, never a good word, one JSON document, refusals."""

from __future__ import annotations

import json
import os
import re
import signal
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from hingeline.flutter import FlutterResult, scatter
from hingeline.flutter.solve import FREE_AND_UNSTABLE
from hingeline_app.cli.flutter_words import AT_EVERY_SPEED
from hingeline_app.cli.main import main
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.files.schemas import result_schema
from tests.doors.checkouts import ROOT
from tests.hingeline_app.cli.flutter_shown import EXAMPLES, STRIP, TAB, changed, document_of, onset_of, page_of

FREE_PLAY = EXAMPLES[5]
NEVER_SAID = ("safe", "flutter-free", "stable", "no flutter", "cleared", "good", " ok", "pass", "green")
# Where the library itself says why there is no crossing, or what the cautions deny.
ALLOWED = ("No flutter speed:", "is free of flutter", "not safety")


def diverging(folder: Path) -> Path:
    """A strip that only pitches and plunges, its centre of gravity on the axis: it diverges and never flutters."""
    (folder / "diverging.toml").write_text(
        'format = "hingeline/flutter/1"\nair = {density = "1.225 kg/m^3"}\nspeeds = ["2 m/s", "100 m/s"]\n'
        '[section]\nfreedoms = ["plunge", "pitch"]\nsemichord = "0.3 m"\nelastic_axis = -0.1\nmass = "12 kg/m"\n'
        'pitch_static_moment = "-1 kg"\npitch_inertia = "0.33 kg m"\nplunge_stiffness = "12800 N/m^2"\n'
        'pitch_stiffness = "300 N"\n',
        "utf-8",
    )
    return folder / "diverging.toml"


@pytest.mark.slow
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_is_shown_without_a_good_word(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each page calls its finding an estimate and no proof, names the airspeed, warns, and says nothing reassuring."""
    said = page_of(path, capsys, "--roots", "--sensitivity")
    finding = said.partition("╰")[0]
    assert "An estimate by a model" in finding
    assert "not proof" in finding
    assert "true airspeed" in finding
    assert "The airspeed indicator shows less at altitude" in said.partition("Caution")[2]
    assert "Damping assumed: " in said
    for allowed in ALLOWED:
        said = said.replace(allowed, "")
    assert [word for word in NEVER_SAID if word in said.lower()] == []


def test_the_finding_comes_first(capsys: pytest.CaptureFixture[str]) -> None:
    """Speed in both units, frequency and motion stand in the first frame of the page, rounded from ``analyse``."""
    onset = onset_of(STRIP)
    finding = page_of(STRIP, capsys).partition("╰")[0]
    assert f"Growth starts at {onset.speed:.2f} m/s ({onset.speed * 3600 / 1852:.2f} kn true airspeed)" in finding
    assert f"At {onset.frequency:.3f} Hz, mode {onset.mode.number} counted by frequency: {onset.mode.words}." in finding


def test_every_crossing_is_listed_with_its_direction(capsys: pytest.CaptureFixture[str]) -> None:
    """A hump shows both its ends; where one motion stops, the page does not say that growth is over."""
    said = page_of(STRIP, capsys)
    order = re.findall(r"a motion (starts|stops) growing +([\d.]+)", said)
    assert [each[0] for each in order] == ["starts", "stops", "starts"]
    speeds = [float(each[1]) for each in order]
    assert speeds == sorted(speeds)
    assert "growth stops" not in said


def test_none_found_is_a_finding_with_a_range(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Below its onset the strip shows no growth: the page says up to where, and that it is no proof."""
    said = page_of(changed(STRIP, tmp_path, ('"150 m/s"', '"30 m/s"')), capsys)
    assert "[ ? ] Model finds no growth up to 30.00 m/s (58.32 kn true airspeed): not proof" in said
    assert "Growth starts" not in said
    assert "a finding for this range and this model, not safety" in said


def test_growth_at_the_lowest_speed_leads_the_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Searched from inside the hump, the first line is that a motion grows already, not that nothing was found."""
    path = changed(STRIP, tmp_path, ('"2 m/s"', '"45 m/s"'))
    said, document = page_of(path, capsys), document_of(path, capsys)
    assert "[ ! ] A motion grows already at 45.00 m/s" in said
    assert "no growth up to" not in said
    assert document["flutter"] is None
    assert document["growing_at_lowest_speed"] is True


def test_growth_at_every_speed_is_its_own_finding(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With the tab free, something grows from 20 to 150 m/s throughout, though one motion stops on the way."""
    path = changed(TAB, tmp_path, ('"2 m/s"', '"20 m/s"'))
    document = document_of(path, capsys)
    assert "out of" in {each["direction"] for each in document["crossings"]}
    assert any(AT_EVERY_SPEED in note for note in document["notes"])
    assert "[ ! ] Something grows at every speed searched, from 20.00 m/s to 150.0 m/s" in page_of(path, capsys)


def test_divergence_is_not_hidden_by_no_growth(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A model that diverges in the range without flutter is not shown as one in which no growth was found."""
    path = diverging(tmp_path)
    document = document_of(path, capsys)
    assert document["flutter"] is None
    assert document["divergence"] is not None
    assert document["divergences"][0] == document["divergence"]
    said = page_of(path, capsys).partition("╰")[0]
    assert "[ ! ] Model finds no growing oscillation up to 100.0 m/s" in said
    assert "but see below: not proof" in said
    assert f"Divergence, growth without swinging, at {document['divergence']['speed']['value']:.2f} m/s" in said


def test_a_divergence_below_the_range_stands_with_the_finding(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The same strip searched from above its divergence: no "no growth" stands over what broke below it."""
    path = changed(diverging(tmp_path), tmp_path, ('"2 m/s"', '"60 m/s"'))
    document = document_of(path, capsys)
    assert document["divergence"] is None
    assert document["divergences"][0]["speed"]["value"] < 60.0
    finding = page_of(path, capsys).partition("╰")[0]
    assert "[ ! ] Model finds no growing oscillation up to 100.0 m/s" in finding
    assert "but see below: not proof" in finding
    assert "Already diverged at" in finding


def test_a_control_turned_away_by_the_air_is_part_of_the_finding(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A surface hinged behind its own half chord, held by nothing, is turned away at every speed: the frame says so."""
    path = changed(EXAMPLES[2], tmp_path, ('"25 %"', '"60 %"'), ('"3200 N m/rad"', '"0 N m/rad"'))
    document = document_of(path, capsys)
    assert FREE_AND_UNSTABLE in document["notes"]
    finding = page_of(path, capsys).partition("╰")[0]
    assert FREE_AND_UNSTABLE in finding
    assert "Model finds no growth" not in finding


@pytest.mark.slow
def test_free_play_is_worked_out_and_named_with_the_finding(capsys: pytest.CaptureFixture[str]) -> None:
    """A file with slack gives the speed from which a motion keeps going, in the frame, and each start's outcome."""
    document, said = document_of(FREE_PLAY, capsys), page_of(FREE_PLAY, capsys)
    (first,) = [note for note in document["notes"] if note.startswith("With the free play in the file")]
    assert first in said.partition("╰")[0]
    keeps_going = float(re.findall(r"from ([\d.]+) m/s on", first)[0])
    assert keeps_going < 0.6 * document["flutter"]["speed"]["value"]
    marched = [each for each in document["limit_cycles"] if each["method"] == "marching"]
    assert {each["start"] for each in marched} == {1.5, 6.0}
    assert {each["outcome"] for each in marched} == {"cycle", "dies out"}
    assert all(each["speed"]["value"] < document["flutter"]["speed"]["value"] for each in marched)
    assert said.count("dies out") >= sum(each["outcome"] == "dies out" for each in marched)


def test_a_file_without_slack_has_no_cycles(capsys: pytest.CaptureFixture[str]) -> None:
    """Without ``[free_play]`` the document has null there, and the page no word of it."""
    assert document_of(STRIP, capsys)["limit_cycles"] is None
    assert "Free play" not in page_of(STRIP, capsys)


def test_what_is_not_worked_out_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    """A file that states uncertain numbers says how to see their scatter; one that does not is silent."""
    told = "The file states uncertain numbers: --scatter 1000 shows how the speed scatters with them."
    assert told in document_of(STRIP, capsys)["notes"]
    assert told not in document_of(TAB, capsys)["notes"]


@pytest.mark.slow
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_document_is_as_its_schema(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """With every option the document keeps to the schema of a result, and to nothing more."""
    document = document_of(path, capsys, "--roots", "--sensitivity", "--vary", "structural_damping=0.01:0.02:2")
    Draft202012Validator(result_schema(FlutterResult, closed=True)).validate(document)
    assert document["airspeed"] == "true"


def test_the_document_says_what_python_says(capsys: pytest.CaptureFixture[str]) -> None:
    """The onset of the document is that of ``analyse``, to the last digit."""
    document, onset = document_of(STRIP, capsys), onset_of(STRIP)
    assert document["flutter"]["speed"] == {"value": onset.speed, "unit": "m/s"}
    assert document["flutter"]["frequency"] == {"value": onset.frequency, "unit": "Hz"}


@pytest.mark.slow
def test_roots_are_given_where_they_are_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    """Without the option null; with it every speed has its modes, and damping changes sign only at the crossings."""
    assert document_of(STRIP, capsys)["roots"] is None
    document = document_of(STRIP, capsys, "--roots")
    speeds = [row["speed"]["value"] for row in document["roots"]]
    assert (speeds[0], speeds[-1]) == (2.0, 150.0)
    neutral = [each["speed"]["value"] for each in document["crossings"]]
    growing = [any(root["damping_ratio"] < 0 for root in row["roots"]) for row in document["roots"]]
    for speed, grows in zip(speeds, growing, strict=True):
        assert grows == (neutral[0] < speed < neutral[1] or speed > neutral[2]), speed
    assert "Roots: frequency, and damping" in page_of(STRIP, capsys, "--roots")


@pytest.mark.slow
def test_sensitivities_are_given_where_they_are_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without the option null; with it a change of the static moment by 1 % moves the onset by its elasticity."""
    assert document_of(STRIP, capsys)["sensitivities"] is None
    found = {each["field"]: each for each in document_of(STRIP, capsys, "--sensitivity")["sensitivities"]}
    elasticity = found["section.surface_static_moment"]["elasticity"]
    more = changed(STRIP, tmp_path, ('value = "0.0200 kg"', 'value = "0.0202 kg"'))
    assert onset_of(more).speed / onset_of(STRIP).speed - 1 == pytest.approx(0.01 * elasticity, rel=0.02)
    said = page_of(STRIP, capsys, "--sensitivity")
    assert f"section.surface_static_moment {elasticity:.3f} %".replace("-", "−") in said


def test_without_an_onset_sensitivities_say_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Where no growth was found there is nothing to derive, and the page says that instead of an empty table."""
    said = page_of(changed(STRIP, tmp_path, ('"150 m/s"', '"30 m/s"')), capsys, "--sensitivity")
    assert "Nothing to tell: there is no speed at which damped growth starts." in said


@pytest.mark.slow
def test_the_plot_is_written_and_changes_no_document(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """--picture writes one picture that says the finding, tells so on standard error, and leaves the document alone."""
    out = tmp_path / "curves.svg"
    plain = document_of(STRIP, capsys)
    assert main(["flutter", str(STRIP), "--json", "--picture", str(out)]) == 0
    said, errors = capsys.readouterr()
    assert json.loads(said) == plain
    assert errors == f"The picture was written to {out}.\n"
    assert "Growth starts at 39.33" in out.read_text("utf-8")


@pytest.mark.slow
def test_a_plot_that_cannot_be_written_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A place that is a folder ends with 2 and the option's name, and no page stands as if all was done."""
    assert main(["flutter", str(STRIP), "--picture", str(tmp_path)]) == 2
    said, errors = capsys.readouterr()
    assert said == ""
    assert "--picture" in errors
    assert "a place where a file can be written" in errors
    assert list(tmp_path.iterdir()) == []


def test_what_it_is_working_on_is_shown_to_who_watches(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a terminal a line says what is searched and is wiped afterwards; elsewhere standard error stays empty."""
    page_of(STRIP, capsys)
    assert main(["flutter", str(STRIP)]) == 0
    assert capsys.readouterr().err == ""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert main(["flutter", str(STRIP)]) == 0
    assert "Searching from 2 to 150 m/s …" in capsys.readouterr().err


def test_a_bad_file_is_refused_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A field that is not known exits with 2, and is named."""
    path = changed(STRIP, tmp_path, (r"^\[section\]", "[section]\nsemichrd = 1"))
    assert main(["flutter", str(path), "--json"]) == 2
    said, errors = capsys.readouterr()
    assert json.loads(said)["errors"][0]["field"].startswith("section.")
    assert "semichrd" in errors


def test_a_file_of_another_command_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """A weighing is sent to its own command."""
    assert main(["flutter", str(ROOT / "examples" / "01-elevator-left-half.toml")]) == 2
    assert 'Use "hingeline weigh" for this file.' in capsys.readouterr().err


def test_two_ways_that_differ_give_no_answer(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Where the library finds that its ways disagree, the command ends with 1 and shows no speed."""
    from hingeline.errors import RoutesDisagree
    from hingeline_app.cli import flutter

    def differing(*_: object, **__: object) -> None:
        raise RoutesDisagree("onset speed", "39.3", "39.4", "1e-8")

    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    monkeypatch.setattr(flutter, "analyse", differing)
    assert main(["flutter", str(STRIP), "--json"]) == 1
    said, errors = capsys.readouterr()
    (error,) = json.loads(said)["errors"]
    assert error["field"] is None
    assert "two computations of the onset speed disagree" in error["remedy"]
    assert "Do not use any number from this run." in errors


@pytest.mark.slow
def test_scatter_says_how_sure_the_onset_is(capsys: pytest.CaptureFixture[str]) -> None:
    """The same seed gives the same distribution, around the nominal onset; a speed without its unit is refused."""
    path = str(ROOT / "examples" / "flutter" / "01-elevator-strip.toml")
    documents = []
    for _ in range(2):
        assert main(["flutter", path, "--scatter", "200", "--seed", "3", "--below", "80 kn", "--json"]) == 0
        documents.append(json.loads(capsys.readouterr().out))
    first, second = ({**document, "about": None} for document in documents)
    assert first == second
    found = first["speed_distribution"]
    low, middle, high = (found["quantiles"][part]["value"] for part in ("0.025", "0.5", "0.975"))
    assert low < first["flutter"]["speed"]["value"] < high
    assert found["samples"] == 200
    assert 0.0 <= found["fraction_below"] <= 1.0
    assert low < middle < high
    assert documents[0]["about"]["elapsed"] >= 0.0
    assert main(["flutter", path, "--scatter", "200", "--below", "80"]) == 2
    assert "--below" in capsys.readouterr().err
    assert main(["flutter", path, "--scatter", "200"]) == 0
    assert "How the onset scatters" in capsys.readouterr().out


def test_ctrl_c_shows_what_is_done(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C during the scatter ends after the chunk, with 130; the answer says of how many draws it is."""
    monkeypatch.setattr(scatter, "CHUNK", 40)
    chunk_of = scatter.scatter_chunk

    def pressed(task: Any, chunk: Any) -> Any:
        if chunk.number == 1:
            os.kill(os.getpid(), signal.SIGINT)
        return chunk_of(task, chunk)

    monkeypatch.setattr(scatter, "scatter_chunk", pressed)
    before = signal.getsignal(signal.SIGINT)
    assert main(["flutter", str(STRIP), "--scatter", "400", "--json"]) == 130
    said, errors = capsys.readouterr()
    document = json.loads(said)
    assert document["speed_distribution"]["samples"] == 80
    assert document["notes"][-1] in errors
    assert "Stopped after 80 of 400 models" in errors
    assert signal.getsignal(signal.SIGINT) is before


def test_a_second_ctrl_c_ends_at_once(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Whoever presses Ctrl-C twice gets no answer, and 130."""

    def pressed(*_: Any) -> None:
        for _ in range(2):
            os.kill(os.getpid(), signal.SIGINT)

    monkeypatch.setattr(scatter, "scatter_chunk", pressed)
    assert main(["flutter", str(STRIP), "--scatter", "400"]) == 130
    assert capsys.readouterr().out == ""


def test_progress_is_for_who_watches(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """On a terminal the scatter counts on standard error; beside --json, and where nobody watches, it is silent."""
    assert main(["flutter", str(STRIP), "--scatter", "50", "--json"]) == 0
    assert capsys.readouterr().err == ""
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert main(["flutter", str(STRIP), "--scatter", "50"]) == 0
    assert "Drawing 50 models" in capsys.readouterr().err


def test_sources_stand_beside_their_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    """What the file says of a number's source stands in the answer, with the number used and its uncertainty."""
    task = read_flutter(STRIP.read_bytes())
    sources = document_of(STRIP, capsys)["sources"]
    assert {each["field"] for each in sources} == {one.field for one in task.sources}
    (weighed,) = (each for each in sources if each["field"] == "section.surface_static_moment")
    assert (weighed["value"], weighed["unit"]) == (0.02, "kg")
    assert weighed["standard_uncertainty"] == pytest.approx(0.001)
    assert "0.0200 ± 0.0010 kg" in page_of(STRIP, capsys)


def test_a_motion_that_comes_behind_has_the_minus_of_the_other_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    """The surface comes 121 deg behind the plunge; a hyphen stood there, alone among true minus signs."""
    assert re.search(r"\bsurface \d\.\d{3} −121°", page_of(STRIP, capsys))
