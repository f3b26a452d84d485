"""The wording of a release, prepared for the licensed person: a text with places that the record fills."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from datetime import datetime

from hingeline.errors import InputRefused
from hingeline_app.report.explanation import Part, make_explanation
from hingeline_app.report.fonts import as_printed
from hingeline_app.report.job_record import JobRecord
from hingeline_app.report.job_view import is_released, state_words
from hingeline_app.report.owner_sheet import done_sentences, surface_name
from hingeline_app.report.owner_words import OwnersWords
from hingeline_app.report.sheet import made_words
from hingeline_app.report.words import limits_words, statement_lines
from hingeline_app.report.worksheet import Paper
from hingeline_app.said import say, the_readers_language

TITLE = "Wording of the release"
LONGEST = 4000
PLACE = re.compile(r"\{([^{}]*)\}")
NAMES = {
    "workshop": "name of the workshop",
    "approval_number": "its approval number",
    "authority": "its authority",
    "aircraft": "type and registration",
    "surface": "name of the surface",
    "part": "part and serial number",
    "record": "record number: job and weighing",
    "date": "of the last weighing",
    "work": "what was done, in sentences",
    "approved_data": "document, issue and page",
    "limits": "approved limits with their sense",
    "finding": "the static moment with its ± and where it lies",
}
DEFAULT = """\
Work on {aircraft}, {surface}, {part}; record {record}.

{work}

Approved data used: {approved_data}. Approved limits of the static moment: {limits}.

{finding}

The person who signs states that the work above was carried out to the approved data named, and decides under the \
rules of the local authority whether the aircraft is released to service.

{workshop} {approval_number}"""
SIGNED_BY_HAND = ("Name", "Licence or authorisation number", "Date and time", "Signature")
CAUTION = (
    "Prepared for the licensed person. This page is not a release: release is the certifying person's decision under "
    "the local authority's rules, and the authority's own form and wording govern."
)


def check_wording(text: str) -> str:
    """Return a wording that can be filled.

    Raises
    ------
    InputRefused
        It names a place that no record fills, has a brace too many, or is too long.
    """
    unknown = [name for name in PLACE.findall(text) if name not in NAMES]
    expected = f"places such as {', '.join('{' + name + '}' for name in NAMES)}"
    if unknown:
        raise InputRefused.of("wording", "{" + unknown[0] + "}", expected, "Use one of these, or leave it out.")
    if set("{}") & set(PLACE.sub("", text)):
        raise InputRefused.of("wording", "a brace alone", expected, "Write both braces, or none.")
    if len(text) > LONGEST:
        raise InputRefused.of("wording", f"{len(text)} characters", f"at most {LONGEST}", "Shorten it.")
    return text.strip()


def filled(wording: str, record: JobRecord, workshop: Mapping[str, str] | None = None) -> str:
    """Fill a wording from a record; what is not known is left as a rule to write on."""
    values = {**_values(record), **{name: text for name, text in (workshop or {}).items() if text}}
    return PLACE.sub(lambda found: values.get(found[1]) or "________", check_wording(wording or say(DEFAULT)))


def _values(record: JobRecord) -> dict[str, str]:
    sheet, result, words = record.sheet, record.result, OwnersWords(the_readers_language())
    finding = [*([record.not_used] if record.not_used else []), *statement_lines(result)[:2]]
    return {
        "workshop": sheet.workshop,
        "aircraft": sheet.aircraft,
        "surface": surface_name(record, words),
        "part": ", ".join(text for text in (sheet.part, sheet.serial) if text),
        "record": record.number,
        "date": sheet.date,
        "work": " ".join(done_sentences(record, words)),
        "approved_data": sheet.document or str(result.get("limits_source") or ""),
        "limits": words.numbers(say(limits_words(result))),
        "finding": " ".join(words.numbers(say(line)) for line in finding),
    }


def make_release_wording(
    record: JobRecord,
    wording: str,
    workshop: Mapping[str, str],
    made_at: datetime,
    version: str,
    paper: Paper = "a4",
) -> bytes:
    """Print the wording of a release for the licensed person to read, and to sign where the authority wants paper.

    Raises
    ------
    InputRefused
        The wording cannot be filled.
    """
    return make_explanation(
        TITLE, as_printed(f"Prepared for the licensed person. State in the records: {state_words(record).lower()}."),
        list(_parts(record, filled(wording, record, workshop))), made_at,
        foot=as_printed(f"Record {record.number or 'without a number'} · Hingeline {version} · "
                    f"made {made_words(made_at)}"),
        aside="Not a release", paper=paper,
    )  # fmt: skip


def _parts(record: JobRecord, text: str) -> Iterator[Part]:
    if not is_released(record):
        yield Part("statement", f"{state_words(record)} when this was printed")
    for paragraph in re.split(r"\n\s*\n", text):
        yield Part("text", as_printed(" ".join(paragraph.split())))
    if record.in_the_way:
        yield Part("heading", "Still in the way of release")
        yield Part("list", lines=tuple(as_printed(each) for each in record.in_the_way))
    yield Part("heading", "Signed by hand, where the authority wants it on paper")
    yield Part("rules", lines=SIGNED_BY_HAND)
    yield Part("caution", CAUTION)
