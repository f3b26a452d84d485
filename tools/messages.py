"""Message catalogues: take the sentences out of pages and code, keep the translations, compile them.

    messages.py            bring every catalogue up to date and compile it
    messages.py LANGUAGE   begin one, for instance de

The source language is English; it needs no catalogue. Works without the system's gettext.
A language is offered (LANGUAGES in the settings) once its catalogue is complete.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from babel.messages import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parent.parent
APPLICATION = ROOT / "src" / "hingeline_app"
LOCALE = APPLICATION / "web" / "locale"
ROOMS = ("web", "records", "figures")
KEYWORDS = {"_": None, "gettext": None, "gettext_lazy": None, "ngettext": (1, 2)}
IN_A_TEMPLATE = re.compile(r"""\bgettext\(u?('(?:[^'\\]|\\.)*'|"(?:[^"\\]|\\.)*")\)""")
# A catalogue that is made again without a new sentence is the same file.
NO_DAY = datetime(2000, 1, 1, tzinfo=UTC)


def main(arguments: list[str]) -> int:
    """Bring catalogues up to date."""
    for language in arguments:
        (LOCALE / language / "LC_MESSAGES").mkdir(parents=True, exist_ok=True)
    wanted = sentences()
    for folder in sorted(LOCALE.glob("*/LC_MESSAGES")):
        catalogue = updated(folder, wanted)
        with (folder / "django.po").open("wb") as file:
            write_po(file, catalogue, width=100, no_location=True, sort_output=True, ignore_obsolete=True)
        with (folder / "django.mo").open("wb") as file:
            write_mo(file, catalogue)
        print(f"{folder.parent.name}: {len(untranslated(catalogue))} of {len(wanted)} sentences to translate")
    return 0


def sentences() -> list[str]:
    """Give every sentence of pages and code, once."""
    found = {sentence for room in ROOMS for path in (APPLICATION / room).rglob("*.py") for sentence in _of_code(path)}
    pages = {sentence for path in APPLICATION.rglob("*.html") for sentence in of_page(path.read_text("utf-8"))}
    return sorted(found | pages)


def of_page(text: str) -> list[str]:
    """Give the sentences of a page."""
    from django.utils.translation.template import templatize

    return [str(ast.literal_eval(found)) for found in IN_A_TEMPLATE.findall(templatize(text))]


def untranslated(catalogue: Catalog) -> list[str]:
    """Give the sentences that a catalogue lacks."""
    return [str(message.id) for message in catalogue if message.id and not message.string]


def read_catalogue(folder: Path) -> Catalog:
    """Read the catalogue of a language, or begin it."""
    path = folder / "django.po"
    if not path.exists():
        return Catalog(locale=folder.parent.name)
    with path.open("rb") as file:
        return read_po(file, locale=folder.parent.name)


def updated(folder: Path, wanted: list[str]) -> Catalog:
    """Give a catalogue of exactly these sentences, with the translations that were there."""
    before = read_catalogue(folder)
    head = "# Sentences of Hingeline's pages; written by tools/messages.py, translated by hand."
    catalogue = Catalog(folder.parent.name, header_comment=head, fuzzy=False, creation_date=NO_DAY)
    catalogue.project, catalogue.version, catalogue.language_team = "Hingeline", "", ""
    catalogue.last_translator = catalogue.msgid_bugs_address = ""
    catalogue.revision_date = NO_DAY
    for sentence in wanted:
        known = before.get(sentence)
        catalogue.add(sentence, known.string if known else "", flags=["python-format"] if "%(" in sentence else [])
    return catalogue


def _of_code(path: Path) -> Iterator[str]:
    for _line, message, _comments, _context in extract_from_file("python", path, keywords=KEYWORDS):
        yield message if isinstance(message, str) else message[0]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
