"""A whole workshop into one file, and from one file into a new folder."""

from __future__ import annotations

import json
import os
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

from django.conf import settings

import hingeline
from hingeline.errors import InputRefused
from hingeline_app.records.attachments import attachment_path, keep_attachment
from hingeline_app.records.chain import Link
from hingeline_app.records.heads import CHAINS
from hingeline_app.records.journal import sync_folder
from hingeline_app.records.ledger_file import Ledger, OpenLedger, write_ledger
from hingeline_app.records.looking.look import workshops
from hingeline_app.records.looking.walking import step_of
from hingeline_app.records.rebuilding import Rebuilt, rebuild
from hingeline_app.records.second_place import links_after


def the_workshop(named: str | None) -> UUID:
    """Give the workshop that was named, or the only one.

    Raises
    ------
    InputRefused
        There is none of this name, or several and none was named.
    """
    there = {str(each): each for each in workshops("default")}
    if named is None and len(there) == 1:
        return next(iter(there.values()))
    if named not in there:
        listed = ", ".join(there) or "none: these records hold no workshop"
        raise InputRefused.of("--workshop", named or "missing", f"one of {listed}", "Name one of them.")
    return there[named]


def export_workshop(workshop: UUID, to: Path, now: datetime) -> Ledger:
    """Write every entry and attachment of a workshop to a new file, beside its place first."""
    chains = {chain: links for chain in CHAINS if (links := links_after(workshop, chain, 0))}
    about = {"at": now.astimezone(UTC).isoformat(timespec="seconds"), "hingeline": hingeline.__version__}
    ledger = Ledger(str(workshop), chains, attachments_of(chains["records"]), about)
    save_ledger(ledger, to)
    return ledger


def save_ledger(ledger: Ledger, to: Path) -> None:
    """Write a ledger with its attachments from the data folder; the file is there whole, or not at all.

    Raises
    ------
    InputRefused
        The file exists already, or an attached file is missing.
    """
    if to.exists():
        raise InputRefused.of("FILE", str(to), "a file that does not exist yet", "Name another; none is written over.")
    data = Path(settings.DATA_FOLDER)
    files = {digest: attachment_path(data, digest) for digest in ledger.attachments}
    for digest, file in files.items():
        if not file.is_file():
            raise InputRefused.of("FILE", digest, "every attached file", "Take it from a backup first.")
    part = to.with_name(f"{to.name}.part")
    try:
        part.unlink(missing_ok=True)
        write_ledger(part, ledger, files)
        with part.open("rb") as file_written:
            os.fsync(file_written.fileno())
        part.rename(to)
    finally:
        part.unlink(missing_ok=True)
    sync_folder(to.absolute().parent)


def attachments_of(links: list[Link]) -> tuple[str, ...]:
    """Name every attachment of some entries, each once."""
    named = (digest for link in links for digest in step_of(0, "", json.loads(link.body)).attachments)
    return tuple(dict.fromkeys(named))


def import_workshop(file: Path, to: Path) -> Rebuilt:
    """Make a data folder from an exported workshop.

    Raises
    ------
    InputRefused
        The file does not hold, holds only a part of a workshop, or the folder is not empty.
    """
    with OpenLedger(file) as opened:
        ledger = opened.ledger
        if not ledger.is_whole:
            remedy = "An aircraft's records can be looked at, not worked on: import the whole workshop."
            raise InputRefused.of("FILE", file.name, "a whole workshop", remedy)
        chains = {name: [link for link in links if isinstance(link, Link)] for name, links in ledger.chains.items()}

        def bring(part: Path) -> None:
            for digest in ledger.attachments:
                keep_attachment(part, opened.attachment(digest))

        return rebuild({UUID(ledger.workshop): chains}, to, bring)
