"""Sentences of the pages go through catalogues; a language is offered once every sentence is there."""

from __future__ import annotations

import io
import re

import pytest
from babel.messages.mofile import write_mo

from hingeline_app.settings import common
from tools import messages

FOLDERS = sorted(messages.LOCALE.glob("*/LC_MESSAGES"))


def test_sentences_are_found_in_pages_and_in_code() -> None:
    """One of a template, one of a form, one of a rule of the records."""
    found = messages.sentences()
    assert "Who are you?" in found
    assert "This is not the code that the server printed." in found
    assert "None of your roles covers this. An administrator gives roles under Workshop, People." in found


def test_a_sentence_with_a_name_in_it_keeps_its_place() -> None:
    page = "{% load i18n %}{% blocktranslate with name=x %}It is {{ name }}'s.{% endblocktranslate %}"
    assert messages.of_page(page) == ["It is %(name)s's."]


def test_what_a_visitor_reads_goes_through_the_catalogues() -> None:
    """No template carries a sentence outside of a translation: three words in a row outside of tags."""
    tags = re.compile(r"\{%.*?%\}|\{\{.*?\}\}|<[^>]*>", re.S)
    blocks = re.compile(r"\{% blocktranslate.*?endblocktranslate %\}|<svg.*?</svg>", re.S)
    for path in messages.APPLICATION.rglob("*.html"):
        bare = tags.sub("\n", blocks.sub("", path.read_text("utf-8")))
        assert re.findall(r"[A-Za-z]{2,} [A-Za-z]{2,} [A-Za-z]{2,}", bare) == [], path.name


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.parent.name)
def test_what_is_compiled_is_what_is_written(folder: messages.Path) -> None:
    made = io.BytesIO()
    write_mo(made, messages.as_compiled(messages.read_catalogue(folder), folder.parent.name))
    assert made.getvalue() == (folder / "django.mo").read_bytes(), "run: .venv-check/bin/python tools/messages.py"


@pytest.mark.parametrize("language", [code for code, _name in common.LANGUAGES if code != "en"])
def test_a_language_that_is_offered_is_complete(language: str) -> None:
    """No sentence of pages or code is missing from the catalogue of a language that a workshop may choose."""
    catalogue = messages.read_catalogue(messages.LOCALE / language / "LC_MESSAGES")
    assert messages.untranslated(catalogue) == []
    assert set(messages.sentences()) <= {message.id for message in catalogue}


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.parent.name)
def test_a_translation_keeps_what_is_filled_in(folder: messages.Path) -> None:
    """Every place for a number or a name, every mark of the page and every per cent sign is in the translation too."""
    filled = re.compile(r"%\([a-z_]+\)\d*[sd]|%%|\{[a-z]+\}|<[^>]+>")
    for message in messages.read_catalogue(folder):
        english, said = (messages.forms(each) for each in (message.id, message.string))
        for form in said if all(english) and all(said) else ():
            # Of a count, a language may write the number where English says "one".
            one, more = (sorted(filled.findall(each)) for each in (english[0], english[-1]))
            assert sorted(filled.findall(form)) in (one, more), message.id


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.parent.name)
def test_a_translation_says_its_sentence_once(folder: messages.Path) -> None:
    """Two changes of one sentence that were put together by hand may leave it twice, one after the other."""
    said = [form for message in messages.read_catalogue(folder) for form in messages.forms(message.string)]
    half = [(form, len(form) // 2) for form in said if len(form) > 12]
    assert [form for form, middle in half if form[:middle] == form[middle:]] == []


def test_both_forms_of_a_count_are_found_and_said() -> None:
    """One and more, of a template."""
    counted = ("One job", "%(many)s jobs")
    assert counted in messages.sentences()
    for folder in FOLDERS:
        message = messages.read_catalogue(folder).get(counted)
        assert message is not None
        assert len(messages.forms(message.string)) >= 2
        assert all(messages.forms(message.string))
