"""``arm``: one document on standard output, a page for people that never permits anything, its refusals."""

from __future__ import annotations

import json
import re
from pathlib import Path
from random import Random
from typing import Any

import pytest

from hingeline_app.cli.main import main
from tests.doors.checkouts import ROOT
from tests.faults.mutations import IN_BYTES, IN_TEXT
from tests.faults.running import FOREIGN, Runner, refused
from tests.faults.test_mutations import fault_of, fault_of_page

FOLDER = ROOT / "examples" / "arm"
EXAMPLES = sorted(FOLDER.glob("*.toml"))
STRIPPED, ROUND, BAR, READ = (path.read_text("utf-8") for path in EXAMPLES)
STANDING = "An estimate never makes the approved interval longer."
# Words that a permission would use. "never" and "no" before them are looked at by hand.
PERMITTING = re.compile(r"\b(safe|safely|OK|okay|pass|passed|airworthy|acceptable|released?)\b", re.IGNORECASE)

CONTRACT = """
format = "hingeline/arm/1"

[tube]
outside_diameter = "25.4 mm"
wall = "2.11 mm"
length = "310 mm"
modulus = "68.3 GPa"
density = "2713 kg/m^3"
yield = "241 MPa"
ultimate = "290 MPa"

[loss]
where = "local"
depth = "0.30 mm"
half_angle = "22 deg"

[weight]
mass = "0.95 kg"
beyond_tip = "0 mm"

[loads]
normal = 24
fore_and_aft = 12
along_hinge = 12
are = "limit"

[oscillation]
frequency = "9 Hz"
damping_ratio = 0.0

[crack]
geometry = "constant"
geometry_factor = 1.12
initial = "1.27 mm"
final = "4.4 mm"
stress_range = "85 MPa"
largest_stress = "120 MPa"
toughness = "34 MPa m^0.5"
growth_constant = 1.42e-11
growth_exponent = 3.59
cycles_per_hour = 40
factor = 3
approved_interval = "100 h"
"""

# what is replaced, by what, and the field and words that must come back
BROKEN = {
    "another format": ("arm/1", "swing/1", "format", "hingeline swing"),
    "a newer version": ("arm/1", "arm/2", "format", "newer version"),
    "no tube": (CONTRACT[CONTRACT.index("[tube]") : CONTRACT.index("[loss]")], "", "tube", "[bar] for a solid one"),
    "no weight": ('[weight]\nmass = "0.95 kg"\nbeyond_tip = "0 mm"\n', "", "weight", "a value for this field"),
    "no yield": ('yield = "241 MPa"\n', "", "tube.yield", "a value for this field"),
    "a bare wall": ('"2.11 mm"', "2.11", "tube.wall", "a length"),
    "a wall in kilograms": ('"2.11 mm"', '"2.11 kg"', "tube.wall", "a length"),
    "a wall of nan": ('"2.11 mm"', '"nan mm"', "tube.wall", "a number such as"),
    "a grouped number": ('"310 mm"', '"0_310 mm"', "tube.length", "a number such as"),
    "a negative wall": ('"2.11 mm"', '"-2.11 mm"', "tube.wall", "a wall from 0.01 mm"),
    "a wall of the radius": ('"2.11 mm"', '"12.7 mm"', "tube.wall", "less than half the outside diameter"),
    "a loss of more than the wall": ('"0.30 mm"', '"3.0 mm"', "loss.depth", "less than the wall"),
    "a strange place of loss": ('"local"', '"somewhere"', "loss.where", "'outside', 'inside' or 'local'"),
    "yield above ultimate": ('"241 MPa"', '"341 MPa"', "tube.yield", "swapped"),
    "final before initial": ('"4.4 mm"', '"1.0 mm"', "crack.final", "does not shrink"),
    "a toughness in megapascals": ('"34 MPa m^0.5"', '"34 MPa"', "crack.toughness", "a fracture toughness"),
    "a growth constant in quotes": ("1.42e-11", '"1.42e-11"', "crack.growth_constant", "a bare number"),
    "a growth constant with a unit": ("1.42e-11", '"1.42e-11 m"', "crack.growth_constant", "a bare number"),
    "an interval in metres": ('"100 h"', '"100 m"', "crack.approved_interval", "a time"),
    "a bare interval": ('"100 h"', "100", "crack.approved_interval", "a time"),
    "an unknown field": ("largest_stress", "biggest_stress", "crack.biggest_stress", "a field of this table"),
    "an unknown table": ("[oscillation]", "[oscilation]", "oscilation", 'Did you mean "oscillation"?'),
    "a load factor with a unit": ("normal = 24", 'normal = "24 g"', "loads.normal", "a bare number"),
    "loads of a third kind": ('are = "limit"', 'are = "proof"', "loads.are", "'limit' or 'ultimate'"),
    "another geometry": ('"constant"', '"corner"', "crack.geometry", "'surface' or 'tube through'"),
    "coverage and k": ("[weight]", "[uncertainty]\ncoverage = 0.95\nk = 2\n[weight]", "uncertainty.k", "either"),
}


