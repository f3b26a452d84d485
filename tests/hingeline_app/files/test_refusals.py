"""Whatever the schema library finds wrong with a job file is said in our own sentences."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any, get_args, get_origin

import pytest
from pydantic import BaseModel, ValidationError

from hingeline.errors import InputRefused, Refusal
from hingeline_app.files.ballast_file import BallastFile
from hingeline_app.files.coating_file import CoatingFile
from hingeline_app.files.due_file import DueFile
from hingeline_app.files.dynamic_file import DynamicFile
from hingeline_app.files.flutter_tables import FlutterFile
from hingeline_app.files.limits_file import LimitsFile
from hingeline_app.files.marks_file import MarksFile
from hingeline_app.files.quantities import MOST_ITEMS
from hingeline_app.files.refusals import SENTENCES, refused
from hingeline_app.files.shown import path, shown
from hingeline_app.files.swing_file import SwingFile
from hingeline_app.files.weighing_file import WeighingFile
from hingeline_app.said import reading_in, says

FILES: list[type[BaseModel]] = [
    WeighingFile,
    LimitsFile,
    MarksFile,
    BallastFile,
    CoatingFile,
    SwingFile,
    DynamicFile,
    DueFile,
    FlutterFile,
]
# A date comes as a text, since the reader of the text turns it into one; nothing is null in a file.
WRONG: dict[str, Any] = {
    "text": "abc",
    "empty text": "",
    "quantity": "12.6 in",
    "whole number": 7,
    "number": 1.5,
    "large number": 10**12,
    "true": True,
    "date": "2027-03-12",
    "empty list": [],
    "list": ["840 g"],
    "list of numbers": [1, 2, 3],
    "list of tables": [{}],
    "huge list": ["840 g"] * (MOST_ITEMS + 1),
    "empty table": {},
    "table": {"limit": 3, "unheard of": 1},
    "deep table": {"value": {"value": {"value": []}}},
}
FOREIGN = re.compile(r"Input should|pydantic|valid |\{|Error|Typed|Stated|None|True|NoneType|'")


def inner_table(annotation: Any) -> tuple[type[BaseModel] | None, bool]:
    """The table within an annotation, and whether a list of it is wanted."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, False
    for part in get_args(annotation):
        table, _ = inner_table(part)
        if table is not None:
            return table, get_origin(annotation) is list
    return None, False


def documents(model: type[BaseModel], wrong: Any) -> Iterator[dict[str, Any]]:
    """One document for each field of a file, at any depth, in which that field is wrong."""
    yield {"unheard of": wrong}
    for name, field in model.model_fields.items():
        yield {name: wrong}
        table, listed = inner_table(field.annotation)
        if table is not None:
            for below in documents(table, wrong):
                yield {name: [below] if listed else below}


def faults(model: type[BaseModel], document: dict[str, Any]) -> ValidationError:
    """What the schema library reports; nothing made here is a whole file, so it always reports something."""
    with pytest.raises(ValidationError) as caught:
        model.model_validate(document)
    return caught.value


@pytest.mark.parametrize("wrong", WRONG)
@pytest.mark.parametrize("model", FILES, ids=lambda model: model.__name__)
def test_every_fault_of_every_field_is_said_in_four_texts(model: type[BaseModel], wrong: str) -> None:
    """Each field of each file, given each wrong kind of value, is refused in our words, in three languages."""
    tried = 0
    for document in documents(model, WRONG[wrong]):
        refusal: InputRefused = refused(faults(model, document), model)
        for each in refusal.refusals:
            assert_said(each)
            assert_said_elsewhere(each.expected)
            assert_said_elsewhere(each.remedy)
        tried += 1
    assert tried > len(model.model_fields)


def assert_said(refusal: Refusal) -> None:
    """All four texts are there, and none has a word of the packages behind."""
    for text in (refusal.field, refusal.expected, refusal.remedy):
        assert text.strip()
    assert not FOREIGN.search(refusal.expected), refusal
    # Braces, quotes and the like stand in a remedy only as an example of what to type.
    assert not re.search(r"Input should|pydantic|\{(?:example|header|expected)|None\b|True\b", refusal.remedy), refusal
    assert len(refusal.value) <= 200


