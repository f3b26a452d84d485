"""Each numbered example runs, and teaches what its heading says."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from hingeline_app.cli.main import COMMANDS, main
from tests.doors.checkouts import ROOT

EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
WEIGHINGS = [path for path in EXAMPLES if 'format = "hingeline/weighing/1"' in path.read_text("utf-8")]
SHOWN = re.compile(r"^#     \./hingeline (\w+) examples/(\S+)$", re.M)


def run(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    """Run a command with --json; it must exit with 0 and say nothing on standard error."""
    assert main([*arguments, "--json"]) == 0
    out, errors = capsys.readouterr()
    assert errors == ""
    document: dict[str, Any] = json.loads(out)
    return document


def weighed(capsys: pytest.CaptureFixture[str], number: str) -> dict[str, Any]:
    """Weigh the example of that number."""
    (path,) = [path for path in EXAMPLES if path.name.startswith(number)]
    return run(capsys, "weigh", str(path))


def newton_metres(document: dict[str, Any]) -> tuple[float, str]:
    """Give the static moment and its sense."""
    moment = document["static_moment"]
    return moment["value"], moment["sense"]


def test_examples_are_numbered_without_a_gap() -> None:
    """The examples are numbered from 01 on."""
    assert [path.name[:2] for path in EXAMPLES] == [f"{number:02d}" for number in range(1, len(EXAMPLES) + 1)]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_opens_with_prose_and_its_command(path: Path) -> None:
    """Each file begins with a comment that names the example and the command that runs it."""
    heading = [line for line in path.read_text("utf-8").split("\nformat", 1)[0].splitlines() if line]
    assert all(line.startswith("#") for line in heading)
    assert heading[0].startswith(f"# Example {int(path.name[:2])}: ")
    shown = SHOWN.findall("\n".join(heading))
    assert path.name in {name for _, name in shown}
    assert {command for command, _ in shown} <= set(COMMANDS)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_names_only_the_invented_aeroplane(path: Path) -> None:
    """The source of every limit is an invented data sheet of the Merle T2, and says so."""
    text = path.read_text("utf-8")
    sources = re.findall(r'^source = "(.*)"', text, re.M)
    assert sources or "[limits]" not in text
    assert "Merle T2" in text
    assert all(source.startswith("Merle T2 data sheet") and source.endswith("(invented)") for source in sources)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_page_of_an_example_is_shown(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without --json each example gives a page with its caution, and exit 0."""
    commands = [command for command, name in SHOWN.findall(path.read_text("utf-8")) if name == path.name]
    assert main([commands[0], str(path)]) == 0
    page, errors = capsys.readouterr()
    assert "Caution" in page
    assert errors == ""


