"""Restore a backup into a new data folder: every file compared, the records looked at, then one step."""

from __future__ import annotations

import errno
import os
import shutil
import sqlite3
import tempfile
from contextlib import suppress
from pathlib import Path

from django.db import DatabaseError

from hingeline.errors import InputRefused, Refusal
from hingeline_app.records.attachments import attachment_path
from hingeline_app.records.backing_up.make import HEADS, KEYS, checked_copy, copy_attachment
from hingeline_app.records.backing_up.manifest import MANIFEST, Manifest, digests_in, read_manifest
from hingeline_app.records.backing_up.retention import HALF
from hingeline_app.records.heads import CHAINS
from hingeline_app.records.journal import append_lines, journal_file, sync_folder
from hingeline_app.records.looking.findings import Findings
from hingeline_app.records.looking.look import workshops
from hingeline_app.records.other_database import other_database
from hingeline_app.records.second_place import links_after
from hingeline_app.settings.databases import FILE_NAME, sqlite_file


def restore_backup(backup: Path, to: Path) -> Findings:
    """Restore into a folder that does not exist yet, or is empty.

    Raises
    ------
    InputRefused
        It is no backup, a file of it was changed, or the folder is not empty.
    NotABackup
        The records in it do not hold.
    """
    _refuse_a_folder_in_use(to)
    manifest = read_manifest(backup)
    _refuse_changed_files(backup, manifest)
    part = to.with_name(f"{to.name}.part")
    shutil.rmtree(part, ignore_errors=True)
    try:
        findings = _restored(backup, manifest, part)
        if to.exists():
            to.rmdir()
        part.rename(to)
    finally:
        shutil.rmtree(part, ignore_errors=True)
    sync_folder(to.absolute().parent)
    return findings


class NotTried(InputRefused):
    """There was no room to restore a backup for a while: that says nothing of the backup, which stays as it is."""


def try_to_restore(backup: Path) -> Findings:
    """Restore into a folder for a while, with all checks, and take it away again.

    What fails is named a backup no longer: it would count as the last one, so that nobody was told that one is late
    and the next was made in an hour. It lies as half made, and goes with those after a day.

    Raises
    ------
    NotTried
        The folder for a while cannot hold it: the backup is kept, opened and compared but not restored.
    """
    try:
        with _for_a_while(backup) as folder:
            return restore_backup(backup, Path(folder) / "records")
    except BaseException as fault:
        if isinstance(fault, NotTried):
            raise
        if _is_want_of_room(fault):
            raise _not_tried(backup) from fault
        with suppress(OSError):
            backup.rename(backup.with_name(f"{backup.name}{HALF}"))
        raise


def _for_a_while(backup: Path) -> tempfile.TemporaryDirectory[str]:
    try:
        return tempfile.TemporaryDirectory(prefix="hingeline-trial-")
    except OSError as fault:
        raise _not_tried(backup) from fault


def _is_want_of_room(fault: BaseException) -> bool:
    """Whether writing found the disk full; a file that cannot be read is another matter."""
    if isinstance(fault, OSError):
        # Copying a whole folder tells its reasons in words alone.
        full = (errno.ENOSPC, errno.EDQUOT)
        return fault.errno in full or any(os.strerror(each) in str(fault) for each in full)
    return isinstance(fault, DatabaseError | sqlite3.Error) and "disk is full" in str(fault)


def _not_tried(backup: Path) -> NotTried:
    needed = sum(path.stat().st_size for path in backup.rglob("*") if path.is_file()) // 1_000_000 + 1
    remedy = "Make room there, or name another folder in TMPDIR. The backup is kept; it was not restored as a trial."
    expected = f"room for the records, {needed} MB and the attached files"
    where = os.environ.get("TMPDIR") or "the folder for temporary files"
    return NotTried([Refusal("TMPDIR", where, expected, remedy)])


def _refuse_a_folder_in_use(to: Path) -> None:
    if to.exists() and (not to.is_dir() or any(to.iterdir())):
        remedy = "Name a new folder; nothing is written over."
        raise InputRefused.of("--to", str(to), "a folder that is empty, or does not exist yet", remedy)


def _refuse_changed_files(backup: Path, manifest: Manifest) -> None:
    there = digests_in(backup)
    for name in sorted(there.keys() | manifest.files.keys()):
        if there.get(name) != manifest.files.get(name):
            what = "was changed" if name in there and name in manifest.files else "is missing or was added"
            raise InputRefused.of("BACKUP", name, "the file that was backed up", f"It {what}: take another backup.")
    for digest in manifest.attachments:
        if not attachment_path(backup.absolute().parent, digest).is_file():
            remedy = 'Bring the folder "attachments" along: it lies beside the backups.'
            raise InputRefused.of("BACKUP", digest, "the attached file beside the backup", remedy)


def _restored(backup: Path, manifest: Manifest, part: Path) -> Findings:
    part.mkdir(mode=0o700, parents=True)
    shutil.copyfile(backup / FILE_NAME, part / FILE_NAME)
    if (backup / KEYS).is_dir():
        shutil.copytree(backup / KEYS, part / KEYS)
    shutil.copytree(backup / HEADS, part / "journal")
    for digest in manifest.attachments:
        copy_attachment(backup.absolute().parent, part, digest)
    findings = checked_copy(part, part)
    _refuse_other_heads(backup, manifest, findings)
    write_journals(part)
    return findings


def _refuse_other_heads(backup: Path, manifest: Manifest, findings: Findings) -> None:
    heads = {(state.workshop, state.chain): state.head for state in findings.chains}
    listed = {(each["workshop"], each["chain"]): each["head"] for each in manifest.chains}
    if heads != listed:
        raise InputRefused.of("BACKUP", str(backup / MANIFEST), "the heads of its records", "Take another backup.")


def write_journals(folder: Path) -> None:
    """Write the journal of every chain anew, from the database of the folder."""
    with other_database(sqlite_file(folder)) as alias:
        for workshop in workshops(alias):
            for chain in CHAINS:
                links = links_after(workshop, chain, 0, alias)
                if links:
                    append_lines(journal_file(folder / "journal", str(workshop), chain), links)
