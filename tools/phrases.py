"""List the sentences of a room that the book of phrases does not know yet.

    phrases.py hingeline/motion hingeline/arm     list them, file by file
    phrases.py                                    count them in every room whose sentences reach a page

A language is offered while its rooms stand at nought. Two words or more of a string count as a sentence; what
is none, or is never shown to a reader of another language, stands in phrases_left_alone.toml with the reason.
What is given to gettext is in the catalogue (tools/messages.py), where a test asks for it: it is not counted here.
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import product
from pathlib import Path

from hingeline_app.report.owner_words import sentences as owners_sentences
from hingeline_app.said import reading_in, says
from hingeline_app.said.book import PhraseBook
from hingeline_app.said.phrase import PLACE
from hingeline_app.said.reader import phrases as book

SOURCES = Path(__file__).resolve().parent.parent / "src"
LEFT_ALONE = Path(__file__).with_name("phrases_left_alone.toml")
ROOMS = (
    "hingeline/arm", "hingeline/balance", "hingeline/due", "hingeline/flutter", "hingeline/motion",
    "hingeline/uncertainty", "hingeline/units", "hingeline_app/approved", "hingeline_app/bench",
    "hingeline_app/evidence", "hingeline_app/figures", "hingeline_app/files", "hingeline_app/longwork",
    "hingeline_app/records", "hingeline_app/recordings", "hingeline_app/replaying", "hingeline_app/report",
    "hingeline_app/studies", "hingeline_app/web", "hingeline_app/why_balance",
)  # fmt: skip
# What takes a sentence of the catalogue, where another test asks that each is translated.
GIVEN_TO_GETTEXT = {"_", "_now", "gettext", "gettext_lazy", "ngettext"}
FINDERS = {"re.compile", "re.search", "re.fullmatch", "re.match", "re.sub"}
# What the page "Nothing here" answers in its own words, whatever was not found; and what is noted for who keeps it.
NEVER_SHOWN = {"Http404", "Nowhere", "log.error", "log.warning", "log.info"}
# A file whose sentences stand in a book of their own: they are written in the owner's language.
OWNERS = ("owner_sheet.py",)
# A place in a sentence that is filled by name later.
FILLED_LATER = re.compile(r"\{[a-z_]+(:[a-z])?\}")
TWO_WORDS = re.compile(r"[A-Za-z{}]{2,} [A-Za-z{}]+")
# What may stand in a place of a pattern: a number, a name, a word, a sentence of its own, nothing.
SAMPLES = (
    "12.5 mm", "Merle T2", "inside", "Limits are missing.", "", "limit", 'initial = "1.27 mm"',
    'Add initial = "1.27 mm"',
)  # fmt: skip
# What a sentence tells to type, a command of a console among it, is no word of the sentence.
TO_BE_TYPED = re.compile(r'[=_"\[]')
OWN_WORD = re.compile(r"\b[a-z]{3,}\b(?<!tail-heavy)(?<!nose-heavy)")
NO_NAME = "§"
# Each of the first few beside each other, where a pattern has no more places than this.
FIRST_FEW, FEW_PLACES = 5, 3


def main(rooms: list[str]) -> int:
    """List or count."""
    for room in rooms or ROOMS:
        found = lacking(room)
        print(f"{room}: {sum(map(len, found.values()))} sentences are not in the book")
        for name, sentences in found.items() if rooms else ():
            print(f"## {name}", *sentences, sep="\n")
    return 0


def lacking(room: str) -> dict[str, list[str]]:
    """Give the sentences of a room that the book does not know, by file; files without any are left out."""
    found = {}
    for path in sorted((SOURCES / room).rglob("*.py")):
        name = path.relative_to(SOURCES).as_posix()
        aside = {*left_alone().get(name, ()), *(owners_sentences() if path.name in OWNERS else ())}
        unknown = [each for each in patterns(path) if each not in aside and not is_known(each)]
        found.update({name: unknown} if unknown else {})
    return found


@cache
def left_alone() -> Mapping[str, Mapping[str, str]]:
    """Give what is no sentence for a reader: by file, each pattern with the reason."""
    return tomllib.loads(LEFT_ALONE.read_text("utf-8"))


@cache
def is_known(pattern: str) -> bool:
    """Tell whether the book says a sentence of this pattern."""
    places = pattern.count("{}")
    fillings = product(SAMPLES[:FIRST_FEW], repeat=places) if places <= FEW_PLACES else ()
    alike = [(sample,) * places for sample in SAMPLES]
    with reading_in("de"):
        return any(_is_said(pattern.split("{}"), filling) for filling in dict.fromkeys([*alike, *fillings]))


def _is_said(pieces: list[str], filling: tuple[str, ...]) -> bool:
    sentence = "".join(piece + sample for piece, sample in zip(pieces, (*filling, ""), strict=True))
    return says(sentence) is not None and not _taken_for_names(sentence, filling)


def _taken_for_names(sentence: str, filling: tuple[str, ...]) -> bool:
    """Tell whether words of the sentence itself stand where a phrase has a name: they would stay English."""
    taken = (_names_alone().says(sentence) or "").replace(NO_NAME, " ")
    for sample in filling:
        taken = taken.replace(sample, " ") if sample else taken
    return TO_BE_TYPED.search(taken) is None and OWN_WORD.search(taken) is not None


@cache
def _names_alone() -> PhraseBook:
    """Give a book that says of each phrase what stands in its places for names, and in its words."""
    return PhraseBook(
        {english: NO_NAME.join(("", *map("{{{}}}".format, _not_numbers(english)), "")) for english in book()}
    )


def _not_numbers(english: str) -> list[str]:
    return [place for place in dict.fromkeys(PLACE.findall(english)) if not place.startswith("n")]


def patterns(path: Path) -> list[str]:
    """Give the sentences of a file once each, a pair of braces for each value."""
    tree = ast.parse(path.read_text("utf-8"))
    silent = {id(part) for node in ast.walk(tree) for part in _never_said(node)}
    found = (pattern for pattern in _strings(tree, silent) if TWO_WORDS.search(pattern))
    return list(dict.fromkeys(found))


def _never_said(node: ast.AST) -> list[ast.AST]:
    """Give the strings that explain the source, that find a text, that no page shows, and that the catalogue has."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        return [node.value]
    if isinstance(node, ast.Assert):
        return [node.msg] if node.msg else []
    called = ast.unparse(node.func) if isinstance(node, ast.Call) else ""
    return [node] if called in GIVEN_TO_GETTEXT | FINDERS | NEVER_SHOWN else []


def _strings(node: ast.AST, silent: set[int]) -> Iterator[str]:
    if id(node) in silent:
        return
    if isinstance(node, ast.JoinedStr):
        yield "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield FILLED_LATER.sub("{}", node.value)
    for child in ast.iter_child_nodes(node):
        if not (isinstance(node, ast.JoinedStr) and isinstance(child, ast.Constant)):
            yield from _strings(child, silent)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
