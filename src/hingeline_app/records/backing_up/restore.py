"""Restore a backup into a new data folder: every file compared, the records looked at, then one step."""

from __future__ import annotations

import shutil
import tempfile
from contextlib import suppress
from pathlib import Path

from hingeline.errors import InputRefused
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


def try_to_restore(backup: Path) -> Findings:
    """Restore into a folder for a while, with all checks, and take it away again.

    What fails is named a backup no longer: it would count as the last one, so that nobody was told that one is late
    and the next was made in an hour. It lies as half made, and goes with those after a day.
    """
    try:
        with tempfile.TemporaryDirectory(prefix="hingeline-trial-") as folder:
            return restore_backup(backup, Path(folder) / "records")
    except BaseException:
        with suppress(OSError):
            backup.rename(backup.with_name(f"{backup.name}{HALF}"))
        raise


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
