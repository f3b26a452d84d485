"""Tables and sounds in: columns of any name, units, lost values, and what is refused."""

from __future__ import annotations

import io
import math
import wave
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline.motion import judge
from hingeline_app.evidence.answer import answer_of_file, answer_of_kept
from hingeline_app.evidence.asked import Asked
from hingeline_app.files.recordings import read_recording

HEADER = "time_s,plunge_m,pitch_deg\n"
ROWS = "".join(f"{index / 100},0.01,{index}\n" for index in range(40))


def refused(data: bytes, **options: object) -> InputRefused:
    """Give why a file is refused."""
    with pytest.raises(InputRefused) as fault:
        read_recording(data, **options)  # type: ignore[arg-type]
    return fault.value


def test_units_become_si() -> None:
    """Milliseconds, millimetres, degrees, g and knots come out in SI; the header's case does not matter."""
    text = "Time_ms,plunge_mm,pitch_deg,acceleration_x_g,airspeed_kn\n0,1,180,1,36\n10,2,90,2,36\n"
    record = read_recording(text.encode())

    assert record.times == (0.0, 0.01)
    assert [channel.quantity for channel in record.channels] == ["plunge", "pitch", "acceleration"]
    assert record.channels[0].values == pytest.approx((0.001, 0.002))
    assert record.channels[1].values == pytest.approx((math.pi, math.pi / 2.0))
    assert record.channels[2].values == pytest.approx((9.80665, 19.6133))
    assert record.airspeed == pytest.approx((18.52, 18.52))


@pytest.mark.parametrize(
    "text", ["time_s;pitch_rad\n0,5;1,25\n", "time_s\tpitch_rad\n0.5\t1.25\n", "﻿time_s,pitch_rad\n0.5,1.25\n"]
)
def test_separators_and_decimal_commas(text: str) -> None:
    """Semicolons with decimal commas, tabs, and a mark of byte order are read alike."""
    record = read_recording(text.encode())

    assert (record.times, record.channels[0].values) == ((0.5,), (1.25,))


def test_empty_cells_are_lost_values_never_zeros() -> None:
    """An empty cell, or the word nan, is None; a row without time is left out."""
    record = read_recording(b"time_s,plunge_m\n0,1\n1,\n2,nan\n,5\n")

    assert record.times == (0.0, 1.0, 2.0)
    assert record.channels[0].values == (1.0, None, None)


def test_other_headers_are_mapped() -> None:
    """Headers in any words are read under the name that they stand for."""
    text = "Zeit [ms];Winkel (Grad);Rest\n0;1;x\n5;2;y\n"
    record = read_recording(text.encode(), {"time_ms": "Zeit [ms]", "pitch_deg": "Winkel (Grad)"})

    assert record.times == (0.0, 0.005)
    assert len(record.channels) == 1


def test_slow_motion_gets_its_scale_from_the_true_rate() -> None:
    """A table at 30 a second, captured at 240: one second of the file is an eighth."""
    text = HEADER + "".join(f"{index / 30:.6f},0.01,{index}\n" for index in range(40))

    assert read_recording(text.encode(), captured_at=240.0).time_scale.true_over_file == pytest.approx(0.125, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("", "FILE"),
        ("time_s\n", "FILE"),
        ("a,b\n1,2\n", "header"),
        ("time_s,b\n1,2\n", "header"),
        ("plunge_m\n1\n2\n", "header"),
        ("time_s,plunge_m,plunge_mm\n1,2,3\n", "header"),
        ("time_s,plunge_m\n0,1\n1,twelve\n", "plunge_m, row 3"),
        ("time_s,plunge_m\n0,1e999\n", "plunge_m, row 2"),
        ("time_s,plunge_m\n0,1_000\n", "plunge_m, row 2"),
        # A decimal comma between commas had made 0 s and 1 m of 0.1 s and 2.3 m.
        ("time_s,plunge_m\n0,1,2,3\n0,2,2,4\n", "row 2"),
        # 1.5 stands beside: 1,234 is a thousand, or 1.234, and nobody here knows.
        ("time_s;plunge_m\n0.1;1.5\n0.2;1,234\n", "plunge_m, row 3"),
        ("time_s,acceleration_g,acceleration_g\n0,1,2\n1,1,2\n", "header"),
        # As an editor counts: remarks and blank lines are lines.
        ("# rig 2\n\ntime_s,plunge_m\n0,1\n\n1,x\n", "plunge_m, row 6"),
        ("time_s,plunge_m\n0,1\n\ufeff1,2\n", "time_s, row 3"),
        ("time_s,plunge_m\n0,1\x002\n", "plunge_m, row 2"),
        ("time_s,plunge_m\n0,1 m\n1,2\n", "plunge_m, row 2"),
    ],
)
def test_what_is_no_table_is_refused_by_place(text: str, field: str) -> None:
    """Each fault names its place, what was expected, and a remedy."""
    first = refused(text.encode()).refusals[0]

    assert first.field == field
    assert first.expected
    assert first.remedy


