"""What is written about the program is true of it."""

from __future__ import annotations

import dataclasses
import doctest
import importlib
import pkgutil
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import click
import pytest
from pydantic import BaseModel

import hingeline
import hingeline_app.files
from hingeline import balance
from hingeline.arm import model as arm
from hingeline.arm import results as arm_results
from hingeline.balance import limits, model, printed_limits
from hingeline.balance.ballast import model as correction
from hingeline.balance.coating import model as coating
from hingeline.balance.spread import model as spread
from hingeline.balance.swing import model as swing
from hingeline.due import model as due
from hingeline.due import results as due_results
from hingeline.flutter import model as flutter
from hingeline.flutter import stick_model as stick
from hingeline.motion import model as motion
from hingeline.motion import onset_model as motion_onset
from hingeline.motion import results as motion_results
from hingeline.motion.marks import model as marks
from hingeline.motion.marks import results as section
from hingeline_app.cli.explain import TOPICS, explanation
from hingeline_app.cli.main import COMMANDS, hingeline_command
from tests.doors.checkouts import ROOT
from tools import write_docs

STALE = "run: .venv-check/bin/python tools/write_docs.py"
PAGES = sorted([*ROOT.glob("*.md"), *(ROOT / "docs").rglob("*.md"), *(ROOT / "changelog.d").glob("*.md")])
README, GUIDE = ROOT / "README.md", ROOT / "docs" / "guide"
NOMENCLATURE, HAZARDS = ROOT / "docs" / "nomenclature.md", ROOT / "docs" / "hazards.md"


def read(page: Path) -> str:
    """Give the text of a page."""
    return page.read_text(encoding="utf-8")


def loaded(name: str) -> click.Command:
    """Load one command as the command line does."""
    command = hingeline_command.get_command(click.Context(hingeline_command), name)  # type: ignore[arg-type]
    assert command is not None
    return command


def options_of(command: click.Command) -> set[str]:
    """Name the options of a command, and of the commands under it."""
    below = command.commands.values() if isinstance(command, click.Group) else []
    own = {option for each in command.params for option in each.opts}
    return own.union(*map(options_of, below))


# ------------------------------------------------------------------ commands


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_shown_to_the_reader(name: str) -> None:
    """README or a page of the guide shows each command as it is typed."""
    assert re.search(rf"\./hingeline {name}\b", read(README) + "".join(map(read, GUIDE.glob("*.md"))))


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_help_with_an_example(name: str) -> None:
    """The help of each command ends with an example of that command."""
    command = loaded(name)
    assert command.help is not None
    assert re.search(rf"Example: hingeline {name}\b", command.help)
    assert command.get_short_help_str(100) == COMMANDS[name]


@pytest.mark.parametrize("name", [name for name in TOPICS if name in COMMANDS])
def test_the_help_of_what_computes_says_units_and_sense(name: str) -> None:
    """How a quantity is written with its unit, and which way is positive; of a margin and of hours, what they are."""
    words = " ".join((loaded(name).help or "").split())
    assert re.search(r"carries its unit|hours of an aircraft are what its meter shows", words)
    assert re.search(r"\b[Pp]ositive\b|below 0|totals", words)


def test_the_help_of_printed_limits_says_that_a_row_has_its_own_plus() -> None:
    """A nose-heavy row of example 7 typed by a help that says tail-heavy would be turned round."""
    words = " ".join((loaded("limits").help or "").split())
    assert "which way the document's plus points, tail heavy or nose heavy" in words


@pytest.mark.parametrize("name", COMMANDS)
def test_what_help_names_exists(name: str) -> None:
    """A file of the examples that a command's help names is there."""
    for example in re.findall(r"examples/[\w./-]+\.toml", loaded(name).help or ""):
        assert (ROOT / example).is_file(), example


