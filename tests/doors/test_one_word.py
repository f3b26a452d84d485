"""One word for one thing: what people read is held to the table in the nomenclature."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import click
import pytest

from hingeline_app.cli.main import COMMANDS, hingeline_command
from tests.doors.checkouts import ROOT
from tools import messages

HEADING = "## One word for one thing"
SOURCE = ROOT / "src"
PAGES = [
    ROOT / "README.md",
    *sorted((ROOT / "docs" / "guide").glob("*.md")),
    *sorted((SOURCE / "hingeline_app" / "cli" / "explanations").glob("*.md")),
    *(ROOT / "docs" / name for name in ("index.md", "what_it_cannot_do.md", "recordings.md")),
]
CODE = re.compile(r"```.*?```|`[^`]*`|\]\([^)]*\)|^\|?--+.*$", re.S | re.M)
FILLED_IN = re.compile(r"%\(\w+\)|\{\w*\}")
# Words of programmers: what they name is no sentence of ours.
SENTENCE = re.compile(r"[A-Za-z]{2,}[,;:]? [A-Za-z]{2,}[,;:]? [A-Za-z]{2,}")
MEANT_OTHERWISE = {
    "a slack or corroded clamp",  # a clamp that is loose, no play of a hinge
    "Trusted credentials, User",  # the name of a menu of the tablet's own system
}


@cache
def table() -> dict[str, tuple[str, ...]]:
    """Give what is not said, by what is."""
    text = (ROOT / "docs" / "nomenclature.md").read_text("utf-8").partition(HEADING)[2].partition("\n## ")[0]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in text.splitlines() if line[:1] == "|"]
    return {say: tuple(word.strip() for word in never.split(",")) for say, never, _for in rows[2:]}


@cache
def pattern() -> re.Pattern[str]:
    """Give the pattern of whatever is not said, as whole words."""
    words = "|".join(re.escape(never) for words in table().values() for never in words)
    return re.compile(rf"(?<![\w-])(?:{words})(?![\w-])", re.I)


def found_in(text: str) -> list[str]:
    """Give each word that is not said, with the one that is."""
    for allowed in MEANT_OTHERWISE:
        text = text.replace(allowed, "")
    instead = {never: say for say, words in table().items() for never in words}
    return [f"{found}: say {instead[found.lower()]}" for found in pattern().findall(text)]


def help_texts() -> Iterator[tuple[str, str]]:
    """Give the help of every command and of what stands below it."""
    for name in COMMANDS:
        yield from _help_of(hingeline_command.get_command(click.Context(hingeline_command), name), name)


def _help_of(command: click.Command | None, name: str) -> Iterator[tuple[str, str]]:
    assert command is not None
    yield name, command.get_help(click.Context(command, info_name=name))
    if isinstance(command, click.Group):
        for below in command.list_commands(click.Context(command)):
            yield from _help_of(command.get_command(click.Context(command), below), f"{name} {below}")


def sentences_of_code() -> Iterator[tuple[str, str]]:
    """Give the texts of three words or more that the code may show, of files where a word is found at all.

    What documents the code is left out.
    """
    for path in sorted(SOURCE.rglob("*.py")):
        if "migrations" in path.parts or path.name in ("boot_unit.py", "triggers.py"):
            continue
        whole = path.read_text("utf-8")
        for text in _texts(ast.parse(whole)) if pattern().search(whole) else ():
            if SENTENCE.search(text):
                yield f"{path.relative_to(ROOT)}: {text[:80]}", text


def _texts(tree: ast.AST) -> Iterator[str]:
    documents = {
        id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }
    inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in node.values}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in documents | inside:
            yield node.value
        if isinstance(node, ast.JoinedStr):
            yield "".join(str(part.value) if isinstance(part, ast.Constant) else "…" for part in node.values)


def test_the_table_is_read_and_would_find_a_word() -> None:
    """A table that is empty, or a search that finds nothing, would let every page through."""
    assert len(table()) > 10
    assert found_in("It has slack.") == ["slack: say free play"]
    assert found_in("A videograph of slackness") == []


def test_no_word_stands_on_both_sides() -> None:
    """What one row says is not what another row forbids."""
    assert [say for say in table() if found_in(say)] == []


def test_pages_say_one_word_for_one_thing() -> None:
    catalogue = messages.read_catalogue(messages.LOCALE / "de" / "LC_MESSAGES")
    sentences = [str(message.id) for message in catalogue if message.id]
    assert len(sentences) > 2000
    faults = {sentence: found_in(FILLED_IN.sub("…", sentence)) for sentence in sentences}
    assert {sentence: words for sentence, words in faults.items() if words} == {}


def test_sentences_of_results_and_refusals_say_one_word_for_one_thing() -> None:
    faults = {place: found_in(text) for place, text in sentences_of_code()}
    assert {place: words for place, words in faults.items() if words} == {}


def test_help_says_one_word_for_one_thing() -> None:
    faults = {name: found_in(text) for name, text in help_texts()}
    assert {name: words for name, words in faults.items() if words} == {}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_guides_say_one_word_for_one_thing(page: Path) -> None:
    assert found_in(CODE.sub(" ", page.read_text("utf-8"))) == []
