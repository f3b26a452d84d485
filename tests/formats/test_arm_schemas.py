"""The schemas of arm files, records and results describe what really goes in and comes out."""

from __future__ import annotations

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError

from hingeline.arm import ArmResult, ArmTask, examine
from hingeline.document import from_document, to_document
from hingeline_app.files.arm_file import read_arm
from hingeline_app.files.arm_tables import ArmFile
from hingeline_app.files.job_text import read_job
from hingeline_app.files.schemas import input_schema
from tests.doors.checkouts import ROOT
from tests.formats.test_schemas import tightly

EXAMPLES = sorted((ROOT / "examples" / "arm").glob("*.toml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_example_is_an_arm_file_by_its_schema(path) -> None:
    """What we read is what the schema describes."""
    Draft202012Validator(input_schema(ArmFile)).validate(read_job(path.read_bytes()))


@pytest.mark.parametrize("spoilt", [{"tub": {}}, {"loss": {"where": "round"}}, {"weight": {"mass": 0.6}}])
def test_the_schema_refuses_what_the_reader_refuses(spoilt: dict[str, Any]) -> None:
    """An unknown table, a strange place of loss and a bare mass are against the schema."""
    document = read_job(EXAMPLES[0].read_bytes()) | spoilt
    with pytest.raises(ValidationError):
        Draft202012Validator(input_schema(ArmFile)).validate(document)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("samples", [None, 200])
def test_records_and_results_are_as_described_and_replay(path, samples: int | None) -> None:
    """Task and result keep to their closed schemas, hold no NaN, and read back from JSON text as they were."""
    task = read_arm(path.read_bytes())
    result = examine(task, samples=samples, seed=2)
    for record in (task, result):
        text = json.dumps(to_document(record), allow_nan=False)
        tightly(type(record)).validate(json.loads(text))
        assert from_document(json.loads(text), type(record)) == record
    assert isinstance(task, ArmTask)
    assert isinstance(result, ArmResult)
    assert examine(from_document(to_document(task), ArmTask), samples=samples, seed=2) == result