def test_only_commands_that_exist_are_shown() -> None:
    """No page shows a command, or an option of one, that the program does not have."""
    for page in [*PAGES, *(ROOT / "src" / "hingeline_app" / "cli" / "explanations").glob("*.md")]:
        if page.parent.name == "decisions" or page.name == "CHANGELOG.md":
            continue
        for name, rest in re.findall(r"(?:\./|`|\$ )hingeline (\w+)([^`\n|]*)", read(page)):
            assert name in COMMANDS, f"{page.name}: {name}"
            known = options_of(loaded(name))
            shown = re.findall(r"(?<= )--[a-z]+(?:-[a-z]+)*", rest.partition("  ")[0])
            assert set(shown) <= known, f"{page.name}: {name}{rest}"


# ------------------------------------------------------------------ pages


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_leads_to_a_file(page: Path) -> None:
    """A link of a page to a file of this project, or a picture, leads there."""
    for target in re.findall(r"\]\(([^)\s]+)\)", read(page)):
        if "://" not in target and not target.startswith("#"):
            assert (page.parent / target.partition("#")[0]).exists(), target


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_file_named_in_words_exists(page: Path) -> None:
    """A file of tests, tools, docs or examples that a page names in back-quotes is there."""
    for named in re.findall(r"`((?:tests|tools|docs|examples|requirements)/[\w./-]+\.\w+)`", read(page)):
        assert (ROOT / named).is_file(), named


FOR_A_READER = [
    README,
    *(ROOT / "docs" / f"{name}.md" for name in ("index", "what_is_kept", "what_it_cannot_do")),
    *sorted(GUIDE.glob("*.md")),
    *sorted((ROOT / "docs" / "walks").glob("*.md")),
]


@pytest.mark.parametrize("page", FOR_A_READER, ids=lambda page: str(page.relative_to(ROOT)))
def test_no_sentence_is_long(page: Path) -> None:
    """A sentence for somebody at a bench has thirty words at most (common practice, no source)."""
    assert [each for each in sentences(read(page)) if len(re.findall(r"\S*\w\S*", each)) > 30] == []


def sentences(page: str) -> Iterator[str]:
    """Give what is read in one breath: a sentence, a point of a list, a cell of a table; no commands, no files."""
    told = re.sub(r"^```.*?^```|^ {4}\S.*?$", "\n", page, flags=re.DOTALL | re.MULTILINE)
    told = re.sub(r"!?\[([^]]*)\]\([^)]*\)", r"\1", told)
    told = re.sub(r"\|", "\n\n", re.sub(r"^\s*(?:[-*]|\d+\.|#+) ", "\n\n", told, flags=re.MULTILINE))
    for paragraph in re.split(r"\n\s*\n", told):
        yield from re.split(r"(?<=[.!?])[\"*)]*\s+(?=[A-Z\"*(`\d])", " ".join(paragraph.split()))


def test_a_long_sentence_is_found() -> None:
    """Over the ends of lines too, so that the test above is not empty."""
    assert list(sentences("One is\nshort. Two\n\n- three\n")) == ["One is short.", "Two", "three"]


@pytest.mark.parametrize("found", list(write_docs.CONSOLE.finditer(read(README))), ids=lambda found: found["words"])
def test_the_readme_shows_what_the_command_says(found: re.Match[str]) -> None:
    """The first result in the README is what the command writes today, letter by letter."""
    assert found["said"] == write_docs.said_by(*found["words"].split()), STALE


def test_the_readme_shows_a_first_result_with_its_cautions() -> None:
    """A whole result stands in the README, its cautions included, so that the test above is not empty."""
    shown = "".join(found["said"] for found in write_docs.CONSOLE.finditer(read(README)))
    assert "not a release" in shown
    assert "± is the expanded uncertainty" in shown


@pytest.mark.parametrize("name", ["elevator-beam.svg", "elevator-bar.svg"])
def test_the_pictures_are_what_the_program_draws(name: str) -> None:
    """The pictures of the README are drawn from the first example by the program as it is."""
    assert read(write_docs.IMAGES / name) == write_docs.pictures()[name], STALE


