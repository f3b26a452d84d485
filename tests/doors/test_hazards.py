"""The guards of docs/hazards.md that no other test is named for."""

from __future__ import annotations

import dataclasses
import json
from dataclasses import replace
from pathlib import Path

import pytest

from hingeline.balance import (
    Limits,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    WeighingPlan,
    plan_weighing,
    weigh,
)
from hingeline.errors import InputRefused, RoutesDisagree
from hingeline.units import read
from hingeline_app.cli import weigh as weigh_command
from hingeline_app.cli.main import main
from tests.doors.checkouts import ROOT

EXAMPLE = ROOT / "examples" / "01-elevator-left-half.toml"
ELEVATOR = Surface("Elevator, left half")
SCALE = Support(0.255, readings=(0.840, 0.845, 0.840, 0.845, 0.840))
LIMITS = Limits(0.0, 2.10, source="Data sheet 7")
WEIGHING = Weighing(ELEVATOR, (SCALE,), limits=LIMITS)


def edited(folder: Path, old: str, new: str) -> str:
    """Write the first example with one edit, and name the file."""
    text = EXAMPLE.read_text(encoding="utf-8")
    assert old in text
    path = folder / "job.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return str(path)


def test_swapped_limits_are_refused() -> None:
    """Hazard 4: a lower limit above the upper one is refused, with the question whether they are swapped."""
    with pytest.raises(InputRefused, match=r"limits\.lower.*Are they swapped\?"):
        weigh(replace(WEIGHING, limits=Limits(2.10, 0.0)))


def test_an_arm_behind_the_trailing_edge_is_asked_about() -> None:
    """Hazard 5: 2550 mm on a surface 270 mm deep is refused, and 255 mm is guessed."""
    support = replace(SCALE, arm=2.55)
    with pytest.raises(InputRefused, match=r"Did you mean 255 mm\?"):
        weigh(replace(WEIGHING, surface=replace(ELEVATOR, hinge_to_trailing_edge=0.270), supports=(support,)))


def test_a_centre_of_gravity_off_the_surface_is_refused() -> None:
    """Hazard 5: a mass that puts the centre of gravity behind the trailing edge cannot be right."""
    surface = replace(ELEVATOR, hinge_to_trailing_edge=0.270, mass=0.410)
    with pytest.raises(InputRefused, match="one of mass, readings and arm is wrong"):
        weigh(replace(WEIGHING, surface=surface))


def test_a_missing_source_of_limits_is_noted() -> None:
    """Hazard 6: limits without document, page and issue are noted, every time."""
    assert any("No source is given" in note for note in weigh(replace(WEIGHING, limits=Limits(0.0, 2.10))).notes)
    assert not any("No source is given" in note for note in weigh(WEIGHING).notes)


def test_what_was_not_stated_is_listed() -> None:
    """Hazard 8: every cause that nobody stated is named under the result, and one that was is not."""
    (note,) = (note for note in weigh(WEIGHING).notes if note.startswith("Not stated"))
    for cause in ("scale's step", "scale calibration", "friction in the bearings", "air currents", "arm", "level"):
        assert cause in note
    stated = replace(WEIGHING, uncertainty=StatedUncertainty(friction=Stated(0.01, "kg")))
    (note,) = (note for note in weigh(stated).notes if note.startswith("Not stated"))
    assert "friction" not in note


def test_with_nothing_to_go_by_there_is_no_plus_minus() -> None:
    """Hazard 8: one reading and nothing stated gives no ± and no guarded statement, and says what to state."""
    result = weigh(replace(WEIGHING, supports=(replace(SCALE, readings=(0.842,)),)))
    assert result.static_moment.expanded_uncertainty is None
    assert result.statement_guarded is None
    assert result.probability_within is None
    assert any("No uncertainty can be given" in note for note in result.notes)


def test_one_scale_under_two_supports_shares_its_error() -> None:
    """Hazard 9: two equal halves of a load on one scale have the calibration of the whole, not 1/√2 of it."""
    calibration = StatedUncertainty(calibration=Stated(0.010, "kg", "standard"))
    halves = (Support(0.255, readings=(0.421,)), Support(0.255, readings=(0.421,)))
    apart = tuple(replace(half, scale=name) for half, name in zip(halves, ("HL-3", "HL-4"), strict=True))
    shared = weigh(Weighing(ELEVATOR, halves, uncertainty=calibration)).static_moment.standard_uncertainty
    own = weigh(Weighing(ELEVATOR, apart, uncertainty=calibration)).static_moment.standard_uncertainty
    one = 0.010 * 9.80665 * 0.255
    assert shared == pytest.approx(2.0 * one, rel=1e-12)
    assert own == pytest.approx(2.0**0.5 * one, rel=1e-12)


