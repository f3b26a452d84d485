"""The owner's sheet in the owner's language: no English sentence is left in it, and every number is the same."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from hingeline_app.records.actions.aircraft import OWNER_LANGUAGES
from hingeline_app.report import owner_sheet
from hingeline_app.report.job_record import JobRecord
from hingeline_app.report.owner_sheet import STATES, DueAgain, make_owner_sheet, parts_of
from hingeline_app.report.owner_words import LANGUAGES, OwnersWords, sentences
from hingeline_app.said import reading_in
from tests.hingeline_app.report.demo import MADE_AT
from tests.hingeline_app.report.job_demo import DONE_JOB, ENDED_JOB, OPEN_JOB, german
from tests.hingeline_app.report.test_worksheet import opened, text_of

ENDED = (
    "This statement cannot be used: the certificate of HL-5 ended on 05 November 2026. Weigh again on a scale whose "
    "certificate holds."
)
NOT_USED = replace(OPEN_JOB, not_used=ENDED)
JOBS = {"open": OPEN_JOB, "done": DONE_JOB, "ended": ENDED_JOB, "german": german(), "not used": NOT_USED}
OTHERS = [language for language in LANGUAGES if language != "en"]
AHEAD = (
    DueAgain("Höhenruder: Ausgleich", "coming", date(2028, 3, 12), "1213.5", "4200"),
    DueAgain("Arm", "overdue", date(2026, 3, 1)),
    DueAgain("Gewicht", "due", hours="613.4"),
    DueAgain("Lager", "unknown"),
)
# Words that only English has; typed names of the demonstration are taken out first.
ENGLISH = re.compile(
    r"\b(the|is|were|of|and|or|at|by|with|its|again|no|not|inside|outside|beyond|limits?|guarded|weighed|heavy)\b"
)
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
TYPED = ("Elevator, left half", "forward tube", "Fenholt workshop", "Elevator", "left half")
# The one sentence before a day that the day's own signs take apart.
DAY = re.compile(r"(\d{2})[./](\d{2})[./](\d{4})|(\d{4})-(\d{2})-(\d{2})")


def said_in(record: JobRecord, language: str) -> list[str]:
    """Give every text of the sheet, words in its picture and what is read aloud of it among them."""
    with reading_in(language):
        parts = list(parts_of(record, AHEAD, OwnersWords(language)))
    drawn = [text for part in parts for text in re.findall(r">([^<>]+)<|aria-label=\"([^\"]*)", part.svg)]
    return [text for part in parts for text in (part.words, *part.lines)] + ["".join(pair) for pair in drawn]


def without_typed(text: str) -> str:
    """Take out what a person typed: that stands in any language."""
    for typed in TYPED:
        text = text.replace(typed, "")
    return text


def numbers_of(texts: list[str]) -> list[str]:
    """Give all numbers in order of size; days and decimal marks as English writes them."""
    text = DAY.sub(lambda day: "-".join(sorted(part for part in day.groups() if part)), "\n".join(texts))
    return sorted(number.replace(",", ".") for number in NUMBER.findall(text))


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("case", JOBS)
def test_no_english_sentence_is_left(case: str, language: str) -> None:
    left = [text for text in map(without_typed, said_in(JOBS[case], language)) if ENGLISH.search(text)]
    assert left == []


def test_the_search_finds_english() -> None:
    """On the English sheet nearly every text has a word of English: the search is not blind."""
    texts = [text for text in map(without_typed, said_in(DONE_JOB, "en")) if len(text.split()) > 4]
    assert sum(bool(ENGLISH.search(text)) for text in texts) > 0.9 * len(texts) > 5


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("case", JOBS)
def test_every_number_is_the_same(case: str, language: str) -> None:
    """Count for count, in text, picture and what is read aloud; only the decimal mark and the order of a day differ."""
    assert numbers_of(said_in(JOBS[case], language)) == numbers_of(said_in(JOBS[case], "en"))


@pytest.mark.parametrize("language", OTHERS)
def test_a_decimal_comma_stands_in_text_and_picture(language: str) -> None:
    texts = " ".join(said_in(DONE_JOB, language))
    assert "1,852 ± 0,044" in texts
    assert not re.search(r"\d\.\d{1,3}\s*(N·m|h\b)", texts)


def test_days_are_written_as_the_language_writes_them() -> None:
    assert {language: OwnersWords(language).days("2027-03-12") for language in LANGUAGES} == {
        "en": "2027-03-12",
        "de": "12.03.2027",
        "fr": "12/03/2027",
    }


@pytest.mark.parametrize("typed", ["rib 2.1, issue 1.4", "12.5 A", "0.25"])
def test_what_was_typed_stands_as_it_was_typed(typed: str) -> None:
    """A name is no number of ours: its point stays a point."""
    assert OwnersWords("de").write("Changed: {t1}.", t1=typed) == f"Geändert: {typed}."


@pytest.mark.parametrize("text", ["Hingeline 0.1.0", "T2.3.4", "3.2b"])
def test_a_point_that_is_no_decimal_mark_stays(text: str) -> None:
    assert OwnersWords("de").numbers(text) == text


def test_every_sentence_of_the_sheet_is_in_every_language() -> None:
    """Each fixed sentence of the module has its row, no row is for nothing, and each keeps its places."""
    used = {value for value in _texts(vars(owner_sheet)) if " " in value and not value.startswith("The owner's sheet:")}
    assert used <= set(sentences())
    assert {f"{{t1}}: {state}" for state in STATES} <= set(sentences())
    for english, said in sentences().items():
        assert sorted(said) == sorted(OTHERS), english
        for text in said.values():
            assert sorted(set(re.findall(r"\{t\d\}", text))) == sorted(set(re.findall(r"\{t\d\}", english))), english


def _texts(module: dict[str, Any]) -> list[str]:
    named = [value for name, value in module.items() if name.isupper()]
    flat = [each for value in named for each in (value.values() if isinstance(value, dict) else _listed(value))]
    return [each for each in flat if isinstance(each, str)]


def _listed(value: Any) -> list[Any]:
    return list(value) if isinstance(value, tuple) else [value]


def test_records_and_print_know_the_same_languages() -> None:
    assert tuple(LANGUAGES) == OWNER_LANGUAGES


@pytest.mark.parametrize("language", OTHERS)
def test_the_print_tells_a_reader_aloud_its_language_and_has_every_sign(language: str) -> None:
    """No sign is replaced by an empty box: the fonts have ä, ß, é, œ and the spaces of French."""
    pdf = make_owner_sheet(DONE_JOB, AHEAD, MADE_AT, "0.1.0", "a4", language)
    assert opened(pdf).root_object["/Lang"].startswith(language)
    text = text_of(pdf)
    assert "□" not in text
    assert {"de": "Für den Eigner. Keine Freigabe.", "fr": "Pas une remise en service."}[language] in text


def test_a_statement_that_is_not_used_is_not_the_sheets_first_word() -> None:
    """Whatever the weighing found: the owner reads that it is not used, and why."""
    first, why = said_in(NOT_USED, "en")[1:3]
    assert first == "Weighed: the statement is not used"
    assert why.startswith("This statement cannot be used: the certificate of HL-5 ended on 05 November 2026.")
    assert "its approved limits" not in " ".join(said_in(NOT_USED, "en"))


@pytest.mark.parametrize(("record", "coloured"), [(OPEN_JOB, True), (NOT_USED, False)])
def test_the_bar_of_a_statement_that_is_not_used_has_no_colour(record: JobRecord, coloured: bool) -> None:
    """As on the worksheet: where the value lies, in ink."""
    picture = next(part for part in parts_of(record, (), OwnersWords("en")) if part.kind == "picture")
    assert bool(re.search(r'class="[^"]*\b(out|near|in)\b', picture.svg)) is coloured