def test_the_pictures_stand_alone() -> None:
    """A code host shows the pictures as they are: own paper, no script, nothing fetched from elsewhere."""
    for picture in map(read, write_docs.IMAGES.glob("*.svg")):
        assert 'fill="#ffffff"' in picture
        assert "<script" not in picture
        assert "url(" not in picture
        assert re.findall(r"https?://[^\"' ]+", picture) == ["http://www.w3.org/2000/svg"]


def test_the_map_lists_every_file() -> None:
    """The map shows the source as it is today."""
    assert read(write_docs.MAP) == write_docs.with_every_file(read(write_docs.MAP)), STALE


@pytest.mark.parametrize("contract", ["storeys", "floors"])
def test_the_map_draws_the_storeys_of_the_contracts(contract: str) -> None:
    """Every storey of the import contracts is a line of the map, in their order."""
    project = tomllib.loads(read(ROOT / "pyproject.toml"))["tool"]["importlinter"]["contracts"]
    (layers,) = [each["layers"] for each in project if each["id"] == contract]
    lines = re.findall(r"^ +(\w+(?: \| \w+)*)(?=  |$)", read(write_docs.MAP), re.MULTILINE)
    drawn = [" | ".join(sorted(line.split(" | "))) for line in lines]
    places = [drawn.index(" | ".join(sorted(layer.split(" | ")))) for layer in layers]
    assert places == sorted(places)


def test_the_python_of_the_readme_runs() -> None:
    """The example in Python gives what the README says."""
    lines = [line for line in read(README).splitlines() if not line.startswith("```")]
    test = doctest.DocTestParser().get_doctest("\n".join(lines), {}, "README", "README.md", 0)
    assert len(test.examples) > 5
    assert doctest.DocTestRunner().run(test).failed == 0


def test_decisions_are_numbered_once_and_written_alike() -> None:
    """Each decision has a number of its own and the four parts."""
    pages = sorted((ROOT / "docs" / "decisions").glob("*.md"))
    assert len({page.name[:4] for page in pages}) == len(pages) > 5
    for page in pages:
        assert read(page).startswith(f"# {int(page.name[:4])}. "), page.name
        headings = re.findall(r"^## (.+)$", read(page), re.MULTILINE)
        assert headings == ["Context", "Choice", "Alternatives tried", "Consequences"], page.name


# ------------------------------------------------------------------ names


def record_fields() -> Iterator[tuple[str, str]]:
    """Give every field of the public records, with its record."""
    beside = (
        correction,
        coating,
        swing,
        spread,
        flutter,
        due,
        due_results,
        stick,
        marks,
        section,
        arm,
        arm_results,
        motion,
        motion_results,
        motion_onset,
    )
    for room in (limits, model, printed_limits, *beside):
        for name, record in vars(room).items():
            if dataclasses.is_dataclass(record) and record.__module__ != "hingeline.fields":
                yield from ((name, field.name) for field in dataclasses.fields(record))


@pytest.mark.parametrize(("record", "field"), sorted(set(record_fields())))
def test_every_field_stands_in_the_nomenclature(record: str, field: str) -> None:
    """Each field of a weighing, its result, and a printed row is explained by name."""
    assert f"`{field}`" in read(NOMENCLATURE), f"{record}.{field}"


def test_the_nomenclature_names_no_field_that_is_gone() -> None:
    """A name in the first column of the nomenclature is a field of a record."""
    known = {field for _, field in record_fields()} | vars_of(balance.Surface) | vars_of(balance.BalanceWeight)
    rows = re.findall(r"^\| ((?:`\w+`(?:, )?)+) \|", read(NOMENCLATURE), re.MULTILINE)
    named = {name for row in rows for name in re.findall(r"`(\w+)`", row)}
    assert len(named) > 60
    assert named <= known | {"source", "unit"}, named - known


def vars_of(record: type) -> set[str]:
    """Name the fields of a record."""
    return {field.name for field in dataclasses.fields(record)}


