"""Whether each signature stands under what its text says was signed: a text copied to another job is found here."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any
from uuid import UUID

from hingeline_app.records.canonical import digest_of
from hingeline_app.records.looking.findings import Finding
from hingeline_app.records.models import Job, Person, Signature

# What is said of a signature whose text differs from the row that it stands in.
SAID = {
    "text": "its text cannot be read",
    "workshop": "its text names another workshop",
    "job": "its text names another job",
    "change": "its text was signed at another change of the job",
    "purpose": "its text was signed for another purpose",
    "seen": "its text was signed under something else than what was seen",
    "signer": "its text names another signer",
    "digest": "its text is another one than its check sum was made of",
}


def signature_findings(using: str) -> Iterator[Finding]:
    """Name what is wrong with each signature, by the number of its job."""
    rows = Signature.objects.using(using).select_related("job__surface__aircraft", "made_by").order_by("job", "pk")
    for row in rows.iterator(chunk_size=500):
        for fault in faults_of(row):
            where = f"job {row.job.number:04d}, {row.purpose}"
            yield Finding("signature", where, SAID[fault], remedy="Compare with the journal and the last backup.")


def faults_of(signature: Signature) -> list[str]:
    """Name what in a signature does not belong to the job it stands under."""
    text = _text_of(signature)
    if text is None:
        return ["text"]
    expected: dict[str, Any] = {
        "workshop": _workshop_of(signature.job, text),
        "job": str(signature.job_id),
        "change": signature.change,
        "purpose": signature.purpose,
        "seen": signature.seen,
    }
    found = [name for name, value in expected.items() if text.get(name) != value]
    others = {"signer": _is_signer(signature, text), "digest": digest_of(signature.text.encode()) == signature.digest}
    return found + [name for name, is_right in others.items() if not is_right]


def _text_of(signature: Signature) -> Mapping[str, Any] | None:
    """Read what was signed; None where it is no table."""
    try:
        text = json.loads(signature.text)
    except (ValueError, RecursionError):
        return None
    return text if isinstance(text, dict) and isinstance(text.get("signer"), dict) else None


def _workshop_of(job: Job, text: Mapping[str, Any]) -> str:
    """Give the workshop that a signature must name: an aircraft that came from elsewhere was signed where it was then.

    It may have gone through several: where it came from names the last one only.
    """
    named = text.get("workshop")
    return named if job.surface.aircraft.came_from and isinstance(named, str) and named else str(job.workshop_id)


def _is_signer(signature: Signature, text: Mapping[str, Any]) -> bool:
    """Compare persons; who signed elsewhere and was known here already is the same person under another identifier."""
    named, licence, person = text["signer"].get("person"), text["signer"].get("licence"), signature.made_by
    if named == str(person.pk):
        return True
    job = signature.job
    if not job.surface.aircraft.came_from or text.get("workshop") == str(job.workshop_id):
        return False
    # A licence number may have been renewed since; a person who is here under that identifier is another one.
    return bool(licence and licence == person.licence_number) or _is_nobody_here(str(named), signature._state.db)


def _is_nobody_here(identifier: str, using: str | None) -> bool:
    try:
        return not Person.objects.using(using).filter(pk=UUID(identifier)).exists()
    except ValueError:
        return False
