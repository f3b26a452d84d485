"""``hingeline stick``: senses in words, nothing said about flutter but the caution; its explanation is computed."""

from __future__ import annotations

import json
import re

import pytest
from jsonschema import Draft202012Validator

from hingeline.flutter.stick_model import StickResult
from hingeline_app.cli.explain import explanation
from hingeline_app.cli.main import main
from hingeline_app.files.schemas import result_schema
from tests.doors.checkouts import ROOT

EXAMPLE = str(ROOT / "examples" / "16-elevator-at-the-stick.toml")


def page(capsys: pytest.CaptureFixture[str]) -> str:
    """Run the example; give its page with every run of spaces and frames as one space."""
    assert main(["stick", EXAMPLE]) == 0
    return re.sub(r"[\s│]+", " ", capsys.readouterr().out)


def test_the_page_says_every_sense_in_words(capsys: pytest.CaptureFixture[str]) -> None:
    """No sign stands in the page: down and up, pull and push do; the caution closes it."""
    text = page(capsys)
    assert "level flight 1.00 3.18 N·m down 6.04 N pull" in text
    assert "nose thrown up 1.00 2.87 N·m up 5.45 N push" in text
    assert "25.0 m/s 3.74° down 5.24° down" in text
    assert "shows nothing about flutter" in text
    assert "3.18 N·m down at the trailing edge" in text
    assert not re.search(r"[−-]\d", text)


def test_the_document_is_as_its_schema_says(capsys: pytest.CaptureFixture[str]) -> None:
    """One JSON document, every moment with its sense."""
    assert main(["stick", EXAMPLE, "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    Draft202012Validator(result_schema(StickResult, closed=True)).validate(document)
    assert document["loads"][2]["hinge_moment"]["sense"] == "nose-heavy"


def test_the_explanation_shows_what_is_computed(capsys: pytest.CaptureFixture[str]) -> None:
    """Each row of the worked example is the program's own, to the printed digit."""
    assert main(["stick", EXAMPLE, "--json"]) == 0
    loads = {load["name"]: load for load in json.loads(capsys.readouterr().out)["loads"]}
    rows = re.findall(
        r"^\| (level flight|pull-up, 3 g|nose thrown up) +\| (\S+) +\| (\S+) +\|$", explanation("stick"), re.M
    )
    assert len(rows) == 3
    for name, moment, force in rows:
        for text, field in ((moment, "hinge_moment"), (force, "stick_force")):
            digits = len(text.partition(".")[2])
            assert f"{loads[name][field]['value']:.{digits}f}".replace("-", "−") == text


def test_a_file_of_another_command_is_sent_there(capsys: pytest.CaptureFixture[str]) -> None:
    """A stick file given to the flutter command is sent to its own, and a strange field is named."""
    assert main(["flutter", EXAMPLE]) == 2
    assert 'Use "hingeline stick" for this file.' in capsys.readouterr().err