def document_of(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    """Run with --json; it must exit with 0."""
    assert main(["arm", *arguments, "--json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


def test_the_example_of_the_contract_gives_what_it_promises(runner: Runner) -> None:
    """Every field by its name, in SI, and the interval is the approved one."""
    found = runner.on(CONTRACT, "arm", "--json").document
    assert found["format"] == "hingeline/arm-result/1"
    assert {"area", "second_moment", "section_modulus", "ratio_to_sound"} <= set(found["section"])
    assert [case["direction"] for case in found["loads"]] == ["normal", "fore and aft", "along hinge"]
    assert {"factor", "moment", "stress", "margin_yield", "margin_ultimate"} <= set(found["loads"][0])
    assert found["natural_frequency"]["unit"] == found["natural_frequency"]["rayleigh"]["unit"] == "Hz"
    assert set(found["effectiveness"]) >= {"magnitude", "phase"}
    crack = found["crack"]
    assert crack["governed_by"] == "plastic collapse"
    assert crack["interval_shown"] == {"value": 360000.0, "unit": "s"}
    assert found["cautions"][0] == STANDING
    # Worked apart by closed forms: a ring less a piece of one about its new centroid, bent by weight and what is
    # left of the tube at 24 g; the clamped beam with a point mass at its end; Paris's integral with a constant factor.
    assert found["loads"][0]["stress"]["value"] == pytest.approx(92.409e6, rel=1e-5)
    assert found["natural_frequency"]["value"] == pytest.approx(42.3968, rel=1e-5)
    assert crack["cycles"] == pytest.approx(112675.9, rel=1e-6)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_standing_caution_is_wherever_it_answers(
    path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """In JSON, on the page, and in the picture with its words; each says estimate too."""
    plot = tmp_path / "arm.svg"
    document = document_of(capsys, str(path), "--plot", str(plot))
    assert document["cautions"][0] == STANDING
    assert document["basis"] == "estimate"
    assert main(["arm", str(path)]) == 0
    said = " ".join(capsys.readouterr().out.replace("│", " ").split())
    assert STANDING in said
    drawn = " ".join(re.findall(r"<text[^>]*>([^<]*)", plot.read_text("utf-8")))
    assert re.search(r"An estimate never makes (the approved interval|one|the approved one) longer\.", drawn)
    for words in (said, drawn):
        assert "stimate" in words
        assert [found[0] for found in PERMITTING.finditer(words) if "never" not in words[: found.start()][-30:]] == []


def test_a_longer_life_changes_nothing_and_a_shorter_one_is_said_first(runner: Runner) -> None:
    """The cycles of the contract's crack flown in a hundred times the time, and in a hundredth."""
    slow = runner.on(CONTRACT.replace("cycles_per_hour = 40", "cycles_per_hour = 0.4"), "arm", "--json").document
    fast = runner.on(CONTRACT.replace("cycles_per_hour = 40", "cycles_per_hour = 4000"), "arm")
    assert slow["crack"]["interval_shown"]["value"] == 360000.0
    assert slow["crack"]["shorter_than_approved"] is False
    first = " ".join(fast.out.split("\n\n")[1].split())
    assert first.startswith("By this estimate growth takes 9.389 h, less than the approved 100.0 h: ask the design")


def test_without_an_approved_interval_none_is_shown(runner: Runner) -> None:
    """Null in JSON, and the page says that this program makes none: no life in hours stands anywhere."""
    text = CONTRACT.replace('approved_interval = "100 h"\n', "")
    found = runner.on(text, "arm", "--json").document["crack"]
    assert found["interval_shown"] is None
    assert found["shorter_than_approved"] is None
    page = runner.on(text, "arm").out
    assert "this program makes none" in " ".join(page.split())
    assert not re.search(r"\d\s?h\b", page.replace("\u00a0", " "))


def test_a_stress_below_the_limit_load_s_is_cautioned(runner: Runner) -> None:
    """60 MPa where the limit load makes 92: a smaller crack is critical under it, and a caution says so."""
    text = CONTRACT.replace('"120 MPa"', '"60 MPa"')
    cautions = runner.on(text, "arm", "--json").document["cautions"]
    assert any("60 MPa, is less than the limit load's by this estimate, 92.41 MPa" in one for one in cautions)
    assert not any("limit load's" in one for one in runner.on(CONTRACT, "arm", "--json").document["cautions"])


def test_a_weight_above_its_own_frequency_is_cautioned(runner: Runner) -> None:
    """At 60 Hz on an arm of 42 Hz the weight acts the other way: half a turn behind, on the page in words."""
    text = CONTRACT.replace('"9 Hz"', '"60 Hz"')
    found = runner.on(text, "arm", "--json").document
    assert abs(found["effectiveness"]["phase"]["value"]) == pytest.approx(3.14159265, abs=1e-6)
    assert any("feeds the motion" in one for one in found["cautions"])
    assert "it feeds the motion" in " ".join(runner.on(text, "arm").out.split())


def test_negative_margins_and_a_thin_wall_are_cautioned(runner: Runner) -> None:
    """A heavier weight leaves less than nothing; a wall below the approved one goes by the approved data."""
    text = STRIPPED.replace('"0.600 kg"', '"0.900 kg"').replace('wall = "1.20 mm"', 'wall = "1.35 mm"')
    found = runner.on(text, "arm", "--json").document
    assert found["loads"][0]["margin_yield"] < 0.0
    assert found["wall"]["statement_simple"] == "outside"
    said = " ".join(found["cautions"])
    assert "leaves less than nothing" in said
    assert "below the smallest that the approved data allows" in said


def test_a_crack_that_is_critical_at_the_start_leaves_no_interval(runner: Runner) -> None:
    """14 mm where 13.9 mm is critical: no cycles, an interval of nothing, and a caution."""
    text = CONTRACT.replace('"1.27 mm"', '"14 mm"').replace('final = "4.4 mm"\n', "")
    found = runner.on(text, "arm", "--json").document
    assert found["crack"]["cycles"] == 0.0
    assert found["crack"]["interval_shown"]["value"] == 0.0
    assert any("critical already" in one for one in found["cautions"])


def test_what_rests_on_memory_is_marked(capsys: pytest.CaptureFixture[str]) -> None:
    """The factor of a through crack, the guide, the fitting factor and the planning sizes say where they are from."""
    document = document_of(capsys, str(EXAMPLES[1]))
    memory = [note for note in document["notes"] if note.startswith("From memory")]
    for words in ("Zahoor", "Report 45", "23.625", "single load path", "factor of 2"):
        assert any(words in note for note in memory), words
    assert document["frequency_guide"]["provenance"].startswith("from memory")
    stripped = document_of(capsys, str(EXAMPLES[0]))
    assert stripped["crack"]["detection"]["planning_provenance"] == "from memory"


def test_the_method_s_planning_size_starts_the_count(runner: Runner) -> None:
    """With 1 mm at the start and a penetrant planned for 2.5 mm the cycles to find it in are those from 2.5 mm."""
    text = STRIPPED.replace("geometry_factor = 1.12", 'geometry_factor = 1.12\ninitial = "1.0 mm"', 1)
    with_start = runner.on(text, "arm", "--json").document["crack"]
    by_method = runner.on(STRIPPED, "arm", "--json").document["crack"]
    assert by_method["initial_size"]["value"] == 0.0025
    left = with_start["detection"]["cycles_from_planning_size"]
    assert left == pytest.approx(by_method["cycles"], rel=2e-3)
    assert left < with_start["cycles"]
    faster = text.replace("cycles_per_hour = 250", "cycles_per_hour = 5000")
    shown = runner.on(faster, "arm", "--json").document["crack"]
    assert shown["interval_shown"]["value"] == pytest.approx(left / 3.0 / 5000.0 * 3600.0, rel=1e-9)


def test_uncertainty_is_given_where_it_is_stated_and_not_invented(runner: Runner) -> None:
    """Without any, there is no ±, and a note; with the wall's, stress and margins have theirs."""
    bare = runner.on(CONTRACT, "arm", "--json").document
    assert bare["loads"][0]["stress"]["expanded_uncertainty"] is None
    assert bare["budget"] == []
    assert any(note.startswith("No uncertainty is stated") for note in bare["notes"])
    text = CONTRACT.replace('wall = "2.11 mm"', 'wall = {value = "2.11 mm", standard = "0.03 mm"}')
    found = runner.on(text, "arm", "--json").document
    stress = found["loads"][0]["stress"]
    assert stress["standard_uncertainty"] == pytest.approx(0.9699e6, rel=1e-3)
    assert found["loads"][0]["margin_yield_uncertainty"] > 0.0
    assert [row["source"] for row in found["budget"]] == ["wall"]


def test_draws_come_again_by_their_seed(capsys: pytest.CaptureFixture[str]) -> None:
    """--scatter with --seed gives the same document; another seed another one."""
    first, again = (document_of(capsys, str(EXAMPLES[1]), "--scatter", "500", "--seed", "4") for _ in range(2))
    other = document_of(capsys, str(EXAMPLES[1]), "--scatter", "500", "--seed", "5")
    assert first["crack"] == again["crack"]
    assert first["crack"]["distribution"] != other["crack"]["distribution"]
    assert first["crack"]["distribution"]["varied"] == ["growth_constant", "stress_range", "half_angle", "toughness"]


@pytest.mark.parametrize("name", BROKEN)
def test_bad_input_is_refused_with_field_and_remedy(name: str, runner: Runner) -> None:
    """Exit status 2, the field, and what would do; no word of the packages behind it."""
    old, new, field, words = BROKEN[name]
    assert old in CONTRACT
    answer = runner.on(CONTRACT.replace(old, new, 1), "arm", "--json")
    errors = {error["field"]: error for error in refused(answer)}
    assert field in errors
    said = f"{errors[field]['expected']} {errors[field]['remedy']}".replace('"', "'")
    assert words.replace('"', "'") in said
    assert not [word for word in FOREIGN if word in answer.err]


@pytest.mark.parametrize("options", [["--scatter", "10"], ["--seed", "-1", "--scatter", "500"], ["--paper", "a5"]])
def test_bad_options_are_refused(options: list[str], runner: Runner) -> None:
    """Too few draws, a negative seed, another paper: status 2."""
    assert runner.on(CONTRACT, "arm", *options).status == 2


def test_a_picture_that_cannot_be_written_is_refused(runner: Runner, tmp_path: Path) -> None:
    """A folder that is not there: status 2, and the option is named."""
    answer = runner.on(CONTRACT, "arm", "--json", "--plot", str(tmp_path / "none" / "arm.svg"))
    assert answer.status == 2
    assert answer.errors[0]["field"] == "--picture"


@pytest.mark.slow
def test_a_sheet_replays_to_the_last_digit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The sheet carries its input, and replay gives the same; draws stay on the page, and that is said."""
    for number, options in ((0, []), (1, ["--scatter", "200"]), (2, [])):
        out = tmp_path / f"{number}.pdf"
        assert main(["arm", str(EXAMPLES[number]), "--pdf", str(out), *options]) == 0
        said = capsys.readouterr().err
        assert ("The draws stand on the page" in said) is bool(options)
        assert main(["replay", str(out), "--json"]) == 0
        replayed = json.loads(capsys.readouterr().out)
        assert replayed["same"] is True
        assert replayed["check_sum_holds"] is True
        assert STANDING in replayed["cautions"]


@pytest.mark.parametrize("shard", [0, pytest.param(1, marks=pytest.mark.slow), pytest.param(2, marks=pytest.mark.slow)])
def test_a_spoiled_file_is_refused_or_gives_finite_numbers(shard: int, runner: Runner) -> None:
    """Each of a few hundred spoiled arm files exits with 0 or 2, with one strict document; some as a page too."""
    faults, accepted = [], 0
    for seed in range(300 * shard, 300 * (shard + 1)):
        random = Random(seed)
        text = random.choice((STRIPPED, ROUND, BAR, CONTRACT))
        for _ in range(random.choice((1, 1, 2))):
            text = random.choice(IN_TEXT)(random, text)
        data = text.encode("utf-8", "surrogatepass")
        if random.random() < 0.1:
            data = random.choice(IN_BYTES)(random, data)
        path = runner.file(data)
        answer = runner.command("arm", path, "--json")
        accepted += answer.status == 0
        fault = fault_of(answer) or (fault_of_page(runner.command("arm", path), data) if seed % 10 == 0 else "")
        if fault:
            faults.append(f"seed {seed}: {fault}")
    assert not faults, "\n".join(faults)
    assert 15 < accepted < 250


def test_the_page_has_each_place_of_the_gauge_and_says_which_counts(capsys: pytest.CaptureFixture[str]) -> None:
    """Six rows with wall and loss, each with its ±; the JSON has the same six."""
    assert main(["arm", str(EXAMPLES[3])]) == 0
    page = capsys.readouterr().out
    assert "Wall readings, each with the gauge's ± (the lowest counts)" in page
    row = next(line for line in page.splitlines() if "root, below" in line)
    assert "1.290 ± 0.039" in row
    assert "0.210 ± 0.039" in row
    assert "counts" in row
    assert [each["counts"] for each in document_of(capsys, str(EXAMPLES[3]))["readings"]].count(True) == 1
    assert "[[loss.reading]]" in READ
