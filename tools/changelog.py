"""Gather the news of ``changelog.d`` into ``CHANGELOG.md`` for the release that ``hingeline.__version__`` names.

    tools/changelog.py [DAY]

By kind, cautions first, under the heading of this version, which is made where it is not there yet; DAY is the day
of the release (2026-11-28), today without it. The fragments are taken away. Read the result before it is committed.
"""

from __future__ import annotations

import datetime
import re
import sys
import textwrap
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
CHANGELOG, NEWS = ROOT / "CHANGELOG.md", ROOT / "changelog.d"
KINDS = {"caution": "Cautions", "added": "Added", "changed": "Changed", "mended": "Mended", "removed": "Removed"}
FRAGMENT = re.compile(rf"[a-z0-9-]+\.({'|'.join(KINDS)})\.md")
MANNER: dict[str, Any] = {"subsequent_indent": "  ", "break_long_words": False, "break_on_hyphens": False}
DAY = re.compile(r"\d{4}-\d\d-\d\d")
VERSION = re.compile(r'^__version__ = "([0-9.]+)"$', re.MULTILINE)


def main(arguments: list[str]) -> int:
    """Gather; say how many."""
    day = arguments[0] if arguments else datetime.date.today().isoformat()
    if len(arguments) > 1 or DAY.fullmatch(day) is None:
        print(f"changelog: {' '.join(arguments)!r} is no day, as 2026-11-28; nothing was gathered", file=sys.stderr)
        return 2
    found = fragments()
    strangers = {path.name for path in NEWS.iterdir()} - {path.name for path in found} - {"README.md"}
    if strangers:
        print(f"changelog: these are named like no news: {', '.join(sorted(strangers))}", file=sys.stderr)
        return 2
    heading = f"## {version()}, {day}"
    CHANGELOG.write_text(with_news(CHANGELOG.read_text("utf-8"), heading, by_kind(found)), "utf-8")
    for path in found:
        path.unlink()
    print(f"{len(found)} news under {heading.removeprefix('## ')}")
    return 0


def fragments() -> list[Path]:
    """Give every piece of news, sorted by name."""
    return sorted(path for path in NEWS.iterdir() if FRAGMENT.fullmatch(path.name))


def version() -> str:
    """Read the version from the one place where it stands."""
    found = VERSION.search((ROOT / "src" / "hingeline" / "__init__.py").read_text("utf-8"))
    assert found
    return found[1]


def by_kind(found: list[Path]) -> str:
    """Give the news as lists under their kinds, cautions first."""
    parts = []
    for kind, heading in KINDS.items():
        entries = [entry for path in found if path.name.endswith(f".{kind}.md") for entry in entries_of(path)]
        if entries:
            parts.append("\n".join([f"### {heading}", "", *entries, ""]))
    return "\n".join(parts)


def entries_of(path: Path) -> list[str]:
    """Give one file as list entries: one, or the list that it is."""
    text = path.read_text("utf-8").strip()
    entries = re.split(r"^- ", text, flags=re.MULTILINE)[1:] if text.startswith("- ") else [text]
    return [textwrap.fill(" ".join(entry.split()), 110, initial_indent="- ", **MANNER) for entry in entries]


def with_news(text: str, heading: str, news: str) -> str:
    """Put news under a release's heading, behind what stands there; a new heading goes before the older releases."""
    number = heading.split(",")[0]
    releases = re.split(r"^(?=## )", text, flags=re.MULTILINE)
    for at, release in enumerate(releases):
        if release.split("\n")[0].split(",")[0] == number:
            releases[at] = "\n".join([heading, "", release.split("\n", 1)[1].strip(), "", news, ""])
            break
    else:
        releases.insert(1, f"{heading}\n\n{news}\n")
    return "".join(releases).rstrip() + "\n"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
