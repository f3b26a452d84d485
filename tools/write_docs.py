"""Write the parts of the documentation that come from running the program.

    write_docs.py

Run it with ``.venv-check/bin/python`` after a change that a reader would see; a test compares.
It draws ``docs/images``, and puts what each command says in place of what stands in the README
between a line ``$ ./hingeline …`` and the end of its block.
"""

from __future__ import annotations

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
IMAGES = ROOT / "docs" / "images"

CONSOLE = re.compile(r"^```console\n\$ \./hingeline (?P<words>.+)\n(?P<said>(?:.*\n)*?)```$", re.MULTILINE)


def main() -> None:
    """Write pictures and README."""
    IMAGES.mkdir(parents=True, exist_ok=True)
    for name, picture in pictures().items():
        (IMAGES / name).write_text(picture, encoding="utf-8")
    README.write_text(with_what_is_said(README.read_text(encoding="utf-8")), encoding="utf-8")


def pictures() -> dict[str, str]:
    """Draw the beam and the limit bar of the first example, by file name."""
    sys.path.insert(0, str(ROOT / "src"))
    from hingeline_app.report.pictures import drawn

    result: dict[str, Any] = json.loads(said_by("weigh", EXAMPLE, "--json"))
    return {f"elevator-{kind}.svg": f"{on_white(picture)}\n" for kind, picture in drawn(result).items()}


def on_white(picture: str) -> str:
    """Put paper under a picture: a code host may show it on black."""
    return picture.replace("</style>", '</style><rect width="100%" height="100%" fill="#ffffff"/>', 1)


def with_what_is_said(text: str) -> str:
    """Put the answer of each command shown in a console block into it."""

    def again(found: re.Match[str]) -> str:
        return f"```console\n$ ./hingeline {found['words']}\n{said_by(*found['words'].split())}```"

    return CONSOLE.sub(again, text)


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
