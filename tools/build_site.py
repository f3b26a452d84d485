"""Build the documentation's site: the guide, the pages to check it by, the commands and the library, generated.

    build_site.py [FOLDER]

Writes HTML into FOLDER (``build/site`` without one); open ``index.html`` there. A warning of the
builder is a fault. Run it with ``.venv-check/bin/python``.
"""

from __future__ import annotations

import argparse
import pkgutil
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import click

ROOT = Path(__file__).resolve().parent.parent
MANNER = ROOT / "docs" / "site"
KEPT_WITH_THE_CODE = re.compile(
    r"\]\((?:\.\./)*((?:src|tests|tools|requirements|benchmarks|changelog\.d)/[^)#]*|[A-Z]+\.md|LICENSE)[^)]*\)"
)
CONTENTS = """
```{{toctree}}
:hidden:
:caption: {caption}

{pages}
```
"""
SECTIONS = {
    "The job": [
        f"guide/{name}" for name in ("workshop", "painting", "weighing", "correcting", "arm", "due", "keeping")
    ],
    "Why": ["guide/flutter", "guide/filming", "guide/recordings"],
    "To check it": ["what_it_cannot_do", "hazards", "cautions", "validation", "recordings", "sources", "nomenclature"],
    "Reference": ["reference/commands", "reference/library", "what_is_kept"],
    "The code": ["map", "decisions/index"],
}


def main(arguments: list[str]) -> int:
    """Build the site; the builder's status."""
    asked = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asked.add_argument("folder", nargs="?", type=Path, default=ROOT / "build" / "site")
    target = asked.parse_args(arguments).folder.resolve()
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "docs"
        gathered(source)
        command = [sys.executable, "-m", "sphinx", "-q", "-W", "--keep-going", "-b", "html", "-c", str(MANNER)]
        done = subprocess.run([*command, str(source), str(target)], check=False)
    shutil.rmtree(target / ".doctrees", ignore_errors=True)
    return done.returncode


def gathered(source: Path) -> None:
    """Put every page into one folder: those that are written, and those that are made here."""
    shutil.copytree(ROOT / "docs", source, ignore=shutil.ignore_patterns("campaign", "site"))
    shutil.copytree(ROOT / "examples", source.parent / "examples")
    for page in source.rglob("*.md"):
        page.write_text(without_links_into_the_code(page.read_text("utf-8")), "utf-8")
    write_contents(source)
    (source / "reference" / "commands.md").write_text(commands(), "utf-8")
    (source / "reference" / "library.rst").write_text(library(), "utf-8")


def without_links_into_the_code(text: str) -> str:
    """Let a link to a file that lies beside the pages be the name of that file."""
    return KEPT_WITH_THE_CODE.sub(
        r" (`\1`)", re.sub(r"\[([^]]+)\](?=\((?:\.\./)*(?:src|tests|tools|[A-Z]+\.md))", r"\1", text)
    )


def write_contents(source: Path) -> None:
    """Add the contents to the first page, every page once."""
    known = {page for pages in SECTIONS.values() for page in pages} | {"index"}
    decisions = sorted(page.stem for page in (source / "decisions").glob("*.md"))
    listed = "".join(f"- [{title(source / 'decisions' / f'{name}.md')}]({name}.md)\n" for name in decisions)
    tree = CONTENTS.format(caption="Decisions", pages="\n".join(decisions))
    (source / "decisions" / "index.md").write_text(f"# Decisions\n\n{listed}{tree}", "utf-8")
    more = sorted(
        str(page.relative_to(source).with_suffix(""))
        for page in source.rglob("*.md")
        if page.parent.name != "decisions" and str(page.relative_to(source).with_suffix("")) not in known
    )
    sections = SECTIONS | {"The code": [*SECTIONS["The code"], *more]}
    text = "".join(CONTENTS.format(caption=caption, pages="\n".join(pages)) for caption, pages in sections.items())
    first = source / "index.md"
    first.write_text(first.read_text("utf-8") + text, "utf-8")


def title(page: Path) -> str:
    """Give a page's first heading."""
    return page.read_text("utf-8").splitlines()[0].lstrip("# ")


def commands() -> str:
    """Give every command's own help."""
    sys.path.insert(0, str(ROOT / "src"))
    from hingeline_app.cli.main import COMMANDS, hingeline_command

    top = click.Context(hingeline_command, info_name="hingeline")
    parts = ["# Commands\n\nWhat `hingeline COMMAND --help` says. In a checkout: `./hingeline`.\n"]
    for name in COMMANDS:
        command = hingeline_command.get_command(top, name)
        assert command is not None
        parts += [f"## {name}\n", *help_of(name, command, top)]
    return "\n".join(parts)


def help_of(name: str, command: click.Command, above: click.Context) -> list[str]:
    """Give the help of a command as the console shows it, then that of each command below it."""
    here = click.Context(command, info_name=name, parent=above, help_option_names=["-h", "--help"])
    parts = [f"```text\n{command.get_help(here)}\n```\n"]
    below = command.list_commands(here) if isinstance(command, click.Group) else []
    for each in below:
        under = command.get_command(here, each) if isinstance(command, click.Group) else None
        assert under is not None
        parts += [f"### {name} {each}\n", *help_of(each, under, here)]
    return parts


def library() -> str:
    """Name every public module of the library, for the builder to read its docstrings."""
    sys.path.insert(0, str(ROOT / "src"))
    import hingeline

    names = sorted(module.name for module in pkgutil.iter_modules(hingeline.__path__, "hingeline."))
    lines = ["Library", "=======", "", "Numbers in, frozen records out; SI inside, tail-heavy positive.", ""]
    lines += [".. autosummary::", "   :toctree: library", "   :recursive:", ""]
    return "\n".join([*lines, *(f"   {name}" for name in names), ""])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
