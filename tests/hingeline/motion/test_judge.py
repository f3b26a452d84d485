"""The statement on examples, on other people's times and channels, and what is refused."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.motion import MotionResult, Recording, TimeScale, judge, modes_by_tap, recording_of
from hingeline_app.files.recordings import read_recording

EXAMPLES = Path(__file__).parents[3] / "examples" / "motion"
SAID = {
    "01-knock-in-the-wind": "dying out",
    "02-in-turbulence": "irregular",
    "03-steady": "sustained",
    "04-growing": "growing",
    "05-play-in-turbulence": "sustained",
    "06-tap-on-the-ground": "dying out",
}


def example(name: str) -> Recording:
    """Read an example as the command does."""
    return read_recording((EXAMPLES / f"{name}.csv").read_bytes(), name=name)


def decay(length: float = 6.0, rate: float = 100.0, frequency: float = 5.0, damping: float = 0.02) -> Any:
    """Give times and a clean decay with a little noise."""
    times = np.arange(int(length * rate)) / rate
    turning = 2.0 * math.pi * frequency
    swing = 0.01 * np.exp(-damping * turning * times) * np.cos(turning * math.sqrt(1.0 - damping**2) * times)
    return times, swing + 1e-5 * np.random.default_rng(3).standard_normal(len(times))


@pytest.mark.parametrize(("name", "statement"), SAID.items())
def test_each_example_gets_its_statement(name: str, statement: str) -> None:
    """The examples, simulated with a known truth, are called what they are."""
    assert judge(example(name)).statement == statement


@pytest.mark.parametrize("name", SAID)
def test_a_result_reads_back_from_its_document(name: str) -> None:
    """Through JSON it is the same record, without NaN."""
    result = judge(example(name))
    text = json.dumps(to_document(result), allow_nan=False)

    assert from_document(json.loads(text), MotionResult) == result


def test_the_same_recording_gives_the_same_answer() -> None:
    """Surrogates are drawn from a fixed seed."""
    assert judge(example("02-in-turbulence")) == judge(example("02-in-turbulence"))


def test_a_decay_gives_its_frequency_and_damping() -> None:
    """5 Hz and 0.02 of critical, simulated, come out within their intervals, which are narrow."""
    times, swing = decay()
    result = judge(recording_of(times, {"plunge": swing}))

    assert result.statement == "dying out"
    for interval, truth in (
        (result.frequency, 5.0 * math.sqrt(1.0 - 0.02**2)),
        (result.damping_ratio, 0.02),
        (result.growth_rate, -0.02 * 2.0 * math.pi * 5.0),
    ):
        assert interval is not None
        assert interval.low is not None
        assert interval.high is not None
        assert interval.low <= truth <= interval.high
        assert interval.high - interval.low < 0.01 * abs(truth)


def test_two_ways_to_a_growth_rate_stand_beside_each_other() -> None:
    """The fit and the envelope's line are both in the evidence, and agree on a clean decay."""
    times, swing = decay()
    result = judge(recording_of(times, {"plunge": swing}))
    ways = [each.value for each in result.evidence if each.measure.startswith("growth rate")]

    assert len(ways) == 2
    assert ways[1] == pytest.approx(ways[0], rel=0.05)


def test_order_and_doubles_of_times_do_not_matter() -> None:
    """Samples in any order, one of them twice, give the same statement and numbers."""
    times, swing = decay()
    mixed = np.random.default_rng(1).permutation(len(times))
    mixed = np.concatenate([mixed, mixed[:1]])

    assert judge(recording_of(times[mixed], {"plunge": swing[mixed]})).frequency == (
        judge(recording_of(times, {"plunge": swing})).frequency
    )


def test_a_frame_counter_is_not_a_clock() -> None:
    """Frames that were lost leave gaps in true times: the frequency stays within 0.2 %."""
    times, swing = decay(rate=120.0)
    kept = np.random.default_rng(2).random(len(times)) > 0.05
    result = judge(recording_of(times[kept], {"plunge": swing[kept]}))

    assert result.frequency is not None
    assert result.frequency.value == pytest.approx(5.0, rel=0.002)
    assert any("uneven" in note for note in result.notes)


