"""Templates say what the program found in the reader's language: every ``{{ value }}`` that a page shows as words.

Templates are taken in with ``|said`` behind each value that stands as text, or in an attribute that is
read out: no page has to remember it. What people type is known by the name of its field; a typed text of another name
is shown as typed by ``{{ value|typed }}``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import template
from django.template.loaders.app_directories import Loader
from django.utils.functional import Promise, lazy
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeData, SafeString, mark_safe

from hingeline.due import words
from hingeline.errors import InputRefused
from hingeline.units import read, sense_word
from hingeline_app.said import SOURCE, AsTyped, say, says, the_readers_language, unbroken
from hingeline_app.said.french_marks import joint_in
from hingeline_app.said.unbroken import NO_BREAK_SPACE, UNIT

register = template.Library()
TOKEN = re.compile(r"(\{\{.*?\}\}|\{%.*?%\}|\{#.*?#\})", re.DOTALL)
READ_OUT = ("alt", "aria-label", "placeholder", "title", "label")
SIGN = re.compile(r"<!--.*?-->|</?[a-zA-Z][\w-]*|[\w:-]+(?==[\"'])|[\"'>]|[^<\"'>\w]+|\w+|<", re.DOTALL)
# Elements that hold words alone, without a place for a mark of another language; and those that hold no words: a
# file that is shown to be copied is the same in every language.
WORDS_ALONE, NO_WORDS = ("option", "title"), ("pre", "script", "style", "textarea")
TRANSLATED = re.compile(r"\{%\s*translate\s+(?:\"[^\"]*\"|'[^']*')")
# A translated sentence with values filled in, and where a line of it could break inside a quantity.
SENTENCE = re.compile(r"\{%\s*blocktranslate\b.*?%\}(.*?)\{%\s*endblocktranslate\s*%\}", re.DOTALL)
IN_A_SENTENCE = re.compile(rf"(?:\}}\}}|\d) {UNIT}|± (?:\{{\{{|\d)|\bk = ")
# Between a value and the next: its unit or what it is the ± of, and a mark, which French sets apart from the word.
BESIDE_A_VALUE = re.compile(rf"^ (?={UNIT})|(?<=±) $")
MARK_BEHIND = re.compile(r"(?:^|(?<=>))([:;])(?=\s)")
FILLED_IN = re.compile(r"(?<==)((?:[^\s'\"|]|\|[^\s'\"]|'[^']*'|\"[^\"]*\")+)")
# What people type and what they call things, by the last names of a value; words of the program are never kept there.
_LAST = (
    "aircraft approval_number note opened_by owner_name registration remark remarks removed_because serial "
    "serial_number sign_in_name surface surface_name to_name type_name why_here withdrawn_because"
)
_PAIRS = (
    "aircraft.name check.name guest.name here.name history.name incomplete.reason life.name part.name person.name "
    "query.answer query.asked recording.name scale.name stand.name tablet.name task.name workshop.name "
    "workshop.authority"
)
TYPED_LAST, TYPED_PAIRS = frozenset(_LAST.split()), frozenset(_PAIRS.split())
VALUE = re.compile(r"\{\{\s*([\w.]+)")
# Words that English has and the other languages of the pages have not.
ENGLISH = re.compile(r"\b(the|of|is|are|and|this|that|with|not|from|which|by|to|cannot|has|have|been|it|its)\b")
OTHER = re.compile(r"\b(der|die|das|und|ist|nicht|ein|eine|mit|von|le|la|les|des|est|et|un|une|du|pas|pour)\b")


class SayingLoader(Loader):
    """Take templates in with ``|said`` where a value is read as words."""

    def get_contents(self, origin: Any) -> str:
        """Give the template."""
        return said_where_read(super().get_contents(origin))


# Words of the program in a form's choices, which are made before anybody reads.
said_later = lazy(say, str)


@register.filter
def day_in_words(day: date | None) -> str:
    """Give a day as results do, 28 Nov 2026, in the reader's language; the framework's own months are others."""
    return say(words.day(day)).replace(" ", "\u00a0") if day else ""


@register.filter
def with_sense(moment: str) -> str:
    """Show a moment as it was typed, and the word for the way it turns: a sign alone is read in two ways."""
    try:
        value = float(read(moment, "moment", page=True))
    except InputRefused:
        return moment
    sense = say(sense_word(value))
    is_there = sense.replace("-", " ") in moment.lower().replace("-", " ")
    return moment if is_there else f"{moment}, {sense}"


@register.filter
def typed(value: Any) -> Any:
    """Show a text as it was typed, whatever the reader's language."""
    return AsTyped(value) if type(value) is str else value


@register.filter
def said(value: Any) -> Any:
    """Say a text in the reader's language; English that is not known is marked as English."""
    found = said_alone(value)
    if the_readers_language() == SOURCE or not isinstance(value, str) or isinstance(value, SafeString):
        return found
    is_known = not isinstance(value, AsTyped) and says(value) is not None
    is_english = not is_known and ENGLISH.search(value) and not OTHER.search(value)
    return format_html('<span lang="en">{}</span>', found) if is_english else found


@register.filter
def said_alone(value: Any) -> Any:
    """Say a text in the reader's language where no mark can stand: in an attribute, in a choice.

    What a form says of its fields is in that language already, and is held together like a sentence of the page.
    """
    if isinstance(value, Promise):
        return held(value)
    return unbroken(says(value) or value) if _is_bare(value) else value


