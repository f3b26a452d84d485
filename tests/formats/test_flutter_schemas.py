"""The schemas of flutter files, records and results describe what really goes in and comes out."""

from __future__ import annotations

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError

from hingeline.document import from_document, to_document
from hingeline.flutter.model import FlutterResult, FlutterTask
from hingeline.flutter.solve import analyse
from hingeline_app.files.flutter_file import read_flutter, task_of
from hingeline_app.files.flutter_tables import FlutterFile
from hingeline_app.files.job_text import read_job
from hingeline_app.files.schemas import input_schema
from tests.doors.checkouts import ROOT
from tests.formats.test_schemas import tightly

EXAMPLES = sorted((ROOT / "examples" / "flutter").glob("*.toml"))
RIGID_GEAR = {
    "format": "hingeline/flutter/1",
    "air": {"density": "1.225 kg/m^3"},
    "speeds": ["2 m/s", "60 m/s"],
    "section": {
        "freedoms": ["plunge", "surface"],
        "semichord": "0.38 m",
        "elastic_axis": -0.3,
        "hinge_line": 0.3,
        "tab_hinge_line": 0.75,
        "tab_inertia": "0.00045 kg m",
        "tab_rigid_gear": {"value": -0.8, "limit": 0.05},
        "mass": "9 kg/m",
        "surface_inertia": "0.035 kg m",
        "plunge_stiffness": "22740 N/m^2",
    },
}


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_example_is_a_flutter_file_by_its_schema(path) -> None:
    """What we read is what the schema describes; so is a gear with its uncertainty."""
    Draft202012Validator(input_schema(FlutterFile)).validate(read_job(path.read_bytes()))
    Draft202012Validator(input_schema(FlutterFile)).validate(RIGID_GEAR)
    task_of(RIGID_GEAR)


@pytest.mark.parametrize("spoilt", [{"mess": 1}, {"speeds": ["1 m/s"] * 3}, {"wake": "wagner"}, {"air": "1.225"}])
def test_the_schema_refuses_what_the_reader_refuses(spoilt: dict[str, Any]) -> None:
    """An unknown field, a third speed, a strange wake and a bare air are against the schema."""
    document = read_job(EXAMPLES[0].read_bytes()) | spoilt

    with pytest.raises(ValidationError):
        Draft202012Validator(input_schema(FlutterFile)).validate(document)


@pytest.mark.slow
@pytest.mark.parametrize("number", [0, 1, 2, 5])
def test_records_and_results_are_as_described_and_replay(number: int) -> None:
    """Task and result keep to their closed schemas, hold no NaN, and read back from JSON text as they were."""
    task = read_flutter(EXAMPLES[number].read_bytes())
    result = analyse(task, roots_at=(10.0, 30.0), with_sensitivities=True)

    for record in (task, result):
        text = json.dumps(to_document(record), allow_nan=False)
        tightly(type(record)).validate(json.loads(text))
        assert from_document(json.loads(text), type(record)) == record
    assert isinstance(task, FlutterTask)
    assert isinstance(result, FlutterResult)