def test_an_unknown_time_scale_gives_no_frequency_but_the_same_statement() -> None:
    """Hazard: slow motion. Damping ratio and statement stay; frequency and growth are not given."""
    known = example("01-knock-in-the-wind")
    unknown = replace(known, time_scale=TimeScale(None, "unknown"))
    one, other = judge(known), judge(unknown)

    assert (other.statement, other.damping_ratio) == (one.statement, one.damping_ratio)
    assert (other.frequency, other.growth_rate) == (None, None)
    assert one.frequency is not None
    assert other.frequency_per_file_second == one.frequency.value
    assert not {"Hz", "1/s"} & {each.unit for each in other.evidence}


def test_without_true_time_no_sentence_counts_in_hertz() -> None:
    """A tone of a file whose scale nobody knows excludes no drive, and one too fast for its rate tells samples."""
    times = np.arange(1200) / 60.0
    noise = 1e-4 * np.random.default_rng(3).standard_normal(1200)
    for frequency, said in ((4.0, "none excluded"), (26.0, "2.3 samples come to a cycle")):
        recording = recording_of(
            times, {"plunge": 0.01 * np.sin(2.0 * np.pi * frequency * times) + noise},
            time_scale=TimeScale(None, "unknown"),
        )  # fmt: skip
        reasons = " ".join(judge(recording).reasons)
        assert said in reasons
        assert "Hz" not in reasons


def test_slow_motion_of_a_known_scale_gives_the_true_frequency() -> None:
    """240 frames/s stored at 30: eight times the frequency that the file shows."""
    times, swing = decay()
    slow = recording_of(8.0 * times, {"plunge": swing}, time_scale=TimeScale(1.0 / 8.0, "metadata"))
    found = judge(slow).frequency

    assert found is not None
    assert found.value == pytest.approx(5.0, rel=1e-3)


def test_phase_is_positive_when_pitch_lags_plunge() -> None:
    """Pitch that follows plunge by a quarter cycle is 90 deg behind; one that leads is 90 ahead."""
    times = np.arange(1200) / 100.0
    noise = 1e-4 * np.random.default_rng(4).standard_normal((2, len(times)))
    angle = 2.0 * np.pi * 4.0 * times
    for lag in (90.0, -90.0):
        tracks = {"plunge": np.cos(angle) + noise[0], "pitch": np.cos(angle - np.radians(lag)) + noise[1]}
        assert judge(recording_of(times, tracks)).phase == pytest.approx(lag, abs=1.0)


def test_slow_motion_does_not_make_the_limit_of_a_phase_coarser() -> None:
    """The same motion, 240 frames/s stored at 30: the skew of the file is eight times the true one, the limit one."""
    times = np.arange(1200) / 100.0
    noise = 1e-4 * np.random.default_rng(4).standard_normal((2, len(times)))
    angle = 2.0 * np.pi * 4.0 * times
    tracks = {"plunge": np.cos(angle) + noise[0], "pitch": np.cos(angle - 1.0) + noise[1]}
    true = judge(recording_of(times, tracks, row_skew=0.001))
    slow = judge(recording_of(8.0 * times, tracks, row_skew=0.008, time_scale=TimeScale(1.0 / 8.0, "metadata")))

    assert true.phase_limit == pytest.approx(360.0 * 4.0 * 0.001, rel=1e-3)
    assert slow.phase_limit == pytest.approx(true.phase_limit, rel=1e-6)


def test_the_sine_at_the_true_times_is_of_the_main_direction() -> None:
    """A sensor that swings along y alone, sampled unevenly: the sine stands far out of what it leaves."""
    generator = np.random.default_rng(7)
    times = (np.arange(1200) + 0.2 * generator.uniform(-1.0, 1.0, 1200)) / 100.0
    swing = np.sin(2.0 * np.pi * 4.0 * times)
    still, noisy = (0.01 * generator.standard_normal(1200) for _ in range(2))
    found = judge(recording_of(times, {"acceleration x": still, "acceleration y": 5.0 * swing + noisy}))
    (measured,) = (one.value for one in found.evidence if one.measure == "that sine over what it leaves")

    assert measured is not None
    assert measured > 100.0


