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
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path

from babel.messages import Catalog, Message
from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from hingeline_app.said.french_marks import as_written_in

ROOT = Path(__file__).resolve().parent.parent
APPLICATION = ROOT / "src" / "hingeline_app"
LOCALE = APPLICATION / "web" / "locale"
ROOMS = ("web", "records", "figures")
KEYWORDS = {"_": None, "_now": None, "gettext": None, "gettext_lazy": None, "ngettext": (1, 2)}
_QUOTED = r"""u?('(?:[^'\\]|\\.)*'|"(?:[^"\\]|\\.)*")"""
IN_A_TEMPLATE = re.compile(rf"(?:\bgettext|(?<!\w)_)\({_QUOTED}\)")
COUNTED_IN_A_TEMPLATE = re.compile(rf"\bngettext\({_QUOTED},\s*{_QUOTED}")
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
            write_mo(file, as_compiled(catalogue, folder.parent.name))
        print(f"{folder.parent.name}: {len(untranslated(catalogue))} of {len(wanted)} sentences to translate")
    return 0


# A sentence, or the two of a count: of one, and of more.
Sentence = str | tuple[str, str]


def sentences() -> list[Sentence]:
    """Give every sentence of pages and code, once."""
    found = {sentence for room in ROOMS for path in (APPLICATION / room).rglob("*.py") for sentence in _of_code(path)}
    pages = {sentence for path in APPLICATION.rglob("*.html") for sentence in of_page(path.read_text("utf-8"))}
    return sorted(found | pages, key=str)


def of_page(text: str) -> list[Sentence]:
    """Give the sentences of a page."""
    from django.utils.translation.template import templatize

    code = templatize(text)
    plain = [str(ast.literal_eval(found)) for found in IN_A_TEMPLATE.findall(code)]
    counted = COUNTED_IN_A_TEMPLATE.findall(code)
    return [*plain, *((str(ast.literal_eval(one)), str(ast.literal_eval(more))) for one, more in counted)]


def untranslated(catalogue: Catalog) -> list[object]:
    """Give the sentences that a catalogue lacks."""
    return [message.id for message in catalogue if message.id and not all(forms(message.string))]


def forms(said: str | Sequence[str] | None) -> tuple[str, ...]:
    """Give the forms of a sentence: one, or those of a count."""
    return (said or "",) if said is None or isinstance(said, str) else tuple(said)


def read_catalogue(folder: Path) -> Catalog:
    """Read the catalogue of a language, or begin it."""
    path = folder / "django.po"
    if not path.exists():
        return Catalog(locale=folder.parent.name)
    with path.open("rb") as file:
        return read_po(file, locale=folder.parent.name)


def updated(folder: Path, wanted: list[Sentence]) -> Catalog:
    """Give a catalogue of exactly these sentences, with the translations that were there."""
    before = read_catalogue(folder)
    head = "# Sentences of Hingeline's pages; written by tools/messages.py, translated by hand."
    catalogue = Catalog(folder.parent.name, header_comment=head, fuzzy=False, creation_date=NO_DAY)
    catalogue.project, catalogue.version, catalogue.language_team = "Hingeline", "", ""
    catalogue.last_translator = catalogue.msgid_bugs_address = ""
    catalogue.revision_date = NO_DAY
    for sentence in wanted:
        known = before.get(sentence)
        flags = ["python-format"] if any("%(" in form for form in forms(sentence)) else []
        catalogue.add(sentence, _kept(known, sentence), flags=flags)
    return catalogue


def as_compiled(catalogue: Catalog, language: str) -> Catalog:
    """Give a catalogue as pages read it: the marks of each sentence as its language sets them."""
    compiled = Catalog(language, header_comment=catalogue.header_comment, fuzzy=False)
    compiled.mime_headers = catalogue.mime_headers
    for message in catalogue:
        if message.id:
            said = tuple(as_written_in(language, form) for form in forms(message.string))
            compiled.add(message.id, said[0] if isinstance(message.id, str) else said, flags=message.flags)
    return compiled


def _kept(known: Message | None, sentence: Sentence) -> str | tuple[str, ...]:
    """Give the translation that was there, where it has as many forms as the sentence."""
    if known is not None and isinstance(known.string, str) == isinstance(sentence, str):
        return known.string if isinstance(known.string, str) else forms(known.string)
    return "" if isinstance(sentence, str) else ("", "")


def _of_code(path: Path) -> Iterator[Sentence]:
    for _line, message, _comments, _context in extract_from_file("python", path, keywords=KEYWORDS):
        yield message if isinstance(message, str) else (message[0], message[1])


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
