"""``hingeline explain flutter``: every number of the page is the command's."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from hingeline.flutter import FlutterTask, analyse
from hingeline_app.cli.explain import explanation
from hingeline_app.cli.main import main
from hingeline_app.files.flutter_file import read_flutter
from tests.doors.checkouts import ROOT

EXAMPLE = ROOT / "examples" / "flutter" / "01-elevator-strip.toml"


def page() -> str:
    """Give the page."""
    return explanation("flutter")


def strip() -> FlutterTask:
    """Read the example of the page."""
    return read_flutter(EXAMPLE.read_bytes())


def row_of(name: str) -> list[str]:
    """Give the cells of the one row of the page that begins with a name."""
    (found,) = re.findall(rf"^\| {name} +\|(.*)\|$", page(), re.MULTILINE)
    return [cell.strip() for cell in found.split("|")]


def test_the_lines_it_shows_are_lines_of_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    """What the page shows as said by the command is said by it, line by line and in that order."""
    (block,) = re.findall(r"```console\n(.*?)```", page(), re.DOTALL)
    called, *shown = block.splitlines()
    assert called == "$ hingeline flutter examples/flutter/01-elevator-strip.toml"
    assert len(shown) >= 9
    assert main(["flutter", str(EXAMPLE)]) == 0
    said = iter(re.sub("[\u00a0\u202f]", " ", capsys.readouterr().out).splitlines())
    assert [line for line in shown if line not in said] == []


def test_the_reduced_frequency_is_worked_out_right() -> None:
    """ω b/U with the numbers that the page shows gives the number that it shows."""
    assert f"{2 * math.pi * 7.618 * 0.380 / 39.33:.3f}" == "0.462"
    assert "2π × 7.618 Hz × 0.380 m / 39.33 m/s = 0.462" in page()


def onset_text(task: FlutterTask) -> str:
    """Write an onset as the tables of the page do."""
    found = analyse(task).flutter
    return "none" if found is None else f"{found.speed:.2f}"


def starts_under(name: str) -> list[str]:
    """Give the speeds in the row after the one that begins with a name."""
    (found,) = re.findall(rf"^\| {name} +\|.*\n\|[-|]+\n\| starts at \|(.*)\|$", page(), re.MULTILINE)
    return [cell.strip() for cell in found.split("|")]


@pytest.mark.slow
def test_the_table_of_static_moments_is_the_librarys() -> None:
    """Each onset of the page for another static moment of the elevator is what ``analyse`` finds."""
    task, values = strip(), [float(cell.replace("−", "-")) for cell in row_of("S_β, kg")]
    assert task.section is not None
    assert len(values) == 6
    found = [onset_text(replace(task, section=replace(task.section, surface_static_moment=value))) for value in values]
    assert starts_under("S_β, kg") == found


@pytest.mark.slow
def test_the_table_of_damping_is_the_librarys() -> None:
    """Each onset of the page for another assumed damping is what ``analyse`` finds."""
    (found,) = re.findall(r"^\| g  +\|((?: [\d.]+ +\|)+)$", page(), re.MULTILINE)
    values = [float(cell) for cell in found.strip("|").split("|")]
    assert len(values) == 4
    assert starts_under("g") == [onset_text(replace(strip(), structural_damping=(value,))) for value in values]


@pytest.mark.slow
def test_a_little_weight_can_lower_the_speed() -> None:
    """What the page says of a small weight holds: on the study tailplane 1.5 kg lowers the onset."""
    task = read_flutter((EXAMPLE.parent / "06-tailplane-free-play.toml").read_bytes())
    assert task.tailplane is not None
    from hingeline.flutter import TailplaneWeight

    weighted = replace(task.tailplane, weights=(TailplaneWeight(1.5, 0.35),))
    assert float(onset_text(replace(task, tailplane=weighted))) < float(onset_text(task))
    assert "*lower* the speed" in page()
