"""Templates say what they show in the reader's language, where words are read; what was typed stays as typed."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from django.template import Context, Template
from django.utils.functional import lazy
from django.utils.safestring import mark_safe

from hingeline_app import web
from hingeline_app.said import reading_in
from hingeline_app.web.saying import said_where_read, with_sense


def shown(template: str, language: str = "de", **values: Any) -> str:
    with reading_in(language):
        return Template(said_where_read(template)).render(Context(values))


@pytest.mark.parametrize(
    ("template", "taken_in"),
    [
        ("<p>{{ a }}</p>", "<p>{{ a|said }}</p>"),
        ('<p class="{{ a }}" title="{{ b }}">', '<p class="{{ a }}" title="{{ b|said_alone }}">'),
        ('<input value="{{ a }}"><b>{{ b }}</b>', '<input value="{{ a }}"><b>{{ b|said }}</b>'),
        ('<option value="{{ a }}">{{ b }}</option>{{ c }}',
         '<option value="{{ a }}">{{ b|said_alone }}</option>{{ c|said }}'),
        ("<textarea>{{ a }}</textarea>", "<textarea>{{ a }}</textarea>"),
        ('<pre class="file">{{ a }}</pre>{{ b }}', '<pre class="file">{{ a }}</pre>{{ b|said }}'),
        ('{% if a < 3 %}<i data-a="x > {{ b }}">{{ c }}', '{% if a < 3 %}<i data-a="x > {{ b }}">{{ c|said }}'),
        ("{% blocktranslate with a=b.c d=e %}It is {{ a }}.{% endblocktranslate %}",
         "{% blocktranslate with a=b.c|said_alone d=e|said_alone %}It is {{ a }}.{% endblocktranslate %}"),
        ("{% blocktranslate with a=b count many=c %}", "{% blocktranslate with a=b|said_alone count many=c %}"),
    ],
)  # fmt: skip
def test_a_value_is_said_where_it_is_read(template: str, taken_in: str) -> None:
    """In text, in a choice, in what is read out; never in a class, a value or an entry."""
    assert said_where_read(template) == taken_in


@pytest.mark.parametrize(
    ("template", "in_french", "in_german"),
    [
        ("<b>{{ a }}</b>: {{ b }}", "<b>masse</b>~: 3", "<b>Masse</b>: 3"),
        ("{{ a }}: {{ b }}; {{ a }}", "masse~: 3_; masse", "Masse: 3; Masse"),
        ("<option>{{ b }}: {{ a }}</option>", "<option>3~: masse</option>", "<option>3: Masse</option>"),
        ('<input value="{{ b }}: {{ b }} kg">', '<input value="3: 3 kg">', '<input value="3: 3 kg">'),
        ("<pre>{{ b }}: {{ b }} kg</pre>", "<pre>3: 3 kg</pre>", "<pre>3: 3 kg</pre>"),
        ("{{ b }} h at {{ b }} hooks, ± {{ b }} %", "3~h at 3 hooks, ±~3~%", "3~h at 3 hooks, ±~3~%"),
    ],
)
def test_what_stands_beside_a_value_is_set_as_the_language_does(template: str, in_french: str, in_german: str) -> None:
    """A template's own mark behind a word, its unit behind a number; what is sent or copied stays as it is.

    French sets a space before a colon and a semicolon: common practice of French typography, no source.
    """
    values = {"a": "mass", "b": 3}
    for language, expected in (("fr", in_french), ("de", in_german)):
        found = shown(template, language, **values).replace("\u00a0", "~").replace("\u202f", "_")
        assert found == expected


def test_a_quantity_in_a_translated_sentence_stays_on_one_line() -> None:
    """The value is filled in after the sentence was looked up: the space between it and its unit holds all the same."""
    sentence = "{% load i18n %}{% blocktranslate %}Last: {{ hours }} h on {{ day }}.{% endblocktranslate %}"
    assert shown(sentence, hours=12, day="Monday") == "Last: 12\u00a0h on Monday."


def test_what_a_form_says_of_its_fields_is_held_too() -> None:
    """A sentence that is translated only when it is read: not broken between 5 and g, markup in it stays markup."""
    later = lazy(str, str)
    assert shown("<p>{{ a }}</p>", a=later("With its unit, 5 g.")) == "<p>With its unit, 5\u00a0g.</p>"
    assert shown("<p>{{ a }}</p>", a=later("5 g & more")) == "<p>5\u00a0g &amp; more</p>"
    assert shown("<p>{{ a }}</p>", a=lazy(mark_safe, str)("<b>5 g</b>")) == "<p><b>5\u00a0g</b></p>"


def test_words_of_the_program_are_said_and_markup_is_left_alone() -> None:
    assert shown("<p>{{ a }}</p>", a="tail-heavy") == "<p>hecklastig</p>"
    assert shown("<p>{{ a|safe }}</p>", a="<b>tail-heavy</b>") == "<p><b>tail-heavy</b></p>"
    assert shown("{{ a }}", a=3) == "3"
    assert shown('{{ a|join:", "|default:"–" }}', a=["inside", "R&D", "balanced"]) == "innerhalb, R&amp;D, ausgeglichen"
    assert shown('{{ a|join:", "|default:"–" }}', a=[]) == "–"


def test_a_sentence_that_is_not_known_is_shown_in_english_and_marked_so() -> None:
    assert shown("<p>{{ a }}</p>", a="It is <bent>") == '<p><span lang="en">It is &lt;bent&gt;</span></p>'
    assert shown("<option>{{ a }}</option>", a="It is bent") == "<option>It is bent</option>"
    assert shown("<p>{{ a }}</p>", a="It is bent", language="en") == "<p>It is bent</p>"
    assert shown("<p>{{ a }}</p>", a="D-EFHM") == "<p>D-EFHM</p>"


def test_what_was_typed_stays_as_typed() -> None:
    """Even where somebody typed the very word that the program has."""
    assert shown("<p>{{ a|typed }}</p>", a="tail-heavy") == "<p>tail-heavy</p>"


def test_what_people_type_is_known_by_its_field() -> None:
    """A note, a surface's name, a scale's name that are phrases of the program; a state of the same words is said."""
    row = {"note": "No statement", "surface_name": "Inside", "scale": {"name": "mass"}, "state": "No statement"}
    for place in ("row.note", "row.surface_name"):
        assert shown(f"<p>{{{{ {place} }}}}</p>", row=row) in ("<p>No statement</p>", "<p>Inside</p>")
    assert shown("<b title='{{ row.scale.name }}'>{{ row.scale.name }}</b>", row=row) == "<b title='mass'>mass</b>"
    assert shown("<p>{{ row.state }}</p>", row=row) == "<p>Keine Aussage</p>"
    sentence = "{% load i18n %}{% blocktranslate with a=row.note b=row.state %}{{ a }}: {{ b }}{% endblocktranslate %}"
    assert shown(sentence, row=row) == "No statement: Keine Aussage"


def test_a_choice_sends_the_programs_own_word_whatever_language_shows_it() -> None:
    """An option without a value sends what it shows: in German "Korrosion", which no entry takes."""
    folder = Path(web.__file__).parent / "templates"
    bare = re.compile(r"<option(?![^>]*\bvalue=)[^>]*>")
    found = {path.name: bare.findall(path.read_text("utf-8")) for path in sorted(folder.rglob("*.html"))}
    assert found, "there are templates"
    assert not {name: options for name, options in found.items() if options}


@pytest.mark.parametrize(("typed", "english", "german"), [
    ("-1.40 N m", "-1.40 N m, nose-heavy", "-1.40 N m, kopflastig"),
    ("1.4 N m tail-heavy", "1.4 N m tail-heavy", "1.4 N m tail-heavy, hecklastig"),
    ("3 in-lb nose heavy", "3 in-lb nose heavy", "3 in-lb nose heavy, kopflastig"),
    ("about 3", "about 3", "about 3"),
])  # fmt: skip
def test_a_moment_from_paper_says_its_sense_once(typed: str, english: str, german: str) -> None:
    """A word that was typed with it is not said twice; a reader of another language is told in that language."""
    assert with_sense(typed) == english
    with reading_in("de"):
        assert with_sense(typed) == german
