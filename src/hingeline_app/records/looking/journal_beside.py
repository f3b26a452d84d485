"""Whether the journal and the database tell the same, and which of them is ahead."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import zip_longest
from pathlib import Path

from hingeline_app.records.chain import Link
from hingeline_app.records.journal import JournalDamaged, journal_file, read_lines
from hingeline_app.records.looking.findings import NOTHING, Finding
from hingeline_app.records.looking.walking import Walked

REBUILD = "Make the records again from the journal: hingeline ledger rebuild"


def journal_findings(walked: Walked, folder: Path) -> Iterator[Finding]:
    """Name the first difference between the two places, and by how much one is ahead."""
    path = journal_file(folder, str(walked.workshop), walked.chain)
    try:
        yield from _compared(walked, path.name, list(read_lines(path)))
    except JournalDamaged as damaged:
        yield Finding("journal", path.name, str(damaged), remedy="Compare it with a backup's journal.")


def _compared(walked: Walked, name: str, lines: list[Link]) -> Iterator[Finding]:
    for line, step in zip_longest(lines, walked.steps):
        if line is None:
            yield _behind(name, len(walked.steps) - len(lines))
            return
        if step is None:
            yield _ahead(name, len(lines) - len(walked.steps))
            return
        if (line.position, line.digest) != (step.position, step.digest):
            yield Finding("journal", name, f"entry {line.position} is another one in the database", remedy=REBUILD)
            return


def _behind(name: str, lines: int) -> Finding:
    says = f"the database is ahead by {lines} entries; their lines are written at the next save"
    return Finding("journal", name, says, NOTHING)


def _ahead(name: str, lines: int) -> Finding:
    says = f"the journal is ahead by {lines} entries: an older copy of the database was put back, or its tail cut off"
    return Finding("journal", name, says, remedy=REBUILD)
