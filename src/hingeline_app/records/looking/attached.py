"""Whether every attached file is there, and holds what it held."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from hingeline_app.records.attachments import attachment_holds, attachment_path
from hingeline_app.records.looking.findings import Finding
from hingeline_app.records.looking.walking import Walked


def attachment_findings(walked: Walked, data: Path, *, read: bool) -> Iterator[Finding]:
    """Name each attachment of an entry that is missing or, where they are read, was changed."""
    for step in walked.steps:
        for digest in step.attachments:
            try:
                path = attachment_path(data, digest)
                holds = attachment_holds(data, digest) if read else path.is_file()
            except ValueError:
                yield Finding("attachment", f"{walked.chain} {step.position}", f'"{digest}" is no check sum')
                continue
            if not holds:
                yield _finding(walked, step.position, digest, path.exists())


def _finding(walked: Walked, position: int, digest: str, exists: bool) -> Finding:
    says = f"the attached file {digest[:16]}… {'was changed' if exists else 'is missing'}"
    return Finding("attachment", f"{walked.chain} {position}", says, remedy="Take it from a backup.")
