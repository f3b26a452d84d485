"""The paper for work that stops before it is complete: why, how each surface is left, what is open; never a release."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from hingeline_app.report.explanation import Part, make_explanation
from hingeline_app.report.fonts import as_printed
from hingeline_app.report.release_wording import SIGNED_BY_HAND
from hingeline_app.report.sheet import made_words
from hingeline_app.report.worksheet import Paper
from hingeline_app.said import AsTyped

TITLE = "Incomplete work"
CAUTION = (
    "The work named here is not complete. Do not fly the aircraft until it is completed, inspected by a second person "
    "and released by the certifying person. This paper is not a release."
)


@dataclass(frozen=True, slots=True)
class IncompleteJob:
    """One surface as it is left: texts, each already in its words."""

    number: str
    aircraft: str
    surface: str
    reason: str
    stated: str
    left: tuple[str, ...] = ()
    is_open: tuple[str, ...] = ()


def make_incomplete_paper(
    jobs: Sequence[IncompleteJob], workshop: str, made_at: datetime, version: str, paper: Paper = "a4"
) -> bytes:
    """Print the paper for one job, or for the jobs of an order."""
    numbers = ", ".join(each.number for each in jobs)
    return make_explanation(
        TITLE, as_printed(f"{workshop}. {jobs[0].aircraft}. Job {numbers}."), list(_parts(jobs)), made_at,
        foot=as_printed(f"Incomplete work, job {numbers} · Hingeline {version} · made {made_words(made_at)}"),
        aside="Not a release", paper=paper,
    )  # fmt: skip


def _parts(jobs: Sequence[IncompleteJob]) -> Iterator[Part]:
    yield Part("statement", "Not complete: not to be flown")
    for each in jobs:
        yield Part("heading", as_printed(f"Job {each.number}: {each.surface}"))
        # What was typed stays as it was typed: said together, the sheet would know neither.
        yield Part("text", AsTyped(as_printed(each.reason)))
        yield Part("text", as_printed(f"{each.stated[:1].upper()}{each.stated[1:]}"))
        yield Part("heading", "How it is left")
        yield Part("list", lines=tuple(as_printed(line) for line in each.left))
        yield Part("heading", "In the way of release")
        yield Part("list", lines=tuple(as_printed(line) for line in each.is_open or ("Nothing but the decision.",)))
    yield Part("heading", "Signed by hand, where the authority wants it on paper")
    yield Part("rules", lines=SIGNED_BY_HAND)
    yield Part("caution", CAUTION)
