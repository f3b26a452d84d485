"""``hingeline explain``: pages of which every number is the program's own."""

from __future__ import annotations

import json
import math
import re
import sys
from functools import cache
from typing import Any

import pytest

from hingeline.balance import LimitRow, PrintedRange, check_rows, weigh
from hingeline.uncertainty import coverage_factor
from hingeline.units import read
from hingeline_app.cli.explain import TOPICS, explanation, list_of_topics
from hingeline_app.cli.main import COMMANDS, main
from hingeline_app.files.weighing_file import read_weighing
from tests.doors.checkouts import ROOT

EXAMPLE = ROOT / "examples" / "01-elevator-left-half.toml"


def test_without_a_topic_it_lists_them(capsys: pytest.CaptureFixture[str]) -> None:
    """Called alone, it names each topic as it is to be typed."""
    assert main(["explain"]) == 0
    said = capsys.readouterr().out
    for topic, line in TOPICS.items():
        assert re.search(rf"hingeline explain {topic} +{re.escape(line)}", said)


@pytest.mark.parametrize("topic", TOPICS)
def test_a_page_is_its_file_word_for_word(topic: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Where nobody looks at a terminal, the plain text is written, and nothing else."""
    assert main(["explain", topic]) == 0
    assert capsys.readouterr() == (explanation(topic), "")


@pytest.mark.parametrize("topic", TOPICS)
def test_on_a_terminal_it_is_set(
    topic: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a terminal the marks of the text are gone and its words are there."""
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert main(["explain", topic]) == 0
    said = capsys.readouterr().out
    assert explanation(topic).splitlines()[0].removeprefix("# ") in said
    assert not re.search(r"^#+ |^\|---", said, re.MULTILINE)


@pytest.mark.parametrize("topic", [None, *TOPICS])
def test_as_json_it_is_one_document(topic: str | None, capsys: pytest.CaptureFixture[str]) -> None:
    """With --json there is exactly one document, with the text inside."""
    assert main(["explain", *([topic] if topic else []), "--json"]) == 0
    document = json.loads(capsys.readouterr().out)
    assert set(document) == {"format", "topic", "text"}
    assert document["format"] == "hingeline/explanation/1"
    assert document["topic"] == topic
    assert document["text"] == explanation(topic) if topic else "Topics:" in document["text"]


@pytest.mark.parametrize("topic", ["nonsense", "", "../main", "weigh.md"])
def test_an_unknown_topic_is_refused(topic: str, capsys: pytest.CaptureFixture[str]) -> None:
    """What is no topic is refused with the topics that there are; no file is looked for by that name."""
    assert main(["explain", topic]) == 2
    said = capsys.readouterr().err
    assert "TOPIC" in said
    assert f"one of {', '.join(TOPICS)}" in said


# ------------------------------------------------------------------ the worked example


@cache
def result() -> Any:
    """Weigh the example of the page."""
    return weigh(read_weighing(EXAMPLE.read_bytes()).weighing)


def test_the_lines_it_shows_are_lines_of_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    """What the page shows as said by the command is said by it, line by line and in that order."""
    (block,) = re.findall(r"```console\n(.*?)```", explanation("weigh"), re.DOTALL)
    called, *shown = block.splitlines()
    assert called == "$ hingeline weigh examples/01-elevator-left-half.toml"
    assert len(shown) > 10
    assert main(["weigh", str(EXAMPLE)]) == 0
    said = iter(re.sub("[\u00a0\u202f]", " ", capsys.readouterr().out).splitlines())
    assert [line for line in shown if line not in said] == []


def test_the_sum_is_the_commands() -> None:
    """Mean, push and moment in the worked example are the command's, at the digits that are shown."""
    (support,) = result().supports
    page = explanation("weigh")
    assert f"= {support.net.value:.1f} g\n" in page
    assert f"= {support.force:.4f} N\n" in page
    assert f"= {result().static_moment.value:.4f} N·m, tail-heavy\n" in page


@pytest.mark.parametrize(
    ("line", "source", "unit"),
    [
        ("readings", "readings", ("g", 1e3, 2)),
        ("scale's step", "scale's step", ("g", 1e3, 2)),
        ("friction", "friction in the bearings", ("g", 1e3, 2)),
        ("calibration", "scale calibration", ("g", 1e3, 2)),
        ("arm", "arm", ("mm", 1e3, 2)),
        ("level", "level", ("mrad", 1e3, 2)),
    ],
)
def test_the_makeup_of_the_uncertainty_is_the_commands(line: str, source: str, unit: tuple[str, float, int]) -> None:
    """Each cause in the worked example: its u, its sensitivity, its part of the moment."""
    (row,) = (each for each in result().budget if each.source == source)
    symbol, factor, places = unit
    (shown,) = re.findall(rf"^    {line}  .*$", explanation("weigh"), re.MULTILINE)
    assert f" = {row.standard_uncertainty * factor:.{places}f} {symbol} " in shown
    assert f" × {abs(row.sensitivity):.4f} " in shown
    assert shown.endswith(f"= {row.contribution:.5f} N·m")


def test_the_expanded_uncertainty_is_the_commands() -> None:
    """u, k, U, degrees of freedom and the interval in the worked example are the command's."""
    moment, page = result().static_moment, explanation("weigh")
    assert f"= {moment.standard_uncertainty:.4f} N·m\n" in page
    assert f"U = {moment.coverage_factor:.3f} × {moment.standard_uncertainty:.4f} N·m" in page
    assert f"= {moment.expanded_uncertainty:.4f} N·m\n" in page
    assert f"{int(moment.degrees_of_freedom)} effective" in page
    low, high = moment.value - moment.expanded_uncertainty, moment.value + moment.expanded_uncertainty
    assert f"the interval {low:.3f} … {high:.3f} N·m crosses the limit" in page


def test_the_statement_is_the_commands() -> None:
    """The words of both rules in the worked example are the command's."""
    page = re.sub(r"\s+", " ", explanation("weigh"))
    assert f"By the simple rule the surface is **{result().statement_simple}**" in page
    assert f"By the guarded rule it is **{result().statement_guarded}**" in page


def test_the_example_of_level_is_right() -> None:
    """4 kg, 20 mm below the hinge line, one degree: m g z tan θ, worked here (statics, no source)."""
    assert f"{4.0 * 9.80665 * 0.020 * math.tan(math.radians(1.0)):.3f}" == "0.014"
    assert "changes the moment by 0.014 N·m" in explanation("weigh")


def test_the_table_of_coverage_factors_is_the_librarys() -> None:
    """The factors for 95 % in the page are those that the library uses."""
    degrees, factors = (
        [cell.strip() for cell in row.split("|")[2:-1]]
        for row in re.findall(r"^\| (?:ν_eff|k for).*$", explanation("uncertainty"), re.MULTILINE)
    )
    assert len(degrees) == len(factors) > 5
    for freedom, factor in zip(degrees, factors, strict=True):
        assert factor == f"{coverage_factor(0.95, None if freedom == 'not limited' else float(freedom)):.2f}"


def row_of(second: str) -> Any:
    """Compare 0.00 … 2.10 N m with an upper limit in a second unit."""
    moment = PrintedRange(read("0.00 N m", "moment"), read("2.10 N m", "moment"))
    other = PrintedRange(read("0.0 kg cm", "moment"), read(second, "moment"))
    return check_rows((LimitRow("elevator", moment, second_unit=other),)).rows[0]


def test_the_example_of_a_contradiction_is_found() -> None:
    """24.1 kg cm beside 2.10 N m is a contradiction of the size that the page gives; 21.4 kg cm agrees."""
    (found,) = row_of("24.1 kg cm").contradictions
    page = explanation("limits")
    assert f"{found.difference_percent:.1f} % apart" in page
    assert f"more than 1 % of {found.computed:.3f} N·m" in page
    assert row_of("21.4 kg cm").contradictions == row_of("21.4 kg cm").small_differences == ()


@pytest.mark.parametrize("text", ["24.1 kg cm", "21.4 kg cm", "2.10 N m"])
def test_the_intervals_of_printed_numbers_are_right(text: str) -> None:
    """What a printed number stands for, half its last digit to both sides, is as the page writes it."""
    number = read(text, "moment")
    half = number.last_digit / 2.0
    assert f"{number - half:.3f} … {number + half:.3f} N·m" in explanation("limits")


def test_in_a_narrow_terminal_a_topic_goes_on_under_its_own_words() -> None:
    """What did not fit went on at the left edge, among the names of the commands."""
    lines = list_of_topics(80).splitlines()[2:]
    assert max(map(len, lines)) <= 80
    begins = lines[0].index(TOPICS["weigh"].split()[0])
    assert all(line.startswith("    hingeline explain ") or line[:begins].isspace() for line in lines)
    assert " ".join(lines[0].split()[3:] + lines[1].split()) == TOPICS["weigh"]


@pytest.mark.parametrize("command", COMMANDS)
def test_no_help_breaks_a_word_at_its_hyphen(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    """A line ended in "positive tail-", and "heavy" stood on the next."""
    main([command, "--help"])
    assert [line for line in capsys.readouterr().out.splitlines() if line.endswith("-")] == []