def test_sources_stand_in_order() -> None:
    """The sources are sorted by key, and no key stands twice."""
    keys = re.findall(r"^\| ([^|]+?) \|", read(ROOT / "docs" / "sources.md"), re.MULTILINE)[1:]
    assert len(keys) > 15
    assert [key.lower() for key in keys] == sorted({key.lower() for key in keys})


def test_every_document_that_a_published_case_names_is_among_the_sources() -> None:
    """Each source of a published case is found in the list by its key, or says that it has none."""
    keys = re.findall(r"^\| ([^|]+?) \|", read(ROOT / "docs" / "sources.md"), re.MULTILINE)[1:]
    for table in (ROOT / "tests" / "published").glob("*.toml"):
        for case in tomllib.loads(read(table)).get("case", []):
            source = case["source"]
            assert source.startswith(("no source", "worked by hand")) or any(key in source for key in keys), source


def test_every_hazard_names_its_test_or_says_that_there_is_none() -> None:
    """Each hazard of the list has a guard and a test that exists, or says so."""
    rows = [row.split(" | ") for row in read(HAZARDS).splitlines() if re.match(r"\| \d+ \|", row)]
    assert len(rows) > 15
    for _, hazard, guard, held in rows:
        assert guard, hazard
        assert re.search(r"`tests/[\w/]+\.py`", held) or held.startswith("no test"), hazard


def test_it_says_what_the_program_must_not_be_used_for() -> None:
    """The list of hazards closes with the uses that are none: data, release, proof, flight, putting off."""
    closing = read(HAZARDS).partition("## What it must not be used for")[2]
    for words in ("approved data", "release", "proof against flutter", "in flight", "put off an inspection"):
        assert words in closing


def test_security_names_its_tests_its_gaps_and_a_way_to_report() -> None:
    """Each promise is held by a test that is there; what is not promised and how to report a hole are said."""
    text = read(ROOT / "SECURITY.md")
    promised = [row for row in text.splitlines() if row.startswith("| ") and "---" not in row][1:]
    assert len(promised) > 8
    assert all(re.search(r"`tests/[\w/]+\.py`", row) for row in promised)
    for heading in ("## How to report", "## What is not promised", "## Known holes"):
        assert heading in text


# ------------------------------------------------------------------ explanations


@cache
def fields_of_files_and_records() -> set[str]:
    """Name every field that a job file or a record of the library has."""
    names: set[str] = set()
    for package in (hingeline_app.files, hingeline):
        for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            for thing in vars(importlib.import_module(found.name)).values():
                if dataclasses.is_dataclass(thing) and isinstance(thing, type):
                    names |= vars_of(thing)
                elif isinstance(thing, type) and issubclass(thing, BaseModel):
                    names |= set(thing.model_fields)
    return names


@pytest.mark.parametrize("topic", TOPICS)
def test_an_explanation_names_only_fields_that_exist(topic: str) -> None:
    """A name in back-quotes is a field of a file or a record, a word that may stand in one, or an option."""
    known = fields_of_files_and_records() | {"limit", "shape", "standard", "expanded", "resolution", "k"}
    known |= {option for name in COMMANDS for option in options_of(loaded(name))}
    quoted = re.findall(r"`([^`\n]+)`", re.sub(r"```.*?```", "", explanation(topic), flags=re.DOTALL))
    named = [word for word in quoted if re.fullmatch(r"(--)?[a-z_]+", word)]
    assert len(named) > 3
    source = "".join(read(path) for path in (ROOT / "src").rglob("*.py"))
    assert [word for word in named if word not in known and f'"{word}"' not in source] == []


@pytest.mark.parametrize("topic", TOPICS)
def test_an_explanation_can_be_read_anywhere(topic: str) -> None:
    """Each line fits a page of 120 columns, and ends without spaces; it ends with its sources."""
    lines = explanation(topic).splitlines()
    assert max(map(len, lines)) <= 120
    assert [line for line in lines if line != line.rstrip()] == []
    assert "## Sources" in lines
