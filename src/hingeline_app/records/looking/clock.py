"""Whether the clock can be trusted: entries are ordered by position, but days are counted by it."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from hingeline_app.records.looking.findings import NOTHING, SIGNING, Finding
from hingeline_app.records.looking.walking import Walked

CONFIRMED_BY = "Nothing is signed until an administrator confirmed on the ledger's page that the clock is right."


def confirmed_in(chains: Collection[Walked]) -> set[str]:
    """Name the entries, by chain and position, of which an administrator said in any chain that the time did pass."""
    return {of for walked in chains for step in walked.steps for of in step.confirms}


def clock_findings(walked: Walked, now: str, confirmed: Collection[str] = ()) -> Iterator[Finding]:
    """Name the entries that are dated before the one they follow or long after, and a clock behind the last entry.

    A jump ahead that was confirmed is nothing that is not as it should be: a workshop rested, and said so.
    """
    for step in walked.steps:
        if step.clock_moved_back_from:
            says = f"dated {step.at}, after an entry of {step.clock_moved_back_from}: the clock had been moved back"
            yield Finding("clock", f"{walked.chain} {step.position}", says, NOTHING)
        if step.clock_ahead_of and f"{walked.chain} {step.position}" not in confirmed:
            says = f"dated {step.at}, long after the entry before it, of {step.clock_ahead_of}"
            yield Finding("clock", f"{walked.chain} {step.position}", says, NOTHING, CONFIRMED_BY)
    if walked.steps and now < walked.steps[-1].at:
        says = f"the clock says {now}, and the last entry is of {walked.steps[-1].at}"
        yield Finding("clock", walked.chain, says, SIGNING, "Set the clock, or confirm the time.")
