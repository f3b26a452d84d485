"""``hingeline selftest``: a page, a document, and an exit status that can be relied on."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from hingeline import exact
from hingeline_app.cli.main import main

QUICK = ["selftest", "--weighings", "40"]


def test_a_sound_installation_exits_with_0(capsys: pytest.CaptureFixture[str]) -> None:
    """The page counts cases, values and weighings, names versions and time, and ends with its caution."""
    assert main(QUICK) == 0
    page, errors = capsys.readouterr()
    assert "This installation computes what it should." in page
    assert "53 published values in 18 cases: all agree with their print." in page
    assert "40 invented weighings by two routes that share no arithmetic: all agree." in page
    for words in ("Hingeline", "Python", "NumPy", "It took", "It proves nothing about"):
        assert words in page
    assert "NOT AGREE" not in page
    assert errors == ""


def test_the_document(capsys: pytest.CaptureFixture[str]) -> None:
    """With --json there is one document that says of each value whether it agrees."""
    assert main([*QUICK, "--json"]) == 0
    document = json.loads(capsys.readouterr().out, parse_constant=refuse)
    assert document["format"] == "hingeline/selftest/1"
    assert document["agrees"] is True
    assert all(value["agrees"] for case in document["cases"] for value in case["values"])
    assert document["two_routes"]["agreeing"] == 40
    assert set(document["about"]) == {"program", "version", "python", "machine", "numpy", "elapsed"}


def refuse(constant: str) -> Any:
    """NaN and infinity have no place in a document."""
    raise AssertionError(constant)


@pytest.mark.parametrize("extra", [[], ["--json"]], ids=["page", "json"])
def test_a_wrong_constant_exits_with_1(
    extra: list[str], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """An inch wrong in its fifth digit in one route: exit 1, and the sentence not to use this installation."""
    monkeypatch.setitem(exact._LENGTH, "in", Fraction("0.025401"))
    assert main([*QUICK, *extra]) == 1
    page, errors = capsys.readouterr()
    assert errors.startswith("Do not use this installation: it does not compute what it should.")
    if extra:
        assert json.loads(page)["agrees"] is False
    else:
        assert "DO NOT AGREE" in page
        assert "This installation computes what it should." not in page


def test_a_wrong_print_shows_in_its_line(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """A published value that is not met is marked in words in its own line."""
    from hingeline_app.selftest import run

    cases = [dict(case) for case in run.published_cases()]
    cases[0] = {**cases[0], "values": {"coverage factor": [2.93, 0.005]}}
    monkeypatch.setattr(run, "published_cases", lambda: cases)
    assert main(QUICK) == 1
    page = capsys.readouterr().out
    (line,) = [line for line in page.splitlines() if line.lstrip().startswith("coverage factor")]
    assert line.split()[-4:] == ["2.9208", "DOES", "NOT", "AGREE"]
    assert "Not met: GUM H.1." in " ".join(page.split())


def test_no_weighings_are_refused(capsys: pytest.CaptureFixture[str]) -> None:
    """Zero weighings would prove nothing: refused with exit 2, naming the option."""
    assert main(["selftest", "--weighings", "0"]) == 2
    assert "--weighings" in capsys.readouterr().err
