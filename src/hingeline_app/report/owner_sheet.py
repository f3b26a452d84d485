"""The owner's sheet: one side that says what was done, where the surface lies, why it matters, when it is due again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from hingeline_app.figures import draw_limit_bar
from hingeline_app.figures.limit_axis import finding_words
from hingeline_app.figures.wording import shorten
from hingeline_app.report.explanation import Part, make_explanation
from hingeline_app.report.fonts import breakable, printable
from hingeline_app.report.job_record import RELEASE, JobRecord
from hingeline_app.report.job_view import is_released
from hingeline_app.report.pictures import WIDTH, limit_bar
from hingeline_app.report.words import moment_statement, statement_lines
from hingeline_app.report.worksheet import Paper

TITLE = "What was done on your aircraft"
MOST_CHANGES, MOST_DUE = 5, 5
SAID = {
    "inside": "Weighed: inside its approved limits",
    "outside": "Weighed: outside its approved limits",
    "too close to tell": "Weighed: too close to its limit to tell",
}
WHY = (
    "A control surface turns about its hinge line. If too much of its weight lies behind that line, the air can feed "
    "its swing instead of stopping it: flutter. It can begin without warning and break the aircraft within seconds. "
    "That is why each surface has a limit for its static moment, and why it is weighed after anything that changes its "
    "weight.",
    "Paint, a patch, a new tab, water that cannot drain, a weight that came loose: each moves the balance. Dirt too.",
)
AGAIN = (
    "Have it weighed again after paint, repair or a new part on it, and after any vibration of the controls.",
    "Before each flight: weights tight, no play beyond the limit, drains open, nothing rubbing.",
)
NOT_ENTERED = "No date stands in the workshop's records: ask for what the approved programme says."
CAUTION = (
    "Balance alone does not rule flutter out: hinges, play, cables, stiffness and speed count as well. If a control "
    "shakes in flight, slow down, land, and have it looked at before the next flight. Never try to make it happen "
    "again."
)


def make_owner_sheet(
    record: JobRecord, due: Sequence[str], made_at: datetime, version: str, paper: Paper = "a4"
) -> bytes:
    """Print the owner's sheet.

    Parameters
    ----------
    record : JobRecord
    due : sequence of str
        When what is due again, each as a sentence; empty: said to be not entered.
    made_at : datetime
    version : str
    paper : {"a4", "letter"}

    Returns
    -------
    bytes
        A tagged PDF/A-3a of one side.
    """
    sheet = record.sheet
    return make_explanation(
        TITLE, _words(f"{shorten(sheet.aircraft, 60)}. {shorten(surface_name(record), 80)}."),
        list(_parts(record, due)), made_at,
        foot=_words(f"{shorten(sheet.workshop, 40)} · record {record.number or 'without a number'} · "
                    f"Hingeline {version} · made {made_at:%Y-%m-%d %H:%M}"),
        aside="For the owner. Not a release.", paper=paper,
    )  # fmt: skip


def surface_name(record: JobRecord) -> str:
    """Give the name of the surface."""
    return str((record.result.get("surface") or {}).get("name") or "Surface")


def done_sentences(record: JobRecord) -> list[str]:
    """Say what was done, in sentences."""
    weighed = len(record.weighings) or 1
    times = {1: "once", 2: "twice"}.get(weighed, f"{weighed} times")
    on = f" The last weighing was on {record.weighed_on}." if record.weighed_on else ""
    sentences = [f"{shorten(surface_name(record), 80)} was weighed about its hinge line {times}.{on}"]
    if record.changes:
        sentences.append(f"Changed: {'; '.join(changes_made(record))}.")
    if record.refit:
        sentences.append("Hung again and checked: travel, play, friction and sense stand on the worksheet.")
    return sentences


def changes_made(record: JobRecord) -> list[str]:
    """Name what was changed, the first few."""
    changes = [f"{shorten(each.place, 60)}, {each.mass}" for each in record.changes[:MOST_CHANGES]]
    more = len(record.changes) - len(changes)
    return [*changes, f"and {more} more, on the worksheet"] if more else changes


def _parts(record: JobRecord, due: Sequence[str]) -> Iterator[Part]:
    yield Part("text", _words(" ".join(done_sentences(record))))
    yield Part("statement", SAID.get(str(moment_statement(record.result)), "Weighed: no statement"))
    yield Part("text", _words(" ".join(statement_lines(record.result)[:2])))
    bar = limit_bar(dict(record.result))
    yield Part("picture", finding_words(bar), svg=draw_limit_bar(bar, WIDTH), width=150.0)
    yield Part("text", _released(record))
    yield Part("heading", "Why it matters")
    for words in WHY:
        yield Part("text", words)
    yield Part("heading", "When it is due again")
    yield Part("list", lines=tuple(_words(line) for line in (*(due[:MOST_DUE] or [NOT_ENTERED]), *AGAIN)))
    yield Part("caution", CAUTION)


def _released(record: JobRecord) -> str:
    release = record.signed(RELEASE)
    if is_released(record) and release is not None:
        return _words(f"Released on {release.at} by {release.name}{', ' + release.number if release.number else ''}.")
    return "Not released when this was printed: the aircraft is not to fly on the strength of this sheet."


def _words(text: str) -> str:
    return breakable(printable(text)[0])
