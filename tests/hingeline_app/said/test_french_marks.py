"""No line of a French page or print begins with a mark."""

from __future__ import annotations

import re

import pytest
from babel.messages.mofile import read_mo

from hingeline_app.report.said_sheet import sheet_words
from hingeline_app.said.french_marks import as_written_in, with_french_spaces
from hingeline_app.said.reader import phrases
from tools import messages

# Before a double mark or at the inside of a quotation: a space that lets the line break, or none at all.
BREAKS = re.compile(r" [:;?!»](?=\s|$)|« |\w[;?!](?=\s|$)|\w:(?= )|\w»|«\w")
# Words of the program's own notation in a French sentence, which are typed so.
NOTATION = re.compile(r"root, top: \{t1\}; middle: \{t2\}")


@pytest.mark.parametrize(
    ("plain", "set_in_french"),
    [
        ("Pesé : oui ; « dedans » ?", "Pesé\u00a0: oui\u202f; «\u00a0dedans\u00a0»\u202f?"),
        ('à 12:30, air = {density = "1.2"}', 'à 12:30, air = {density = "1.2"}'),
        ("Masse %(number)s : ", "Masse %(number)s\u00a0: "),
    ],
)
def test_a_mark_keeps_its_space_and_no_line_breaks_there(plain: str, set_in_french: str) -> None:
    assert with_french_spaces(plain) == set_in_french
    assert as_written_in("de", plain) == plain


def test_every_french_sentence_of_pages_is_compiled_so() -> None:
    with (messages.LOCALE / "fr" / "LC_MESSAGES" / "django.mo").open("rb") as file:
        catalogue = read_mo(file)
    sentences = [form for message in catalogue if message.id for form in messages.forms(message.string)]
    assert len(sentences) > 2000
    assert [each for each in sentences if BREAKS.search(each)] == []


def test_every_french_phrase_and_word_of_print_is_read_in_so() -> None:
    """Also one that was typed without any space before its mark, which no reading in can mend."""
    texts = [said["fr"] for book in (phrases(), sheet_words()) for said in book.values()]
    assert [each for each in texts if BREAKS.search(NOTATION.sub("", as_written_in("fr", each)))] == []
