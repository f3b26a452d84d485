"""Every number that the page shows of a state is the command's for the file that the page offers."""

from __future__ import annotations

import json
import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hingeline.flutter import analyse
from hingeline_app.cli.main import main
from hingeline_app.figures.wording import format_number
from hingeline_app.why_balance.answers import CASES, SEED, motion_of, point_of, static_moment
from hingeline_app.why_balance.job_file import job_file
from hingeline_app.why_balance.presets import PRESETS, Preset
from hingeline_app.why_balance.sentences import headline, motion_sentence, range_sentence, speed_words
from hingeline_app.why_balance.state import State, start_of
from hingeline_app.why_balance.surfaces import SURFACES

each_preset = pytest.mark.parametrize("preset", PRESETS, ids=[preset.name for preset in PRESETS])


Command = Callable[..., Any]


@pytest.fixture
def by_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Command:
    """Give what runs the command on a state's own file, without its slack, which takes seconds to march."""

    def run(state: State, *options: str) -> Any:
        file = tmp_path / "model.toml"
        file.write_text(job_file(state.moved(play=0.0) if "play" in state.shown else state), encoding="utf-8")
        assert main(["flutter", str(file), "--json", *options]) == 0
        return json.loads(capsys.readouterr().out)

    return run


@each_preset
def test_the_headline_is_the_commands(preset: Preset, by_command: Command) -> None:
    """The speed in the headline, or that none was found and up to where, is what the command prints."""
    state = preset.state
    result = by_command(state)
    said = headline(state, point_of(state))
    if result["growing_at_lowest_speed"]:
        assert said == "A motion grows at every speed"
    elif result["flutter"] is None:
        highest = state.surface.model(state.settings).speeds[1]
        assert said == f"Model finds no growth up to {speed_words(state, highest)}: not proof"
    else:
        assert said == f"Growth starts at {speed_words(state, result['flutter']['speed']['value'])}"


@pytest.mark.slow
@pytest.mark.parametrize("surface", ["tailplane", "bench", "aileron"])
def test_the_band_is_the_commands_scatter(surface: str, by_command: Command) -> None:
    """Where every case has an onset the band's ends are those of the command's own scatter, draw for draw."""
    state = start_of(SURFACES[surface]).moved(weight=0.0)
    options = ("--scatter", str(CASES), "--seed", str(SEED))
    found = by_command(state, *options)["speed_distribution"]
    point = point_of(state, band=True)
    assert found["flutter_fraction"] == 1.0
    ends = (found["quantiles"]["0.025"], found["quantiles"]["0.975"])
    assert (point.low, point.high) == pytest.approx([end["value"] for end in ends], rel=1e-8)
    assert speed_words(state, ends[0]["value"], toward="down") in range_sentence(state, point)


@each_preset
def test_the_motion_is_one_of_the_commands_roots(preset: Preset) -> None:
    """Frequency and damping at the chosen speed, and the time that is said, are those of the least damped root."""
    state = preset.state
    motion = motion_of(state)
    assert motion is not None
    task = replace(state.surface.model(state.settings), scatter=(), free_play=None)
    rows = analyse(task, roots_at=[state.settings["speed"]]).roots
    assert rows is not None
    least = min(rows[0].roots, key=lambda mode: mode.damping_ratio)
    assert motion.frequency == pytest.approx(least.frequency, rel=1e-8)
    assert motion.damping_ratio == pytest.approx(least.damping_ratio, rel=1e-6, abs=1e-9)
    doubles = math.log(2.0) / abs(motion.growth_rate)
    assert format_number(doubles, 2) in motion_sentence(state, motion)


def test_the_static_moment_is_the_sum_of_the_masses_of_the_file() -> None:
    """Mass times centre of gravity less weight times arm, by hand: 10.5 kg, 126 mm, 3.5 kg, 360 mm (own arithmetic)."""
    state = start_of(SURFACES["tailplane"])
    assert static_moment(state) == pytest.approx(9.80665 * (10.5 * 0.126 - 3.5 * 0.36), rel=1e-12)
