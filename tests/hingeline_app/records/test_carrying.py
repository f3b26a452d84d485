"""One aircraft leaves a workshop with all its records, and comes into another."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.aircraft import add_surface
from hingeline_app.records.actions.attaching import Upload, attach_to_job
from hingeline_app.records.actions.carrying import export_aircraft, free_name, import_aircraft
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.equipment import add_scale
from hingeline_app.records.actions.jobs import open_job
from hingeline_app.records.actions.opening import go_on_elsewhere
from hingeline_app.records.actions.recordings import About, TakenIn, keep_finding, take_recording_in
from hingeline_app.records.actions.releasing import release
from hingeline_app.records.aircraft_rows import rows_of_aircraft
from hingeline_app.records.ledger_file import OpenLedger
from hingeline_app.records.models import Scale, Signature
from hingeline_app.records.rows import note_of
from tests.hingeline_app.records.merle import Merle, inspected, merle, proof, weighed
from tests.hingeline_app.records.own_folder import run
from tests.hingeline_app.records.workshop import Fenholt, no_bench

# What becomes another in another workshop: whose it is, and numbers and names that count there.
OTHERS = {"workshop_id", "came_from", "left_on", "number", "made_by_id", "second_reader_id", "read_by_id"}


@pytest.fixture
def job(shop: Fenholt) -> Merle:
    """A released job with a photograph and a recording that was judged, beside another aircraft."""
    job = merle(shop)
    other = merle(shop, serial="T2-04")
    opened_on_the_wrong_surface(job, other)
    weighed(job)
    attach_to_job(shop.anna, job.job.pk, Upload("photograph", b"arm", "image/jpeg", preview=b"shown"))
    recording = take_recording_in(
        shop.anna, About(job=job.job.pk), TakenIn("video", [b"film"], 4, "video/mp4", "a.mp4")
    )
    keep_finding(shop.anna, recording.pk, {"format": "hingeline/motion-result/1"}, {"marks": ""}, tracks=b"places")
    inspected(job)
    release(shop.cy, job.as_seen, proof(shop.cy), judge=no_bench)
    return job


def opened_on_the_wrong_surface(job: Merle, other: Merle) -> None:
    """One job goes on at another surface of this aircraft, one of the other aircraft at a third."""
    anna = job.shop.anna
    rudder, fin, tab = (add_surface(anna, job.aircraft.pk, name).pk for name in ("Rudder", "Fin", "Tab"))
    go_on_elsewhere(anna, open_job(anna, rudder, "painted").pk, fin, "read the label again")
    go_on_elsewhere(anna, other.job.pk, tab, "another aircraft")


def test_a_scale_that_is_called_as_one_of_here_is_told_apart_however_long_its_name_is(shop: Fenholt) -> None:
    """Cut at its end it would be the same name once more, and the whole aircraft would be refused."""
    name, here = "Bench scale at the window, bought from the club in Fenholt's", []
    for _ in range(3):
        scale = Scale(workshop=shop.workshop, name=name)
        here.append(free_name(scale, "name", shop.workshop, "Elsewhere"))
        add_scale(shop.anna, here[-1], step="5 g", largest="15 kg")
    assert here == [name, f"{name[:47]} (Elsewhere)", f"{name[:46]} (Elsewhere 2)"]
    assert max(map(len, here)) <= 60


@pytest.mark.slow
def test_the_file_holds_nothing_of_another_aircraft_and_no_account(job: Merle, tmp_path: Path) -> None:
    export_aircraft(job.shop.ed, job.aircraft.pk, tmp_path / "one.zip")
    with OpenLedger(tmp_path / "one.zip") as opened:
        ledger = opened.ledger
    text = str(ledger)
    assert not ledger.is_whole
    assert "T2-03" in text
    for other in ("T2-04", "sign_in_name", "token_digest"):
        assert other not in text


def test_only_who_may_export_does(job: Merle, tmp_path: Path) -> None:
    for actor in (job.shop.anna, job.shop.bo, job.shop.cy, job.shop.dora):
        with pytest.raises(NotAllowed):
            export_aircraft(actor, job.aircraft.pk, tmp_path / "one.zip")
    assert not (tmp_path / "one.zip").exists()


@pytest.mark.slow
def test_what_is_here_is_not_taken_in_again(job: Merle, tmp_path: Path) -> None:
    export_aircraft(job.shop.ed, job.aircraft.pk, tmp_path / "one.zip")
    with pytest.raises(InputRefused, match="here already"):
        import_aircraft(job.shop.ed, tmp_path / "one.zip")


@pytest.mark.slow
def test_all_records_of_an_aircraft_come_into_another_workshop(job: Merle, tmp_path: Path) -> None:
    export_aircraft(job.shop.ed, job.aircraft.pk, tmp_path / "one.zip")
    program = Path(__file__).with_name("import_elsewhere.py")
    there = json.loads(run(program, tmp_path / "there", tmp_path / "one.zip", folder=tmp_path / "there").stdout)
    here = {"/".join(key): json.loads(json.dumps(note_of(row))) for key, row in rows_of_aircraft(job.aircraft).items()}
    bo = f"person/{job.shop.bo.person.pk}"
    assert set(there["rows"]) == set(here) - {bo} | {f"person/{there['known']}"}
    instead = [theirs["values"].pop("details") for key, theirs in sorted_by_number(there["rows"])]
    assert instead == [{"dry": True}, {}, {"instead_of": 2}, {"instead_elsewhere": "2, Fenholt"}]
    for key in set(here) & set(there["rows"]):
        mine, theirs = here[key]["values"], there["rows"][key]["values"]
        if key.startswith("job/"):
            mine.pop("details")
        assert {name: mine[name] for name in mine if name not in OTHERS} == {
            name: theirs[name] for name in theirs if name not in OTHERS
        }
    assert str(job.shop.workshop.pk) in there["came_from"]
    assert there["whole"] is True
    assert there["last"] == "aircraft imported"


def sorted_by_number(rows: dict[str, Any]) -> list[tuple[str, Any]]:
    jobs = [(key, row) for key, row in rows.items() if key.startswith("job/")]
    return sorted(jobs, key=lambda each: each[1]["values"]["number"])


@pytest.mark.slow
def test_people_come_with_it_without_a_role_and_a_known_licence_is_the_same_person(job: Merle, tmp_path: Path) -> None:
    export_aircraft(job.shop.ed, job.aircraft.pk, tmp_path / "one.zip")
    program = Path(__file__).with_name("import_elsewhere.py")
    there = json.loads(run(program, tmp_path / "there", tmp_path / "one.zip", folder=tmp_path / "there").stdout)
    assert there["rights"] == 1
    assert sorted(there["here"]) == ["Bo Lind", "Max Stone"]
    assert there["signers"] == [there["known"], str(job.shop.cy.person.pk)]
    assert there["faults"] == [[] for _ in Signature.objects.all()]
