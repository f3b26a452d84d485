"""A workshop's own model: loaded, drawn with its numbers, given a weighed moment; what cannot be drawn is refused."""

from __future__ import annotations

import re
import time
from pathlib import Path
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from hingeline.flutter import analyse
from hingeline.flutter.scatter import scatter_onsets
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_tables, weighing_text
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result
from hingeline_app.records.models import Aircraft, Job
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.why_balance.job_file import job_file
from hingeline_app.why_balance.own_model import own_surface
from hingeline_app.why_balance.own_parts import Weighed
from hingeline_app.why_balance.state import start_of
from tests.doors.checkouts import ROOT
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
STRIP, TAILPLANE, WING = (
    f"{number}.toml"
    for number in ("01-elevator-strip", "03-tailplane-weight-on-an-arm", "04-wing-aileron-balanced-inboard")
)


def example(name: str) -> bytes:
    return Path(ROOT / "examples" / "flutter" / name).read_bytes()


def loaded(client: Client, name: str, data: bytes | None = None) -> Any:
    file = SimpleUploadedFile(name, example(name) if data is None else data)
    aircraft = str(Aircraft.objects.get().pk)
    return client.post("/why-balance/own", {"aircraft": aircraft, "file": file, "command_key": "k"})


def address_of(client: Client) -> str:
    page = client.get("/why-balance/own").content.decode()
    return re.search(r"/why-balance/own/[0-9a-f-]{36}", page).group()  # type: ignore[union-attr]


def weigh_at(fenholt: Fenholt) -> None:
    mate = fenholt.mate
    job = Job.objects.get(number=fenholt.job)
    set_up = {"surface": {"mass": "4.1 kg"}, "support": [{"arm": "255 mm", "side": "aft"}]}
    weighing = open_measurement(mate, job.pk, "weighing", scale=fenholt.scale, set_up=set_up)
    for typed in ("840 g", "845 g", "840 g"):
        add_reading(mate, weighing.pk, typed)
    record = job_of(mate.person, fenholt.job)
    tables = {name: each for name, each in weighing_tables(record, record.weighing).items() if name != "sheet"}
    record_result(mate, job.pk, weighed(weighing_text(record, record.weighing)), measurement=weighing.pk, asked=tables)


def test_a_loaded_model_is_drawn_with_its_own_numbers(fenholt: Fenholt) -> None:
    """Headed by its file's name and "Model. Not a limit."; the onset is the command's."""
    client = fenholt.client("jon")
    assert loaded(client, STRIP).status_code == 302
    page = client.get(address_of(client) + "?plain=1", follow=True).content.decode()
    speed = analyse(read_flutter(example(STRIP))).flutter.speed / (1852.0 / 3600.0)
    assert f"Growth starts at {speed:.0f}" in page
    assert STRIP in page
    assert "Model. Not a limit." in page
    assert "invented" not in re.sub(r"<nav class=.presets.*?</nav>", "", page, flags=re.S)


def test_a_weighed_moment_flows_in_and_is_named(fenholt: Fenholt) -> None:
    """Its value with ± stands beside the job it comes from; a missing span is asked for in words."""
    weigh_at(fenholt)
    client = fenholt.client("jon")
    loaded(client, STRIP)
    page = client.get(address_of(client) + "?job=1&span=1.45 m", follow=True).content.decode()
    assert re.search(r"job 0001, D-EFHM Elevator, left half, weighed .*: 2\.10\d ±\s0\.0\d+.*tail-heavy", page)
    refused = client.get(address_of(client) + "?job=1&span=")
    assert refused.status_code == 422
    assert "span" in refused.content.decode()


@pytest.mark.parametrize("data", [None, b"", b"format = 3", b"\xff\xfe\x00"])
def test_what_cannot_be_drawn_is_refused_at_the_field(fenholt: Fenholt, data: bytes | None) -> None:
    """A wing whose aileron is locked, an empty file, another format, another encoding: nothing is kept."""
    client = fenholt.client("jon")
    locked = example(WING).replace(b"[wing.aileron]", b"[wing.aileron]\nlocked = true")
    answer = loaded(client, WING, locked if data is None else data)
    assert answer.status_code == 422
    assert "None yet." in client.get("/why-balance/own").content.decode()


def test_a_stranger_never_sees_a_model(fenholt: Fenholt, elsewhere: Any) -> None:
    """Neither by its page nor by the address of a state."""
    jon, otto = fenholt.client("jon"), fenholt.client("otto")
    loaded(jon, STRIP)
    address = address_of(jon)
    state = jon.get(address + "?plain=1")["Location"]
    assert jon.get(state).status_code == 200
    assert otto.get(address).status_code == 404
    assert otto.get(state).status_code == 404


@pytest.mark.parametrize("name", [STRIP, TAILPLANE, WING])
@pytest.mark.parametrize("weighed_moment", [None, Weighed("job 0412", 0.5, 0.02, 2.0)])
def test_the_file_of_a_state_is_the_command_s(name: str, weighed_moment: Weighed | None) -> None:
    """What can be downloaded reads back as the same model, whatever the knobs did to it."""
    surface = own_surface("own", name, read_flutter(example(name)), weighed_moment)
    for state in (start_of(surface), start_of(surface).moved(**{surface.axis: surface.knob(surface.axis).high})):
        task = surface.model(state.settings)
        again = read_flutter(job_file(state).encode())
        assert (again.structure, again.air, again.speeds) == (task.structure, task.air, task.speeds)
        assert again.structural_damping == task.structural_damping


def test_a_study_is_started_stopped_and_shown_as_an_estimate(fenholt: Fenholt, elsewhere: Any) -> None:
    """From the model's page to the numbers of the command; another workshop's person finds nothing there."""
    client = fenholt.client("jon")
    loaded(client, STRIP)
    address = f"{address_of(client)}/scatter"
    assert "Models to draw" in client.get(address).content.decode()
    assert client.post(address, {"draws": "7", "seed": "0", "command_key": "a"}).status_code == 422
    assert client.post(address, {"draws": "100", "seed": "3", "command_key": "b"}).url == f"{address}/100/3"
    until = time.monotonic() + 60
    while client.get(f"{address}/100/3/far").json()["word"] in ("waits", "follows") and time.monotonic() < until:
        time.sleep(0.1)
    page = client.get(f"{address}/100/3").content.decode()
    found = scatter_onsets(read_flutter(example(STRIP)), 100, seed=3)
    assert f"{found.quantiles.middle:.4g}\u00a0m/s" in page
    assert "An estimate from a model" in page
    assert "follow the flight manual" in page
    assert client.get(f"{address}/100/3.json").json()["speed_distribution"]["samples"] == 100
    assert client.get(f"{address}/100/4").status_code == 404
    assert fenholt.client("otto").get(f"{address}/100/3").status_code == 404


def test_a_wing_is_drawn_with_its_own_numbers(fenholt: Fenholt) -> None:
    """A wing with an aileron can be loaded too: the onset is the command's, and its weight can be moved."""
    client = fenholt.client("jon")
    assert loaded(client, WING).status_code == 302
    page = client.get(address_of(client) + "?plain=1", follow=True).content.decode()
    speed = analyse(read_flutter(example(WING))).flutter.speed / (1852.0 / 3600.0)
    assert f"Growth starts at {speed:.0f}" in page
    assert "place of the weight, from the wing" in page
