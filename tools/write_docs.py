"""Write the parts of the documentation that come from running the program.

    write_docs.py

Run it with ``.venv-check/bin/python`` after a change that a reader would see; a test compares.
It draws ``docs/images``, lists every file in ``docs/map.md`` and every format in
``docs/what_is_kept.md`` (from the schemas: ``schemas.py`` first), and puts what each command says in
place of what stands in the README between a line ``$ ./hingeline …`` and the end of its block.
"""

from __future__ import annotations

import ast
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
EXAMPLE = "examples/01-elevator-left-half.toml"
README = ROOT / "README.md"
MAP = ROOT / "docs" / "map.md"
KEPT = ROOT / "docs" / "what_is_kept.md"
SCHEMAS = ROOT / "docs" / "reference" / "schemas"
STATIC = ROOT / "src" / "hingeline_app" / "web" / "static" / "web"
IMAGES = ROOT / "docs" / "images"

CONSOLE = re.compile(r"^```console\n\$ \./hingeline (?P<words>.+)\n(?P<said>(?:.*\n)*?)```$", re.MULTILINE)
FORMATS = re.compile(
    r"(?<=<!-- formats: written by tools/write_docs.py -->\n).*?(?=<!-- end of formats -->)", re.DOTALL
)
FILES = re.compile(r"(?<=<!-- files: written by tools/write_docs.py -->\n).*?(?=<!-- end of files -->)", re.DOTALL)


def main() -> None:
    """Write pictures, map, list of formats and README."""
    IMAGES.mkdir(parents=True, exist_ok=True)
    for name, picture in pictures().items():
        (IMAGES / name).write_text(picture, encoding="utf-8")
    MAP.write_text(with_every_file(MAP.read_text(encoding="utf-8")), encoding="utf-8")
    KEPT.write_text(with_every_format(KEPT.read_text(encoding="utf-8")), encoding="utf-8")
    README.write_text(with_what_is_said(README.read_text(encoding="utf-8")), encoding="utf-8")


def pictures() -> dict[str, str]:
    """Draw the beam and the limit bar of the first example, by file name."""
    sys.path.insert(0, str(ROOT / "src"))
    from hingeline_app.figures import embedded
    from hingeline_app.report.pictures import drawn

    result: dict[str, Any] = json.loads(said_by("weigh", EXAMPLE, "--json"))
    return {
        f"elevator-{kind}.svg": f"{on_white(only_used_rules(picture))}\n"
        for kind, picture in drawn(result, embedded).items()
    }


def only_used_rules(picture: str) -> str:
    """Leave out the rules of style for what is not in the picture, so that it changes only when it looks different."""
    head, rules, rest = re.split(r"(?<=<style>)(.*?)(?=</style>)", picture, maxsplit=1, flags=re.DOTALL)
    classes = {name for listed in re.findall(r'class="([^"]*)"', picture) for name in listed.split()}
    used = [
        rule for rule in rules.splitlines() if set(re.findall(r"\.([a-z][\w-]*)", rule.partition("{")[0])) <= classes
    ]
    return head + "\n".join(used) + rest


def on_white(picture: str) -> str:
    """Put paper under a picture: a code host may show it on black."""
    return picture.replace("</style>", '</style><rect width="100%" height="100%" fill="#ffffff"/>', 1)


def with_what_is_said(text: str) -> str:
    """Put the answer of each command shown in a console block into it."""

    def again(found: re.Match[str]) -> str:
        return f"```console\n$ ./hingeline {found['words']}\n{said_by(*found['words'].split())}```"

    return CONSOLE.sub(again, text)


def with_every_file(text: str) -> str:
    """Put the list of every file of the source into the map, room by room."""
    rooms: dict[str, list[Path]] = {}
    for path in sorted((ROOT / "src").rglob("*.py")):
        rooms.setdefault(path.parent.relative_to(ROOT / "src").as_posix(), []).append(path)
    listed = "\n".join(part for room, paths in rooms.items() for part in _room(room, paths))
    listed += "\n" + "\n".join(_in_the_browser())
    return FILES.sub(lambda _: listed + "\n", text)


def with_every_format(text: str) -> str:
    """Put the list of every document's format into the page that says what is kept."""
    schemas = [json.loads(path.read_text(encoding="utf-8")) for path in sorted(SCHEMAS.glob("*.json"))]
    rows = [f"| `{each['title']}` | {each['description'].partition(': see')[0].rstrip('.')} |" for each in schemas]
    listed = "\n".join(["", "| format | what it is |", "|---|---|", *rows, ""])
    return FORMATS.sub(lambda _: listed + "\n", text)


def _room(room: str, paths: list[Path]) -> list[str]:
    rows = [f"| `{path.stem}` | {first_line(path)} |" for path in paths if path.stem != "__init__"]
    head = first_line(paths[0]) if paths[0].stem == "__init__" else ""
    table = ["| file | |", "|---|---|", *rows] if rows else []
    return [f"\n### {room}\n", f"{head}\n", *table]


def _in_the_browser() -> list[str]:
    """List what runs or shows in the browser: each file begins with what it is for."""
    own = sorted(path for path in STATIC.glob("*.*s") if path.suffix in (".js", ".css"))
    rows = [f"| `{path.name}` | {_first_remark(path)} |" for path in own]
    head = "What the browser runs and what it looks like: own files only, no script and no style in a page."
    return [f"\n### {STATIC.relative_to(ROOT / 'src').as_posix()}\n", f"{head}\n", "| file | |", "|---|---|", *rows]


def _first_remark(path: Path) -> str:
    """Give the first sentence of what a script or a style says of itself."""
    text = path.read_text(encoding="utf-8")
    lines = re.match(r"(?:// .*\n)+", text)
    said = re.sub(r"^// ", "", lines[0], flags=re.M) if lines else text.removeprefix("/* ").partition("*/")[0]
    return re.split(r"(?<=\.) ", " ".join(said.split()))[0].replace("|", "\\|")


def first_line(path: Path) -> str:
    """Give what a file says of itself in its first line."""
    said = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
    plain = re.sub(r":\w+:`~?([\w.]+)`", lambda found: f"`{found[1].rpartition('.')[2]}`", said.split("\n")[0])
    return plain.replace("``", "`").replace("|", "\\|")


def said_by(*words: str) -> str:
    """Run one command of this checkout and give what it wrote."""
    done = subprocess.run(
        [sys.executable, "-X", "utf8", "-m", "hingeline_app", *words],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT / "src")},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=True,
    )
    return done.stdout


if __name__ == "__main__":
    main()