@pytest.mark.parametrize("rule", ["simple", "guarded"])
def test_both_rules_stand_on_the_page_and_the_datas_rule_leads(
    rule: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Hazards 10 and 11: whichever rule leads, the other one and the meaning of the ± are shown beside it."""
    assert main(["weigh", edited(tmp_path, 'rule = "simple"', f'rule = "{rule}"')]) == 0
    said = capsys.readouterr().out
    led, other = {"simple": ("  Outside", "guarded"), "guarded": ("  Too close to tell", "simple")}[rule]
    assert led in said
    assert f"By the {rule} rule, as stated. By the {other} rule:" in said
    assert "± is the expanded uncertainty U, k = 1.96" in said


def test_on_the_limit_is_inside_whatever_a_float_rounds_to() -> None:
    """Hazard 12: 114 g at 100 mm is 1.14 kg cm at any gravity; as floats it lies beyond that limit."""
    support = Support(read("100 mm", "length"), readings=(read("114 g", "mass"),))
    limit = read("1.14 kg cm", "moment")
    result = weigh(Weighing(ELEVATOR, (support,), limits=Limits(upper=limit)))
    assert result.static_moment.value > limit
    assert result.margin == 0.0
    assert result.statement_simple == "inside"


def test_before_the_work_there_is_no_statement(capsys: pytest.CaptureFixture[str]) -> None:
    """Hazard 14: a plan has no field for a statement, is headed an estimate, and says what alone decides."""
    assert not {field.name for field in dataclasses.fields(WeighingPlan) if "statement" in field.name}
    assert any("Only the weighing decides" in note for note in plan_weighing(WEIGHING).notes)
    assert main(["weigh", "--before", str(EXAMPLE)]) == 0
    said = capsys.readouterr().out
    assert "an estimate" in said
    assert not [word for word in ("inside", "outside", "too close to tell") if f"  {word.capitalize()}" in said]


def test_cautions_stand_under_every_result(capsys: pytest.CaptureFixture[str]) -> None:
    """Hazard 15: on the page and in the document it says that this is no release and no proof against flutter."""
    for option in ([], ["--json"], ["--before"], ["--before", "--json"]):
        assert main(["weigh", str(EXAMPLE), *option]) == 0
        said = " ".join(capsys.readouterr().out.replace("│", " ").split())
        assert "not a release" in said
        assert "can still flutter" in said


def test_a_worksheet_that_cannot_be_written_leaves_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Hazard 17: where the worksheet cannot be put in its place, nothing half-written stays behind."""
    assert main(["weigh", str(EXAMPLE), "--pdf", str(tmp_path)]) == 2
    assert "--pdf" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_an_outlier_is_kept_and_named() -> None:
    """Hazard 18: a reading that stands far from the rest counts in the mean, and is named."""
    readings = (0.840, 0.845, 0.840, 0.845, 0.940)
    result = weigh(replace(WEIGHING, supports=(replace(SCALE, readings=readings),)))
    mean = sum(readings) / 5
    assert result.static_moment.value == pytest.approx(mean * 9.80665 * 0.255, rel=1e-12)
    assert any("Reading 5 stands far from the rest. It is kept" in note for note in result.notes)


@pytest.mark.fault("F43", "F45")
@pytest.mark.parametrize("fault", [RoutesDisagree("static moment", "1", "2", "0"), ZeroDivisionError("planted")])
def test_a_fault_of_our_own_gives_no_statement(
    fault: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Hazards 13 and 19: status 1, a sentence, no traceback; in place of a result the document of an error."""

    def fail(weighing: Weighing) -> None:
        raise fault

    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    monkeypatch.setattr(weigh_command, "weigh", fail)
    assert main(["weigh", str(EXAMPLE), "--json"]) == 1
    said = capsys.readouterr()
    assert json.loads(said.out)["format"] == "hingeline/error/1"
    assert "statement" not in json.loads(said.out)
    assert "Traceback" not in said.err
    assert "were written to" in said.err
