"""Series of recordings on the pages: the command line's numbers, refused in words, kept, worked out again."""

from __future__ import annotations

import json
from pathlib import Path
from uuid import UUID

import numpy as np
import pytest
from django.test import Client

from hingeline_app.records.canonical import canonical
from hingeline_app.records.models import Entry, Job, ShakeRecording, ShakeSeries
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.test_recordings import READ, by_command, taken
from tests.simulated_motion.knocks import draw_series

pytestmark = pytest.mark.django_db
STATED = {"rest": "the same", "play": "within its limits"}


@pytest.fixture
def surface(fenholt: Fenholt) -> UUID:
    return Job.objects.get(number=fenholt.job).surface_id


def swing(rate: float, size: float, seed: int) -> bytes:
    """Write a plunge that grows or dies out at a rate."""
    times = np.arange(720) / 120.0
    noise = 0.02 * np.random.default_rng(seed).standard_normal(720)
    plunge = size * np.exp(rate * times) * np.cos(8.0 * np.pi * times) + noise
    rows = (f"{time:.6f},{value:.5f}" for time, value in zip(times, plunge, strict=True))
    return "\n".join(("time_s,plunge_mm", *rows)).encode()


def judged(client: Client, files: dict[str, bytes], surface: UUID) -> list[int]:
    """Take files in, and have each worked out alone."""
    numbers = []
    for name, data in files.items():
        row = taken(client, data, name, f"surface:{surface}")
        assert client.post(f"/recordings/{row.number}/judge", READ).status_code == 302
        numbers.append(row.number)
    return numbers


BENCH = {"bare.csv": (1.0, 0.1), "light.csv": (0.6, 0.1), "heavy.csv": (-1.0, 10.0)}
WEIGHTS = ("0 g", "120 g", "240 g")


@pytest.fixture
def bench() -> dict[str, bytes]:
    return {name: swing(*how, seed=seed) for seed, (name, how) in enumerate(BENCH.items())}


@pytest.mark.slow
def test_a_bench_series_says_what_the_command_line_says_of_the_same_files(
    fenholt: Fenholt, surface: UUID, bench: dict[str, bytes], tmp_path: Path
) -> None:
    """Three weights: the kept document is the command's to the last digit; the page names both weights."""
    client = fenholt.client("jon")
    numbers = judged(client, bench, surface)
    fields = {f"at_{number}": weight for number, weight in zip(numbers, WEIGHTS, strict=True)}
    answer = client.post("/recordings/series/new", {"against": "weight", **STATED, **fields})
    assert answer.status_code == 302, answer.content.decode()[-2000:]
    files = [tmp_path / name for name in bench]
    for file in files:
        file.write_bytes(bench[file.name])
    options = [word for weight in WEIGHTS for word in ("--weight", weight)]
    wanted = by_command("onset", *map(str, files), "--against", "weight", *options)
    kept = ShakeSeries.objects.get()
    assert json.loads(kept.document) == json.loads(canonical(wanted))
    page = client.get("/recordings/series/1").content.decode()
    assert "It stops feeding itself between 0.12\u00a0kg and 0.24\u00a0kg" in page
    assert page.count("wave-word small growing") == 2
    # Beside the computed damping the last series stands unasked, another by its number, none where none is wanted.
    beside = [client.get(f"/why-balance/bench{asked}").content.decode() for asked in ("", "?series=1", "?series=")]
    assert ["recorded: series 1," in each for each in beside] == [True, True, False]
    assert "Series 1" in client.get("/recordings").content.decode()
    assert Entry.objects.filter(kind="series of recordings judged").count() == 1


