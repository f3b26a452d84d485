"""The schemas describe what really goes in and comes out, and are not stale."""

from __future__ import annotations

import json
from collections.abc import Callable
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError

from hingeline.balance import check_rows, weigh
from hingeline.balance.model import Weighing
from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.cli.main import main
from hingeline_app.files.job_text import read_job
from hingeline_app.files.limits_file import read_limits
from hingeline_app.files.schemas import result_schema
from hingeline_app.files.weighing_file import read_weighing
from tests.doors.checkouts import ROOT
from tools import schemas as tool

EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
WEIGHINGS = [path for path in EXAMPLES if read_job(path.read_bytes())["format"] == "hingeline/weighing/1"]
LIMITS = [path for path in EXAMPLES if read_job(path.read_bytes())["format"] == "hingeline/limits/1"]
MAKERS = ROOT / "tests" / "published" / "makers_limits.toml"
FIRST = ROOT / "examples" / "01-elevator-left-half.toml"


@cache
def strict() -> dict[str, dict[str, Any]]:
    """Every schema in the form that refuses fields it does not describe."""
    return tool.schemas(closed=True)


def tightly(record: type) -> Draft202012Validator:
    """Give the schema of a record that refuses what it does not describe."""
    schema: dict[str, Any] = result_schema(record, closed=True)
    schema["required"] = [name for name in schema["required"] if name != "about"]
    return Draft202012Validator(schema)


def valid(document: Any) -> None:
    """Hold a document against the strict schema of its own format."""
    Draft202012Validator(strict()[document["format"]]).validate(document)