def _is_bare(value: Any) -> bool:
    """Tell whether a value is a text of the program: no piece of a page, and nothing that somebody typed."""
    return isinstance(value, str) and not isinstance(value, SafeString | AsTyped)


def decimals(number: str) -> int:
    """Count the signs behind the decimal point of a number."""
    return len(number.partition(".")[2])


@register.filter
def room_to(number: Any, places: int) -> SafeString:
    """Give the room of the decimals that a number lacks: points stand one under the other, and no digit is invented."""
    lacking = places - decimals(str(number))
    whole = decimals(str(number)) == 0 and places > 0
    return (
        format_html('<span class="lacking">{}</span>', "\u2008" * whole + "\u2007" * lacking)
        if lacking
        else SafeString()
    )


@register.filter
def held(sentence: Any) -> Any:
    """Hold a sentence of a page together as values are: the loader sets it behind each that has such a place."""
    text = str(sentence)
    return mark_safe(unbroken(text)) if isinstance(text, SafeData) else unbroken(text)


@register.filter
def joint(mark: str) -> str:
    """Set a mark behind a word as the reader's language does."""
    return joint_in(the_readers_language(), mark)


@register.filter
def join_said(values: Iterable[Any], between: str) -> SafeString:
    """Join texts, each in the reader's language."""
    return format_html_join(between, "{}", ((said_alone(each),) for each in values))


@dataclass
class _Place:
    """Where in a page the next piece of a template stands."""

    tag: str = ""
    quote: str = ""
    attribute: str = ""
    inside: str = ""

    @property
    def is_words(self) -> bool:
        """Whether what stands here is text of the page: no part of a tag, no file that is shown to be copied."""
        return not self.tag and self.inside not in NO_WORDS

    @property
    def filter(self) -> str:
        """Name the filter for a value that stands here."""
        if self.tag:
            return "said_alone" if self.quote and self.attribute in READ_OUT else ""
        return "" if self.inside in NO_WORDS else "said_alone" if self.inside in WORDS_ALONE else "said"

    def pass_over(self, text: str) -> None:
        """Move behind a piece of plain text."""
        for sign in SIGN.findall(text):
            self._sign(sign)

    def _sign(self, sign: str) -> None:
        if self.quote:
            self.quote = "" if sign == self.quote else self.quote
        elif not self.tag:
            self.tag = sign.lower() if re.fullmatch(r"</?[a-zA-Z][\w-]*", sign) else ""
        elif sign == ">":
            self.inside, self.tag = ("" if self.tag.startswith("</") else self.tag[1:]), ""
        elif sign in "\"'":
            self.quote = sign
        elif re.fullmatch(r"[\w:-]+", sign):
            self.attribute = sign


def said_where_read(text: str) -> str:
    """Give a template with the filter behind each value that is read as words."""
    return "".join(_pieces(SENTENCE.sub(_held_sentence, text)))


def _held_sentence(found: re.Match[str]) -> str:
    """Hold a sentence with values filled in, where a line could break between a value and its unit."""
    return f"{{% filter held %}}{found[0]}{{% endfilter %}}" if IN_A_SENTENCE.search(found[1]) else found[0]


def _pieces(text: str) -> Iterator[str]:
    place, translated = _Place(), False
    for piece in TOKEN.split(text):
        if piece.startswith("{% blocktranslate"):
            translated = True
            yield _with_words(piece)
        elif piece.startswith("{% endblocktranslate"):
            translated = False
            yield piece
        elif piece.startswith("{{") and place.filter and not translated and not _is_typed(piece):
            yield f"{piece[:-2].rstrip().replace('|join:', '|join_said:')}|{place.filter} }}}}"
        elif piece.startswith(("{{", "{%", "{#")):
            yield _held_together(piece)
        else:
            yield _set_beside_values(piece) if place.is_words and not translated else piece
            place.pass_over(piece)


def _set_beside_values(text: str) -> str:
    """Set what stands beside a value: its mark as the reader's language sets it, its unit on the same line."""
    return MARK_BEHIND.sub(r'{{ "\1"|joint }}', BESIDE_A_VALUE.sub(NO_BREAK_SPACE, text))


def _held_together(piece: str) -> str:
    """Give a sentence of the page a filter where a line could break inside a number: few have such a place."""
    sentence = TRANSLATED.match(piece)
    breaks = sentence is not None and unbroken(sentence[0]) != sentence[0]
    return f"{sentence[0]}|held{piece[sentence.end() :]}" if sentence is not None and breaks else piece


def _is_typed(piece: str) -> bool:
    """Tell whether a value is what somebody typed, by its name."""
    found = VALUE.match(piece)
    names = found[1].split(".") if found else []
    return len(names) > 1 and (names[-1] in TYPED_LAST or ".".join(names[-2:]) in TYPED_PAIRS)


def _with_words(tag: str) -> str:
    """Say what is filled into a translated sentence."""
    head, with_, given = tag.partition(" with ")
    given, count, counted = given.partition(" count ")
    return head + with_ + FILLED_IN.sub(_said_unless_typed, given) + count + counted


def _said_unless_typed(found: re.Match[str]) -> str:
    return found[1] if _is_typed("{{" + found[1]) else f"{found[1]}|said_alone"
