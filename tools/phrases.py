"""List the sentences of a room that the book of phrases does not know yet.

    phrases.py hingeline/motion hingeline/arm     list them, file by file
    phrases.py                                    count them in every room whose sentences reach a page

A language is offered once its rooms are at nought. Two words or more of a string count as a sentence.
What is given to gettext is in the catalogue (tools/messages.py), where a test asks for it: it is not counted here.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

from hingeline_app.said import reading_in, says

SOURCES = Path(__file__).resolve().parent.parent / "src"
ROOMS = (
    "hingeline/arm", "hingeline/balance", "hingeline/due", "hingeline/flutter", "hingeline/motion", "hingeline/units",
    "hingeline_app/bench", "hingeline_app/evidence", "hingeline_app/figures", "hingeline_app/files",
    "hingeline_app/records", "hingeline_app/recordings", "hingeline_app/report", "hingeline_app/web",
    "hingeline_app/why_balance",
)  # fmt: skip
# What takes a sentence of the catalogue, where another test asks that each is translated.
GIVEN_TO_GETTEXT = {"_", "_now", "gettext", "gettext_lazy", "ngettext"}
TWO_WORDS = re.compile(r"[A-Za-z{}]{2,} [A-Za-z{}]+")
# What may stand in a place of a pattern: a number, a name, a word.
SAMPLES = ("12.5 mm", "Merle T2", "inside", "limit", 'initial = "1.27 mm"', 'Add initial = "1.27 mm"')


def main(rooms: list[str]) -> int:
    """List or count."""
    for room in rooms or ROOMS:
        lacking = {path: [each for each in patterns(path) if not is_known(each)] for path in _files(room)}
        print(f"{room}: {sum(map(len, lacking.values()))} sentences are not in the book")
        for path, sentences in lacking.items() if rooms else ():
            print(*([f"## {path.relative_to(SOURCES)}", *sentences] if sentences else []), sep="\n")
    return 0


def _files(room: str) -> list[Path]:
    return sorted((SOURCES / room).rglob("*.py"))


def is_known(pattern: str) -> bool:
    """Tell whether the book says a sentence of this pattern."""
    with reading_in("de"):
        return any(says(pattern.replace("{}", sample)) is not None for sample in SAMPLES)


def patterns(path: Path) -> list[str]:
    """Give the sentences of a file once each, a pair of braces for each value."""
    tree = ast.parse(path.read_text("utf-8"))
    found = (pattern for pattern in _strings(tree) if TWO_WORDS.search(pattern))
    return list(dict.fromkeys(found))


def _is_in_the_catalogue(node: ast.AST) -> bool:
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in GIVEN_TO_GETTEXT


def _is_for_readers_of_the_source(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _strings(node: ast.AST) -> Iterator[str]:
    if _is_for_readers_of_the_source(node) or _is_in_the_catalogue(node):
        return
    if isinstance(node, ast.JoinedStr):
        yield "".join(str(part.value) if isinstance(part, ast.Constant) else "{}" for part in node.values)
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    for child in ast.iter_child_nodes(node):
        if not (isinstance(node, ast.JoinedStr) and isinstance(child, ast.Constant)):
            yield from _strings(child)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