def test_the_phase_is_that_of_pitch_beside_a_control_too() -> None:
    """Pitch 90 deg behind, the control 40: the phase of pitch is given, and without pitch none."""
    times = np.arange(1200) / 100.0
    noise = 1e-4 * np.random.default_rng(4).standard_normal((3, len(times)))
    angle = 2.0 * np.pi * 4.0 * times
    plunge, pitch, surface = (np.cos(angle - np.radians(lag)) for lag in (0.0, 90.0, 40.0))
    tracks = {"plunge": plunge + noise[0], "pitch": pitch + noise[1], "surface": surface + noise[2]}

    assert judge(recording_of(times, tracks)).phase == pytest.approx(90.0, abs=1.0)
    del tracks["pitch"]
    assert judge(recording_of(times, tracks)).phase is None


def test_flat_tops_are_no_tone() -> None:
    """A random motion that was clipped looks even: it is not called sustained, and the flaw is named."""
    record = example("02-in-turbulence")
    channels = []
    for channel in record.channels:
        values = np.array(channel.values, dtype=float)
        rail = 0.6 * values.std()
        channels.append(replace(channel, values=tuple(np.clip(values, -rail, rail).tolist())))
    result = judge(replace(record, channels=tuple(channels)))

    assert result.statement not in ("sustained", "dying out")
    assert any("flat tops" in note for note in result.notes)


@pytest.mark.parametrize("part", [0.1, 0.04])
def test_a_knock_onto_a_limit_cycle_is_not_dying_out(part: float) -> None:
    """What falls by 20 to 28 dB and then goes on steadily above the noise has not died out."""
    times, swing = decay(length=12.0, damping=0.03)
    goes_on = swing + 0.01 * part * np.sin(2.0 * np.pi * 5.0 * times)

    assert judge(recording_of(times, {"plunge": goes_on})).statement != "dying out"


def test_a_shadow_near_the_rate_is_not_judged() -> None:
    """Above 0.4 of the rate nothing is told: it may be the shadow of a faster motion."""
    times = np.arange(900) / 30.0
    swing = np.sin(2.0 * np.pi * 13.0 * times) + 0.02 * np.random.default_rng(5).standard_normal(len(times))
    result = judge(recording_of(times, {"plunge": 0.01 * swing}))

    assert (result.statement, result.ground) == ("cannot tell", "too fast for the rate")


def test_a_sound_is_never_called_growing_or_dying() -> None:
    """Loudness is no amplitude."""
    times, swing = decay()

    assert judge(recording_of(times, {"sound": swing}, source="sound")).ground == "a sound only"


def test_several_accelerations_become_one() -> None:
    """A tap felt along a slanting direction is one motion, whatever the sensor's axes."""
    times, swing = decay()
    slanted = {f"acceleration {axis}": part * 100.0 * swing for axis, part in (("x", 0.6), ("y", 0.0), ("z", 0.8))}
    found = modes_by_tap(recording_of(times, slanted))

    assert len(found.modes) == 1
    assert found.modes[0].frequency.value == pytest.approx(5.0, rel=1e-3)


def test_a_steady_drive_is_no_tap() -> None:
    """What does not fall gives no modes, with the reason."""
    found = modes_by_tap(example("03-steady"))

    assert found.modes == ()
    assert found.refused


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"times": (0.0,) * 600}, "times"),
        ({"times": (float("nan"),) * 600}, "times[0]"),
        ({"channels": ()}, "channels"),
        ({"row_skew": 1.0}, "row_skew"),
        ({"time_scale": TimeScale(None, "given")}, "time_scale"),
        ({"time_scale": TimeScale(1e9, "given")}, "time_scale.true_over_file"),
        ({"airspeed": (1.0,)}, "airspeed"),
    ],
)
def test_what_cannot_be_read_is_refused_by_name(changed: dict[str, Any], field: str) -> None:
    """Each fault names its field and a remedy."""
    times, swing = decay()
    record = replace(recording_of(times, {"plunge": swing}), **changed)
    with pytest.raises(InputRefused) as refused:
        judge(record)

    assert refused.value.refusals[0].field == field
    assert refused.value.refusals[0].remedy


@pytest.mark.parametrize("values", [np.zeros(600), np.full(600, 3.0), np.arange(600.0) / 100.0])
def test_what_does_not_move_is_cannot_tell(values: Any) -> None:
    """A constant, or a straight line, is no motion; nothing divides by nothing."""
    result = judge(recording_of(np.arange(600) / 100.0, {"plunge": values, "pitch": values}))

    assert result.statement == "cannot tell"
    json.dumps(to_document(result), allow_nan=False)