@pytest.mark.slow
def test_a_series_worked_out_again_is_the_same_and_an_altered_one_is_seen(
    fenholt: Fenholt, surface: UUID, bench: dict[str, bytes]
) -> None:
    """Same to the last digit; a kept number that its recordings do not give is named with both values."""
    client = fenholt.client("jon")
    numbers = judged(client, bench, surface)
    fields = {f"at_{number}": weight for number, weight in zip(numbers, WEIGHTS, strict=True)}
    client.post("/recordings/series/new", {"against": "weight", **STATED, **fields})
    assert b"Same to the last digit" in client.post("/recordings/series/1/again").content
    # Read another way meanwhile: the series stays with the reading that it was judged from.
    client.post(f"/recordings/{numbers[0]}/judge", {"time": "given", "captured_at": "240"})
    assert b"Same to the last digit" in client.post("/recordings/series/1/again").content
    altered = json.loads(ShakeSeries.objects.get().document)
    altered["stops_between"]["low"]["value"] = 0.05
    ShakeSeries.objects.update(document=canonical(altered).decode())
    page = client.post("/recordings/series/1/again").content.decode()
    assert "It differs" in page
    assert "stops_between.low.value" in page


@pytest.mark.slow
def test_what_makes_no_series_is_refused_at_its_place(fenholt: Fenholt, surface: UUID, bench: dict[str, bytes]) -> None:
    """No recording, a number without its unit, a mass for an airspeed: in words; what was typed still stands there."""
    client = fenholt.client("jon")
    first, *_others = judged(client, bench, surface)
    empty = client.post("/recordings/series/new", {"against": "weight", **STATED})
    assert b"No recording was chosen" in empty.content
    for typed in ("120", "120 g", "fast"):
        page = client.post("/recordings/series/new", {"against": "airspeed", **STATED, f"at_{first}": typed})
        assert page.status_code == 422
        assert f'value="{typed}"' in page.content.decode()
    assert not ShakeSeries.objects.exists()


@pytest.mark.slow
def test_one_knock_at_one_speed_gives_no_onset_and_says_why(
    fenholt: Fenholt, surface: UUID, bench: dict[str, bytes]
) -> None:
    """A decay alone: shown, drawn, and refused; a growing one: the onset is already there. Never a speed."""
    client = fenholt.client("jon")
    numbers = judged(client, bench, surface)
    client.post("/recordings/series/new", {"against": "airspeed", **STATED, f"at_{numbers[2]}": "62 kn"})
    page = client.get("/recordings/series/1").content.decode()
    assert "No onset speed is given" in page
    assert "Only 1 speeds; 5 are needed." in page
    client.post("/recordings/series/new", {"against": "airspeed", **STATED, f"at_{numbers[0]}": "62 kn"})
    assert "the onset is already there" in client.get("/recordings/series/2").content.decode()


@pytest.mark.slow
def test_knocks_at_six_speeds_give_an_interval_with_its_lower_end_first(fenholt: Fenholt, surface: UUID) -> None:
    """A simulated section, three knocks a speed: the lower end stands in the headline and lies under the true onset."""
    client, series = fenholt.client("jon"), draw_series(7_001, 1, 0.9, knocks=3)[0]
    fields = {}
    for at, (speed, times, plunge, pitch) in enumerate(series.recordings):
        lines = (f"{time:.6f},{one:.9f},{other:.9f}" for time, one, other in zip(times, plunge, pitch, strict=True))
        data = "\n".join(("time_s,plunge_m,pitch_rad", *lines)).encode()
        (number,) = judged(client, {f"knock-{at}.csv": data}, surface)
        fields[f"at_{number}"] = f"{speed:.4f} m/s"
    answer = client.post("/recordings/series/new", {"against": "airspeed", **STATED, **fields})
    assert answer.status_code == 302
    document = json.loads(ShakeSeries.objects.get().document)
    page = client.get("/recordings/series/1").content.decode()
    assert document["onset_speed"]["low"]["value"] <= series.onset
    assert "Onset cannot be excluded from" in page
    assert "These data do not show safety at any higher speed." in page
    assert "onset not excluded from" in page
    assert ShakeRecording.objects.count() == 18