def output(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> dict[str, Any]:
    """Give the one document that a command writes."""
    assert main([*arguments, "--json"]) == status
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    return document


# -------------------------------------------------------------------- the schemas themselves


def test_the_schemas_are_not_stale() -> None:
    """The files are the ones that the generator writes now: else run tools/schemas.py."""
    on_file = {path.name: path.read_text("utf-8") for path in tool.FOLDER.glob("*.json")}
    assert on_file == tool.pages()


@pytest.mark.slow
@pytest.mark.parametrize("closed", [False, True], ids=["open", "closed"])
def test_each_is_a_schema(closed: bool) -> None:
    """Each is a schema of draft 2020-12, names its own format, and has an address of its own."""
    every = tool.schemas(closed=closed)
    assert len(every) >= 12
    for document_format, schema in every.items():
        Draft202012Validator.check_schema(schema)
        assert schema["properties"]["format"]["const"] == document_format
    assert len({schema["$id"] for schema in every.values()}) == len(every)


def test_published_schemas_let_more_fields_pass_in_results_only() -> None:
    """A later version may add fields to a result; an input with an unknown field stays refused."""
    every = tool.schemas()
    assert every["hingeline/weighing/1"]["additionalProperties"] is False
    assert "additionalProperties" not in every["hingeline/weighing-result/1"]
    assert strict()["hingeline/weighing-result/1"]["additionalProperties"] is False


# -------------------------------------------------------------------- what goes in


@pytest.mark.parametrize("path", [*EXAMPLES, MAKERS], ids=lambda path: path.stem)
def test_an_input_fits_its_schema(path: Path) -> None:
    """Every example, and the file of real printed rows, fits."""
    valid(read_job(path.read_bytes()))


def changed(path: Path, change: Callable[[Any], object]) -> Any:
    """Read a file and change it."""
    document = deepcopy(read_job(path.read_bytes()))
    change(document)
    return document


BROKEN: dict[str, tuple[Path, Callable[[Any], object]]] = {
    "a bare number": (FIRST, lambda file: file["support"][0].update(arm=255)),
    "a number without a unit": (FIRST, lambda file: file["support"][0].update(arm="255")),
    "a unit without a number": (FIRST, lambda file: file["support"][0].update(arm="mm")),
    "not a number": (FIRST, lambda file: file["support"][0].update(arm="nan mm")),
    "grouped digits": (FIRST, lambda file: file["support"][0].update(arm="1_000 mm")),
    "a decimal comma": (FIRST, lambda file: file["support"][0].update(arm="25,5 mm")),
    "a side that is none": (FIRST, lambda file: file["support"][0].update(side="left")),
    "no side": (FIRST, lambda file: file["support"][0].pop("side")),
    "no surface": (FIRST, lambda file: file.pop("surface")),
    "an unknown table": (FIRST, lambda file: file.update(supports=[])),
    "an unknown field": (FIRST, lambda file: file["support"][0].update(am="255 mm")),
    "another format": (FIRST, lambda file: file.update(format="hingeline/weighing/9")),
    "two at once": (FIRST, lambda file: file["uncertainty"].update(arm={"limit": "1 mm", "standard": "1 mm"})),
    "an uncertainty in words": (FIRST, lambda file: file["uncertainty"].update(arm="1 mm")),
    "a rule that is none": (FIRST, lambda file: file["limits"].update(rule="strict")),
    "null": (FIRST, lambda file: file["limits"].update(lower=None)),
    "one end of a range": (MAKERS, lambda file: file["row"][0].update(moment=["1 N m"])),
    "an open end misspelt": (MAKERS, lambda file: file["row"][0].update(moment=["open", "1 N m"])),
    "no rows": (MAKERS, lambda file: file.update(row=[])),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_input_is_refused_by_schema_and_reader_alike(name: str) -> None:
    """What the schema refuses here, the reader of the file refuses too."""
    document = changed(*BROKEN[name])
    reader_of = tool.schemas()["hingeline/limits/1" if "row" in document else "hingeline/weighing/1"]
    with pytest.raises(ValidationError):
        Draft202012Validator(reader_of).validate(document)
    reader = read_limits if "row" in document else read_weighing
    with pytest.raises(InputRefused, match=r"is refused\. Expected"):
        reader(as_toml(document).encode())


def as_toml(document: Any) -> str:
    """Write a small document as TOML; null as a word that no reader takes."""
    return "\n".join(f"{key} = {value_in_toml(value)}" for key, value in document.items())


def value_in_toml(value: Any) -> str:
    """Write a value in one line."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {value_in_toml(item)}" for key, item in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(value_in_toml, value)) + "]"
    return "null" if value is None else json.dumps(value, ensure_ascii=False)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_this_test_writes_is_what_it_read(path: Path) -> None:
    """The small writer above keeps an example as it is, so that a refusal comes from the change alone."""
    document = read_job(path.read_bytes())
    assert read_job(as_toml(document).encode()) == document


@pytest.mark.parametrize(
    "text",
    ["255 mm", "255mm", " 255 mm", "-20 mm", "\u221220 mm", "+.5 in", "1.2e-3 m", "1E3 mm", "12.6\u00a0in"],
)
def test_a_quantity_that_the_reader_takes_fits_the_pattern(text: str) -> None:
    """Every way to write a number that the grammar takes is let through by the schema."""
    assert read(text, "length")
    valid(changed(FIRST, lambda file: file["surface"].update(vertical_offset=text)))


# -------------------------------------------------------------------- what comes out


@pytest.mark.parametrize("path", WEIGHINGS, ids=lambda path: path.stem)
def test_a_weighing_result_fits(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The output of weigh fits to the last field; so do the stored record and the result without "about"."""
    valid(output(capsys, "weigh", str(path)))
    weighing = read_weighing(path.read_bytes()).weighing
    valid(to_document(weigh(weighing)))
    record = to_document(weighing)
    valid(record)
    assert from_document(json.loads(json.dumps(record)), Weighing) == weighing


def test_the_second_way_to_u_fits(capsys: pytest.CaptureFixture[str]) -> None:
    """With --draws the Monte Carlo result stands beside the record, and fits."""
    document = output(capsys, "weigh", str(FIRST), "--draws", "20000")
    assert document["monte_carlo"]["draws"] == 20000
    valid(document)


def test_nothing_known_fits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """One reading, nothing stated, no limits: what does not exist is null, and fits."""
    path = tmp_path / "bare.toml"
    path.write_text('format = "hingeline/weighing/1"\n[surface]\nname = "x"\n[[support]]\narm = "1 m"\nside = "aft"\n'
                    'readings = ["1 kg"]\n')  # fmt: skip
    document = output(capsys, "weigh", str(path))
    assert document["statement"] is None
    assert document["static_moment"]["expanded_uncertainty"] is None
    valid(document)


def test_a_plan_fits(capsys: pytest.CaptureFixture[str]) -> None:
    """The output of weigh --before fits."""
    valid(output(capsys, "weigh", str(FIRST), "--before"))


@pytest.mark.parametrize("path", LIMITS, ids=lambda path: path.stem)
def test_a_limits_result_fits(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The output of limits fits, with contradictions, small differences and doubts in it; so do real rows."""
    valid(output(capsys, "limits", str(path)))
    valid(to_document(check_rows(read_limits(MAKERS.read_bytes()))))


def test_a_self_test_fits(capsys: pytest.CaptureFixture[str]) -> None:
    """The output of selftest fits; "about" may hold more than the schema names."""
    valid(output(capsys, "selftest", "--weighings", "5"))


@pytest.mark.parametrize("topic", [[], ["weigh"]], ids=["list", "weigh"])
def test_an_explanation_fits(topic: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    """The output of explain fits, with a topic and without."""
    valid(output(capsys, "explain", *topic))


def test_a_replay_fits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The output of replay fits."""
    sheet = tmp_path / "sheet.pdf"
    assert main(["weigh", str(FIRST), "--pdf", str(sheet)]) == 0
    capsys.readouterr()
    document = output(capsys, "replay", str(sheet))
    assert document["same"] is True
    valid(document)


def test_a_refusal_fits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The document of a refused file fits, with every fault in it; so does that of a wrong command."""
    path = tmp_path / "broken.toml"
    path.write_text(FIRST.read_text("utf-8").replace('"255 mm"', '"255"').replace('side = "aft"', 'side = "left"'))
    document = output(capsys, "weigh", str(path), status=2)
    assert len(document["errors"]) == 2
    valid(document)
    valid(output(capsys, "weight", status=2))


def test_a_fault_of_our_own_fits(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Where the program is at fault, the error document fits, and so does the record that is kept."""

    def broken(*_: object) -> None:
        raise ZeroDivisionError("planted")

    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    monkeypatch.setattr("hingeline_app.cli.weigh.weigh", broken)
    document = output(capsys, "weigh", str(FIRST), status=1)
    assert document["errors"][0]["field"] is None
    valid(document)
    (kept,) = tmp_path.rglob("*.json")
    valid(json.loads(kept.read_text("utf-8")))


WRONG_RESULTS: dict[str, Callable[[Any], object]] = {
    "a field missing": lambda result: result.pop("budget"),
    "another unit": lambda result: result["static_moment"].update(unit="kg cm"),
    "no sense": lambda result: result["static_moment"].pop("sense"),
    "a sense that is none": lambda result: result["static_moment"].update(sense="heavy"),
    "a bare number": lambda result: result.update(margin=0.1),
    "a statement that is none": lambda result: result.update(statement="airworthy"),
    "a word for a number": lambda result: result["static_moment"].update(value="2.1"),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", WRONG_RESULTS)
def test_a_wrong_result_does_not_fit(name: str) -> None:
    """A result with one thing wrong is refused even by the open schema."""
    result = to_document(weigh(read_weighing(FIRST.read_bytes()).weighing))
    schema = Draft202012Validator(tool.schemas()["hingeline/weighing-result/1"])
    schema.validate(result)
    WRONG_RESULTS[name](result)
    with pytest.raises(ValidationError):
        schema.validate(result)


def test_an_undeclared_field_does_not_fit_the_strict_form() -> None:
    """A field that a record does not declare is found by the strict form, which the tests above use."""
    result = to_document(weigh(read_weighing(FIRST.read_bytes()).weighing))
    result["static_moment"]["airworthy"] = True
    with pytest.raises(ValidationError, match="airworthy"):
        valid(result)
