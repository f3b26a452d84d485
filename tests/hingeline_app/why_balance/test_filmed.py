"""A filmed series beside the computed damping: each drawn as what it is, compared in words, nothing laid through."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from hingeline.flutter.marching import rates_of
from hingeline_app.demo.bench_trials import KNOCKS, SPEED, rig, trial
from hingeline_app.evidence.answer import answer_of_file
from hingeline_app.evidence.asked import Asked
from hingeline_app.why_balance.answers import damping_over_speed, least_damping
from hingeline_app.why_balance.filmed import Filmed, beside, recorded_points
from hingeline_app.why_balance.pictures import section_picture
from hingeline_app.why_balance.presets import PRESETS
from hingeline_app.why_balance.state import start_of
from hingeline_app.why_balance.surfaces import SURFACES
from tests.hingeline_app.why_balance.test_why_balance import COMFORT

BENCH = start_of(SURFACES["bench"])


def recorded(mass: float, damping: float | None, half: float = 0.004) -> dict[str, Any]:
    """Give one recording of a series as its document has it."""
    ratio = None if damping is None else {"value": damping, "low": damping - half, "high": damping + half}
    statement = "growing" if damping is not None and damping < 0.0 else "dying out"
    seen = {"statement": statement, "frequency": {"value": 6.0}, "damping_ratio": ratio}
    return {"at": mass, "seen": [seen]}


def series(*points: dict[str, Any]) -> Filmed:
    return Filmed("series 3, D-EFHM, worked out by Jon on 2027-03-12", {"points": list(points)})


def test_the_line_is_the_damping_of_the_model() -> None:
    """The line is the damping over speed that the page tabulates, at the same place."""
    state = BENCH.moved(weight=20.0, speed=14.0)
    speeds = damping_over_speed(state)
    near = min(speeds, key=lambda each: abs(each[0] - 14.0))
    assert least_damping(replace(state, shown={**state.shown, "speed": near[0]})) == pytest.approx(near[1], abs=1e-12)
    # flutter-extensions, section 7, by our own computation in another program: viscous damping, so only nearly.
    assert least_damping(state) == pytest.approx(-0.0085, abs=0.008)


def test_simulated_trials_show_what_the_simulated_rig_does() -> None:
    """Read as recordings are, the demonstration's trials say growing where the rig's own root grows, and no other does.

    The damping read from a trial lies within a fifth, and 0.002 beside it, of that root's.
    """
    said = {}
    for seed, mass in enumerate(KNOCKS, 21):
        document = answer_of_file(trial(mass, seed), Asked(), f"bench-{mass}-g.csv").document
        roots = [each for each in np.linalg.eigvals(rates_of(rig(mass), SPEED)) if each.imag > 1.0]
        damping = min(-each.real / abs(each) for each in roots)
        said[mass] = document["statement"]
        if document["damping_ratio"] is not None:
            assert document["damping_ratio"]["value"] == pytest.approx(damping, rel=0.2, abs=0.002), mass
        assert (document["statement"] == "growing") == (damping < 0.0), mass
    assert {mass for mass, word in said.items() if word == "growing"} == {20, 30}


def test_points_stand_at_their_mass_with_their_interval() -> None:
    """A mass in kilograms stands in grams; what states no damping is kept without one; what grows is marked."""
    points = list(recorded_points(series(recorded(0.03, -0.01), recorded(0.06, None)).document, 1e-3))
    assert [point.at for point in points] == pytest.approx([30.0, 60.0])
    assert (points[0].low, points[0].high, points[0].grows) == (-0.014, -0.006, True)
    assert (points[1].damping, points[1].grows) == (None, False)


@pytest.mark.slow
def test_how_they_lie_is_said_row_by_row() -> None:
    """Computed within, above and below an interval, and not compared: each is said, and counted in the finding."""
    masses = (0.0, 0.04, 0.06)
    computed = [least_damping(BENCH.moved(weight=1000.0 * mass)) for mass in masses]
    assert None not in computed
    within, above, below = (float(each or 0.0) + shift for each, shift in zip(computed, (0, -0.1, 0.1), strict=True))
    rows = [recorded(mass, each) for mass, each in zip(masses, (within, above, below), strict=True)]
    found = beside(BENCH, series(*rows, recorded(0.08, None)))
    assert [row[3].replace("computed lies ", "").split(" the")[0] for row in found.rows] == [
        "within", "above", "below", "not compared",
    ]  # fmt: skip
    assert "Of 4 recordings, 3 can be compared: computed lies within the interval of 1." in found.finding


@pytest.mark.slow
def test_line_and_points_are_named_as_what_they_are() -> None:
    """The line is dashed and called computed and estimate; the points are called recorded, with their series."""
    found = beside(BENCH, series(recorded(0.03, -0.01)))
    for svg in (found.wide, found.narrow):
        words = " ".join(re.findall(r"<text[^>]*>([^<]*)<", svg))
        assert "computed by the model at 14.0" in words
        assert "Estimate" in words
        assert "recorded: series 3" in words
        assert 'class="computed"' in svg
        assert COMFORT.findall(words) == []
    alone = beside(BENCH, None)
    assert "No recording is drawn." in alone.finding
    assert "recorded:" not in alone.wide


def test_slack_is_drawn_where_there_is_some() -> None:
    """The picture of a slack circuit shows the slack and by how much it is drawn larger; without slack nothing."""
    preset = next(each for each in PRESETS if each.name == "circuit-slack")
    assert "free play ±0.5°, drawn 10 times" in section_picture(preset.state, None)
    assert "free play" not in section_picture(preset.state.moved(play=0.0), None)


def test_the_weight_is_drawn_where_there_is_one() -> None:
    """The sign of a balance weight is named under the section as long as there is one."""
    start = start_of(SURFACES["tailplane"])
    assert "balance weight" in section_picture(start, None)
    assert "balance weight" not in section_picture(start.moved(weight=0.0), None)


def test_a_recorded_damping_is_written_as_finely_as_its_interval_is_known() -> None:
    """± 4 % damping is not written to hundredths of a per cent; what is computed keeps its two places."""
    rows = beside(BENCH, series(recorded(0.03, -0.0123, 0.04), recorded(0.06, 0.0123, 0.00041))).rows
    assert [each[1].replace("\u00a0", " ") for each in rows] == [
        "−1.2 % (−5.3 % … 2.8 %)", "1.230 % (1.189 % … 1.271 %)",
    ]  # fmt: skip
