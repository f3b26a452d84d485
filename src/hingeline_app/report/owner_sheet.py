"""The owner's sheet: one side that says what was done, where the surface lies, why it matters, when it is due again.

It is written in the owner's language. What was typed, a name or a place, stands as it was typed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from hingeline_app.figures import draw_limit_bar
from hingeline_app.figures.axis import finding_words
from hingeline_app.figures.wording import shorten
from hingeline_app.report.explanation import Part, make_explanation
from hingeline_app.report.fonts import as_printed
from hingeline_app.report.job_record import RELEASE, JobRecord
from hingeline_app.report.job_view import is_released
from hingeline_app.report.owner_words import ENGLISH, OwnersWords
from hingeline_app.report.pictures import WIDTH, limit_bar
from hingeline_app.report.sheet import made_words
from hingeline_app.report.words import statement_lines
from hingeline_app.report.worksheet import Paper
from hingeline_app.said import reading_in, say

TITLE = "What was done on your aircraft"
MOST_CHANGES, MOST_DUE = 5, 5
NO_STATEMENT = "Weighed: no statement"
NOT_USED = "Weighed: the statement is not used"
SAID = {
    "inside": "Weighed: inside its approved limits",
    "outside": "Weighed: outside its approved limits",
    "too close to tell": "Weighed: too close to its limit to tell",
}
WEIGHED = {
    1: "{t1} was weighed about its hinge line once.",
    2: "{t1} was weighed about its hinge line twice.",
}
WEIGHED_OFTEN = "{t1} was weighed about its hinge line {t2} times."
HUNG_AGAIN = "Hung again and checked: travel, free play, friction and sense stand on the worksheet."
WHY = (
    "A control surface turns about its hinge line. If too much of its weight lies behind that line, the air can feed "
    "its swing instead of stopping it: flutter. It can begin without warning and break the aircraft within seconds. "
    "That is why each surface has a limit for its static moment, and why it is weighed after anything that changes its "
    "weight.",
    "Paint, a patch, a new tab, water that cannot drain, a weight that came loose: each moves the balance. Dirt too.",
)
AGAIN = (
    "Have it weighed again after paint, repair or a new part on it, and after any vibration of the controls.",
    "Before each flight: weights tight, no free play beyond the limit, drains open, nothing rubbing.",
)
NOT_ENTERED = "No date stands in the workshop's records: ask for what the approved programme says."
NOT_RELEASED = "Not released when this was printed: the aircraft is not to fly on the strength of this sheet."
CAUTION = (
    "Balance alone does not rule flutter out: hinges, free play, cables, stiffness and speed count as well. If a "
    "control shakes in flight, follow the flight manual; where it says nothing, slow down. Land, and do not fly again "
    "until the cause has been found. Never try to make it happen again."
)
FOOT = "{t1} · record {t2} · Hingeline {t3} · made {t4}"
STATES = ("overdue", "due", "coming", "unknown")


@dataclass(frozen=True, slots=True)
class DueAgain:
    """A check that is ahead: its name as it was entered, its state, and what it is due at."""

    name: str
    state: str
    on: date | None = None
    hours: str = ""
    landings: str = ""


def make_owner_sheet(
    record: JobRecord,
    due: Sequence[DueAgain],
    made_at: datetime,
    version: str,
    paper: Paper = "a4",
    language: str = "en",
) -> bytes:
    """Print the owner's sheet.

    Parameters
    ----------
    record : JobRecord
    due : sequence of DueAgain
        When what is due again; empty: said to be not entered.
    made_at : datetime
    version : str
    paper : {"a4", "letter"}
    language : {"en", "de", "fr"}
        The owner's.

    Returns
    -------
    bytes
        A tagged PDF/A-3a of one side.
    """
    sheet, words = record.sheet, OwnersWords(language)
    with reading_in(language):
        foot = words.write(FOOT, t1=shorten(sheet.workshop, 40), t2=record.number or words.write("without a number"),
                           t3=version, t4=words.days(made_words(made_at)))  # fmt: skip
        return make_explanation(
            words.write(TITLE),
            as_printed(f"{shorten(sheet.aircraft, 60)}. {shorten(surface_name(record, words), 80)}."),
            list(parts_of(record, due, words)), made_at, foot=as_printed(foot),
            aside=words.write("For the owner. Not a release."), paper=paper, language=language,
        )  # fmt: skip


def surface_name(record: JobRecord, words: OwnersWords = ENGLISH) -> str:
    """Give the name of the surface."""
    return str((record.result.get("surface") or {}).get("name") or words.write("Surface"))


def done_sentences(record: JobRecord, words: OwnersWords = ENGLISH) -> list[str]:
    """Say what was done, in sentences."""
    weighed = len(record.weighings) or 1
    name = shorten(surface_name(record, words), 80)
    sentences = [words.write(WEIGHED.get(weighed, WEIGHED_OFTEN), t1=name, t2=str(weighed))]
    if record.weighed_on:
        sentences.append(words.write("The last weighing was on {t1}.", t1=words.days(record.weighed_on)))
    if record.changes:
        sentences.append(words.write("Changed: {t1}.", t1="; ".join(changes_made(record, words))))
    if record.refit:
        sentences.append(words.write(HUNG_AGAIN))
    return sentences


def changes_made(record: JobRecord, words: OwnersWords) -> list[str]:
    """Name what was changed, the first few."""
    changes = [f"{shorten(each.place, 60)}, {words.numbers(each.mass)}" for each in record.changes[:MOST_CHANGES]]
    more = len(record.changes) - len(changes)
    return [*changes, words.write("and {t1} more, on the worksheet", t1=str(more))] if more else changes


def due_sentence(due: DueAgain, words: OwnersWords) -> str:
    """Say when a check is due."""
    ends = [
        words.write("on {t1}", t1=words.days(due.on.isoformat())) if due.on else "",
        words.write("at {t1} h", t1=words.numbers(due.hours)) if due.hours else "",
        words.write("at {t1} landings", t1=due.landings) if due.landings else "",
    ]
    when = f" {words.write('or')} ".join(end for end in ends if end)
    state = due.state if due.state in STATES else "unknown"
    return words.write(f"{{t1}}: {state}", t1=due.name) + (f", {when}." if when else ".")


def parts_of(record: JobRecord, due: Sequence[DueAgain], words: OwnersWords) -> Iterator[Part]:
    """Give the parts of the sheet in order."""
    yield Part("text", as_printed(" ".join(done_sentences(record, words))))
    # The worst of all its limits, as on the worksheet: a surface too heavy is not "inside its approved limits".
    said = SAID.get(str(record.result.get("statement")), NO_STATEMENT)
    yield Part("statement", words.write(NOT_USED if record.not_used else said))
    if record.not_used:
        yield Part("text", as_printed(say(record.not_used)))
    lines = (words.numbers(say(line)) for line in statement_lines(record.result)[:2])
    yield Part("text", as_printed(" ".join(lines)))
    # Where the value lies, in ink: the colour of a statement that is not used would say that it counts.
    bar = limit_bar({**record.result, **({"statement": None, "statements": []} if record.not_used else {})})
    drawn = words.picture(draw_limit_bar(bar, WIDTH))
    yield Part("picture", words.numbers(say(finding_words(bar))), svg=drawn, width=150.0)
    yield Part("text", _released(record, words))
    yield Part("heading", words.write("Why it matters"))
    for sentence in WHY:
        yield Part("text", words.write(sentence))
    yield Part("heading", words.write("When it is due again"))
    ahead = [due_sentence(each, words) for each in due[:MOST_DUE]] or [words.write(NOT_ENTERED)]
    yield Part("list", lines=tuple(as_printed(line) for line in (*ahead, *(words.write(line) for line in AGAIN))))
    yield Part("caution", words.write(CAUTION))


def _released(record: JobRecord, words: OwnersWords) -> str:
    release = record.signed(RELEASE)
    if is_released(record) and release is not None:
        by = f"{release.name}{', ' + release.number if release.number else ''}"
        return as_printed(words.write("Released on {t1} by {t2}.", t1=words.days(release.at), t2=by))
    return words.write(NOT_RELEASED)