@cache
def assert_said_elsewhere(text: str) -> None:
    """The book of phrases says the whole of it in German and French."""
    for language in ("de", "fr"):
        with reading_in(language):
            assert says(text) is not None, text


@pytest.mark.slow
def test_the_sentences_are_those_that_are_needed() -> None:
    """Every kind of fault that our files can have has a sentence, and no sentence is for a kind that cannot occur."""
    found = {
        error["type"]
        for model in FILES
        for wrong in WRONG.values()
        for document in documents(model, wrong)
        for error in faults(model, document).errors()
        if not isinstance(error.get("ctx", {}).get("error"), InputRefused)
    }
    assert found == set(SENTENCES)


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (True, "true"),
        (3, "3"),
        ("840 g", "840 g"),
        (["840 g", 1.5], '["840 g", 1.5]'),
        ({"limit": "2 mm", "k": 2}, '{limit = "2 mm", k = 2}'),
        ({"a b": {}}, '{"a b" = {}}'),
        ("x" * 300, "x" * 119 + "…"),
    ],
)
def test_a_value_is_shown_as_it_stands_in_the_file(value: Any, text: str) -> None:
    """Values are shown in the file's own notation, cut at 120 characters."""
    assert shown(value) == text


def test_a_place_is_written_as_a_path() -> None:
    """Lists are counted from 0 in brackets; a name that needs quotes has them."""
    assert path(("support", 0, "readings", 2)) == "support[0].readings[2]"
    assert path(("a b", "", 'c"d')) == '"a b"."".' + r'"c\"d"'


def one(model: type[BaseModel], document: dict[str, Any], field: str) -> Refusal:
    """The refusal of one field."""
    (found,) = (each for each in refused(faults(model, document), model).refusals if each.field == field)
    return found


def test_an_unknown_name_is_answered_by_the_near_one_or_by_its_place() -> None:
    """A slip of the keyboard names the near field; a field of another table names that table; else all are listed."""
    near = one(WeighingFile, {"surface": {"nam": "x"}}, "surface.nam")
    assert 'Did you mean "name"?' in near.remedy
    elsewhere = one(WeighingFile, {"surface": {"coverage": 0.95}}, "surface.coverage")
    assert "It belongs to uncertainty." in elsewhere.remedy
    strange = one(WeighingFile, {"zzzz": 1}, "zzzz")
    assert strange.remedy.startswith("It is not known here. Known: format, local_gravity, surface")


def test_what_is_missing_is_shown_by_an_example() -> None:
    """A missing field is answered by a line that may be typed."""
    assert one(WeighingFile, {}, "format").remedy == 'Add it: format = "hingeline/weighing/1".'
    assert one(LimitsFile, {}, "format").remedy == 'Add it: format = "hingeline/limits/1".'
    assert one(WeighingFile, {"support": [{}]}, "support[0].arm").remedy == 'Add it, for example arm = "255 mm".'


@pytest.mark.parametrize(
    ("document", "field", "words"),
    [
        ({"support": {"arm": "1 m"}}, "support", "[[support]], with two brackets"),
        ({"surface": [{}]}, "surface", "[surface], and its fields"),
        ({"support": ["x"]}, "support[0]", "[[support]], and its fields"),
        ({"surface": {"balance_weight": {}}}, "surface.balance_weight", "[[surface.balance_weight]], with two"),
    ],
)
def test_wrong_brackets_are_answered_by_the_right_ones(document: dict[str, Any], field: str, words: str) -> None:
    """A table where a list of tables belongs, or the other way round, is answered by the header to type."""
    assert words in one(WeighingFile, document, field).remedy


def test_a_file_of_countless_faults_is_answered_by_a_thousand() -> None:
    """The first thousand faults are told, and how many there are beyond."""
    refusals = refused(faults(LimitsFile, {f"unheard{number}": 1 for number in range(1500)}), LimitsFile).refusals
    assert len(refusals) == 1001
    assert refusals[-1].value == "502 more faults"  # the format and the rows are missing too