def test_a_wrong_mapping_is_refused() -> None:
    """A header that is not there, or a name of no quantity, is refused with the headers that are."""
    data = (HEADER + ROWS).encode()

    assert "plunge_m" in refused(data, columns={"pitch_rad": "Angle"}).refusals[0].expected
    assert refused(data, columns={"height": "pitch_deg"}).refusals[0].field == "--column"


def test_a_header_is_mapped_once_and_only_where_it_stands_once() -> None:
    """Of two columns with one name the first was taken without a word; of two names for one column, the last."""
    twice = refused(b"time_s,Angle,Angle\n0,1,5\n1,2,6\n", columns={"pitch_deg": "Angle"}).refusals[0]
    assert (twice.value, twice.expected) == ("pitch_deg=Angle", "a header that stands once")
    names = {"pitch_deg": "Angle", "surface_deg": "Angle"}
    assert refused(b"time_s,Angle\n0,1\n1,2\n", columns=names).refusals[0].expected == "one name for each column"


def test_empty_cells_beyond_the_header_are_no_cells() -> None:
    """A spreadsheet writes its separators to the end."""
    record = read_recording(b"time_s,plunge_m\n0,1,,\n1,2,,\n")
    assert record.channels[0].values == (1.0, 2.0)


@pytest.mark.parametrize(("rate", "frames"), [(4_000_000_000, 1000), (8000, 1), (0, 1000)])
def test_a_sound_of_no_length_or_of_a_rate_that_cannot_be_is_refused_in_one_sentence(rate: int, frames: int) -> None:
    """It was read as a recording without a single sample, or refused within a refusal."""
    data = bytearray(sound(rate=8000, seconds=frames / 8000))
    data[24:28] = rate.to_bytes(4, "little")
    (one,) = refused(bytes(data)).refusals
    assert one.value.endswith(f"{rate} a second, {frames} samples" if not rate else f"{rate} a second")


def sound(width: int = 2, channels: int = 1, rate: int = 8000, seconds: float = 6.0) -> bytes:
    """Give a WAV file of a 40 Hz tone."""
    times = np.arange(int(rate * seconds)) / rate
    tone = np.repeat((0.5 * np.sin(2.0 * np.pi * 40.0 * times))[:, None], channels, axis=1)
    tone = tone + 0.002 * np.random.default_rng(8).standard_normal(tone.shape)
    kinds: dict[int, Callable[[], bytes]] = {
        1: lambda: (tone * 127 + 128).astype(np.uint8).tobytes(),
        2: lambda: (tone * 32767).astype("<i2").tobytes(),
        3: lambda: (tone * 8388607).astype("<i4").reshape(-1, 1).view(np.uint8)[:, :3].tobytes(),
        4: lambda: (tone * 2147483647).astype("<i4").tobytes(),
    }
    out = io.BytesIO()
    with wave.open(out, "wb") as file:
        file.setnchannels(channels)
        file.setsampwidth(width)
        file.setframerate(rate)
        file.writeframes(kinds[width]())
    return out.getvalue()


@pytest.mark.parametrize("width", [1, 2, 3, 4])
def test_a_sound_gives_its_frequency_and_nothing_of_growth(width: int) -> None:
    """8, 16, 24 and 32 bit give the tone's 40 Hz; the statement stays "cannot tell"."""
    result = judge(read_recording(sound(width)))

    assert result.statement == "cannot tell"
    assert result.growth_rate is None
    assert result.frequency is not None
    assert result.frequency.value == pytest.approx(40.0, rel=0.005)


def test_a_channel_of_a_sound_file_can_hold_a_motion() -> None:
    """Channel 2 mapped to an acceleration is one motion; a channel that is not there is refused."""
    data = sound(channels=2)

    assert read_recording(data, {"acceleration_m_s2": "2"}).channels[0].quantity == "acceleration"
    assert refused(data, columns={"acceleration_m_s2": "3"}).refusals[0].field == "--column"


@pytest.mark.parametrize("cut", [13, 30, 60, 2000])
def test_a_sound_that_is_cut_off_is_refused(cut: int) -> None:
    """A WAV file that ends early is refused, not read short."""
    assert refused(sound()[:cut]).refusals[0].field == "FILE"


def test_a_true_rate_beside_a_sound_is_refused_and_never_passed_over(tmp_path: Path) -> None:
    """Passed over, it made the frequency of a slowed sound too low; what was kept so before can still be read."""
    data = io.BytesIO()
    with wave.open(data, "wb") as sound:
        sound.setparams((1, 2, 1000, 0, "NONE", ""))
        sound.writeframes((20000 * np.sin(2 * np.pi * 6.0 * np.arange(8000) / 1000)).astype("<i2").tobytes())
    asked = Asked({"acceleration_m_s2": "1"}, captured_at=240.0)
    with pytest.raises(InputRefused) as fault:
        answer_of_file(data.getvalue(), asked, "slow.wav")
    (refusal,) = fault.value.refusals
    assert (refusal.field, refusal.expected) == ("--captured-at", "a table or a video")
    (tmp_path / "slow.wav").write_bytes(data.getvalue())
    assert answer_of_kept(tmp_path / "slow.wav", None, asked, "slow.wav").document["statement"]