@pytest.mark.parametrize("path", WEIGHINGS, ids=lambda path: path.stem)
def test_an_example_is_computed_from_its_typed_text(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Both routes of every example start from the letters in the file."""
    assert run(capsys, "weigh", str(path))["comparison"]["second_route"] == "from the typed text"


def test_01_a_little_beyond_is_outside_by_the_simple_rule_only(capsys: pytest.CaptureFixture[str]) -> None:
    """The elevator half is 0.006 N m beyond its limit: outside; with its uncertainty, too close to tell."""
    document = weighed(capsys, "01")
    assert newton_metres(document) == (pytest.approx(2.1056, abs=5e-5), "tail-heavy")
    assert document["margin"]["value"] == pytest.approx(-0.0056, abs=5e-5)
    assert [document[name] for name in ("statement", "statement_simple", "statement_guarded")] == [
        "outside",
        "outside",
        "too close to tell",
    ]


def test_02_a_hook_that_pulls_aft_makes_nose_heavy(capsys: pytest.CaptureFixture[str]) -> None:
    """128 g at 395 mm on a hook is 5.056 kg cm nose-heavy: inside limits given in words, by the guarded rule."""
    document = weighed(capsys, "02")
    assert newton_metres(document) == (pytest.approx(-0.05056 * 9.8123, rel=1e-12), "nose-heavy")
    assert [document["limits"][end]["sense"] for end in ("lower", "upper")] == ["nose-heavy", "nose-heavy"]
    assert document["statement"] == document["statement_guarded"] == "inside"
    assert document["reading_window"]["rises_with_moment"] is False


def test_02_local_gravity_cancels_between_grams_and_kg_cm(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The same file with another gravity has the same margin in kg cm, and the same reading window."""
    (path,) = [path for path in EXAMPLES if path.name.startswith("02")]
    elsewhere = tmp_path / "elsewhere.toml"
    elsewhere.write_text(path.read_text("utf-8").replace("9.8123", "9.7803"), "utf-8")
    here, there = weighed(capsys, "02"), run(capsys, "weigh", str(elsewhere))
    assert here["margin"]["value"] / 9.8123 == pytest.approx(there["margin"]["value"] / 9.7803, rel=1e-12)
    for end in ("at_lower", "at_upper"):
        window = here["reading_window"][end]["value"], there["reading_window"][end]["value"]
        assert window[0] == pytest.approx(window[1], rel=1e-12)


def test_03_a_beam_needs_no_scale(capsys: pytest.CaptureFixture[str]) -> None:
    """0.5 lb at 6.2 in ahead less 0.02 lb at 5 in behind is 3.0 in-lb tail-heavy: inside; the arm leads the budget."""
    document = weighed(capsys, "03")
    assert newton_metres(document) == (pytest.approx(3.0 * 0.1129848290276167, rel=1e-12), "tail-heavy")
    assert document["supports"] == []
    assert document["statement"] == "inside"
    assert document["budget"][0]["source"] == "arm of hung mass 1"
    assert document["reading_window"] is None


def test_04_a_pair_shows_the_friction(capsys: pytest.CaptureFixture[str]) -> None:
    """Half of the difference at 255 mm is 0.045 N m of friction, within 2.5 % of 2.10 N m; it is not counted again."""
    document = weighed(capsys, "04")
    friction = document["friction_moment"]
    assert friction["value"] == pytest.approx(0.255 * (7.125 - 6.775) / 2.0, rel=1e-12)
    assert friction["allowed"]["value"] == pytest.approx(0.0525, rel=1e-12)
    assert friction["within"] is True
    assert document["statement_simple"] == document["statement_guarded"] == "inside"
    assert not [row for row in document["budget"] if "friction" in row["source"]]


def test_05_one_scale_has_one_calibration_error(capsys: pytest.CaptureFixture[str]) -> None:
    """Two supports share one line of calibration, larger than either's; the missing rod adds, the tape takes away."""
    document = weighed(capsys, "05")
    (calibration,) = [row for row in document["budget"] if row["source"] == "scale calibration"]
    assert calibration["contribution"] == pytest.approx(2 * 0.0015 * 9.80665 * 0.24, rel=1e-12)
    terms = {term["name"]: term["moment"]["sense"] for term in document["terms"]}
    assert terms["tab pushrod, not fitted"] == "tail-heavy"
    assert terms["masking tape, fitted, not counted"] == "nose-heavy"
    assert document["statement"] == "inside"


def test_06_the_worse_statement_leads(capsys: pytest.CaptureFixture[str]) -> None:
    """The mass chooses the second band; the moment is inside by both rules, the mass too close to the band's end."""
    document = weighed(capsys, "06")
    assert document["limits"]["upper"]["value"] == pytest.approx(2.0, rel=1e-12)
    guarded = {each["of"]: each["statement_guarded"] for each in document["statements"]}
    assert guarded == {"static moment": "inside", "mass": "too close to tell"}
    assert document["statement"] == "too close to tell"
    assert document["statement_simple"] == "inside"


def test_07_a_row_contradicts_itself(capsys: pytest.CaptureFixture[str]) -> None:
    """One row contradicts itself at both ends, one differs a little, one raises a doubt, two are in order."""
    (path,) = [path for path in EXAMPLES if path.name.startswith("07")]
    rows = run(capsys, "limits", str(path))["rows"]
    found = [tuple(len(row[kind]) for kind in ("contradictions", "small_differences", "doubts")) for row in rows]
    assert found == [(2, 0, 0), (0, 0, 0), (0, 1, 0), (0, 0, 1), (0, 0, 0)]
    assert rows[0]["contradictions"][0]["difference_percent"] == pytest.approx(86.0, abs=0.05)
    assert rows[2]["upper"]["sense"] == "nose-heavy"
    assert rows[4]["lower"] is None


def test_08_planning_says_what_would_settle_it(capsys: pytest.CaptureFixture[str]) -> None:
    """Inside by the simple rule, too close by the guarded: two more readings, or a steadier lift, would settle it."""
    document = weighed(capsys, "08")
    assert document["statement_simple"] == "inside"
    assert document["statement"] == "too close to tell"
    planning = document["planning"]
    assert planning["more_readings"] == 2
    assert planning["improvements"][0]["source"] == "readings"
    assert [each["source"] for each in planning["improvements"] if each["needed"]] == ["readings"]


def test_08_before_the_work_the_window_is_shown(capsys: pytest.CaptureFixture[str]) -> None:
    """With --before the scale may show 20 to 238 g, and guarded less."""
    (path,) = [path for path in EXAMPLES if path.name.startswith("08")]
    window = run(capsys, "weigh", str(path), "--before")["reading_window"]
    assert window["at_lower"] == {"value": pytest.approx(20.0), "unit": "g"}
    assert window["at_upper"] == {"value": pytest.approx(238.67, abs=0.005), "unit": "g"}
    assert window["at_lower"]["value"] < window["at_guarded_lower"]["value"]
    assert window["at_guarded_upper"]["value"] < window["at_upper"]["value"]


def example(number: str) -> str:
    """Give the path of the example of that number."""
    (path,) = [path for path in EXAMPLES if path.name.startswith(number)]
    return str(path)


def test_12_another_coat_stays_inside(capsys: pytest.CaptureFixture[str]) -> None:
    """Primer and topcoat add 104.64 g and 0.0616 N m: predicted 0.3456 N m, inside, with 75 g left at that arm."""
    document = run(capsys, "coating", example("12"))
    assert document["mass_change"]["value"] == pytest.approx(2 * 0.327 * (0.065 + 0.095), rel=1e-12)
    assert document["moment_after"]["value"] == pytest.approx(0.284 + 0.10464 * 9.80665 * 0.060, rel=1e-12)
    assert document["moment_after"]["coverage_factor"] == 2.0
    assert document["predicted_statement_simple"] == document["predicted_statement_guarded"] == "inside"
    (surface,) = document["surfaces"]
    left = [layer["can_still_take"]["mass"]["value"] for layer in surface["layers"]]
    assert left == [pytest.approx((0.39 - 0.34557007) / (9.80665 * 0.060), rel=1e-6)] * 2


def test_13_each_half_has_its_own_numbers(capsys: pytest.CaptureFixture[str]) -> None:
    """The left half comes inside by less than U, the right one clearly; nothing is said of both together."""
    document = run(capsys, "coating", example("13"))
    left, right = document["surfaces"]
    assert document["moment_after"] is None
    assert (left["predicted_statement_simple"], left["predicted_statement_guarded"]) == ("inside", "too close to tell")
    assert right["predicted_statement_guarded"] == "inside"
    assert left["layers"][0]["mass"]["value"] == pytest.approx(-4 * 0.41 * 0.110)
    assert left["layers"][0]["can_still_take"] is None


def test_14_the_mass_moment_leads_the_uncertainty(capsys: pytest.CaptureFixture[str]) -> None:
    """The inertia is 0.0204 kg m2; most of its U comes from the mass moment of the nearly balanced rudder."""
    document = run(capsys, "swing", example("14"))
    assert document["inertia"]["value"] == pytest.approx(0.0204, abs=5e-5)
    assert document["budget"][0]["source"] == "mass moment of the surface"
    assert document["budget"][0]["share"] > 0.5


def test_15_one_static_balance_and_three_dynamic_ones(capsys: pytest.CaptureFixture[str]) -> None:
    """At each place the aileron balances on the bench; K/I falls from 3.05 through 0.09 to -2.87."""
    document = run(capsys, "dynamic", example("15"))
    assert {place["static_moment"]["sense"] for place in document["places"]} == {"balanced"}
    coefficients = [place["dynamic_coefficient"] for place in document["places"]]
    assert coefficients == [pytest.approx(value, abs=0.005) for value in (3.05, 0.09, -2.87)]


def test_at_the_stick_an_elevator_pulls_and_a_lost_weight_pulls_as_much_again(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """16: 6 N of pull in level flight, three times that at 3 g; the weight gone doubles it; the tab moves most slow."""
    document = run(capsys, "stick", example("16"))
    level, pull_up, _ = (load["stick_force"]["value"] for load in document["loads"])
    assert round(level) == 6
    assert pull_up / level == pytest.approx(3.0, abs=0.1)
    assert document["lost"]["stick_force"]["value"] == pytest.approx(level, rel=0.01)
    angles = [each["tab_angle"]["value"] for each in document["trimmed"]]
    assert angles == sorted(angles, reverse=True)
