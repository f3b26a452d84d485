"""How a signature is made: who proved it, what was seen, where the ledger stood."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.working import Moved, Work
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.chain import ORIGIN
from hingeline_app.records.dates import now
from hingeline_app.records.models import Entry, Job, Signature
from hingeline_app.records.models.jobs import JobRow
from hingeline_app.records.queries.picture import seen_of
from hingeline_app.records.write_door import Actor

FORMAT = "hingeline/signature/1"
PASSWORD, PASSKEY, PIN, LICENCE_NUMBER = "password", "passkey", "PIN", "licence number"
STRONG = frozenset({PASSWORD, PASSKEY})
FRESH = timedelta(minutes=2)


@dataclass(frozen=True)
class Proof:
    """How and when a person proved who it is, for this signature alone. The session is no proof."""

    person: UUID
    method: str
    at: datetime

    def holds(self, actor: Actor, methods: frozenset[str]) -> bool:
        """Say whether it is this person's, of a kind that is enough here, and fresh."""
        own = actor.person is not None and self.person == actor.person.pk
        return own and self.method in methods and timedelta(0) <= now() - self.at <= FRESH


def require_proof(actor: Actor, proof: Proof, methods: frozenset[str]) -> None:
    """Refuse a signature without fresh proof.

    Raises
    ------
    NotAllowed
        It is another person's, too old, or of a kind that is not enough here.
    """
    if not proof.holds(actor, methods):
        raise NotAllowed(_("Prove again who you are: each signature needs it, fresh."))


def refuse_unseen(job: Job, seen: str) -> None:
    """Refuse a signature under what has changed since it was looked at.

    Raises
    ------
    Moved
        The job is not as it was seen.
    """
    is_now = seen_of(job)
    if seen != is_now:
        raise Moved({"seen": seen}, {"seen": is_now, "changes": job.changes})


def signed(
    work: Work, purpose: str, seen: str, proof: Proof, *, reason: str = "", notes: tuple[str, ...] = ()
) -> Signature:
    """Make a signature that holds for this job, as it was seen, at this place of the ledger; not kept yet."""
    actor, at = work.entry.actor, now()
    text = {
        "format": FORMAT,
        "purpose": purpose,
        "workshop": str(work.job.workshop_id),
        "job": str(work.job.pk),
        "number": work.job.number,
        "change": work.job.changes,
        "seen": seen,
        "after": _head(work),
        "signer": {"person": str(work.person.pk), "name": work.person.name, "licence": work.person.licence_number},
        "proved_by": proof.method,
        "reason": reason,
        "notes": list(notes),
        "at": at.isoformat(),
    }
    data = canonical(text)
    return Signature(
        purpose=purpose,
        seen=seen,
        text=data.decode(),
        digest=digest_of(data),
        proved_by=proof.method,
        signed_at=at,
        tablet=actor.tablet.pk if actor.tablet else None,
        reason=reason,
        notes=list(notes),
        **work.made,
    )


def faults_of(signature: Signature) -> list[str]:
    """Name what in a signature does not belong to the job it stands under: a copied text is found here."""
    text = json.loads(signature.text)
    expected: dict[str, Any] = {
        "workshop": str(signature.job.workshop_id),
        "job": str(signature.job_id),
        "change": signature.change,
        "purpose": signature.purpose,
        "seen": signature.seen,
    }
    found = [name for name, value in expected.items() if text.get(name) != value]
    signer = text.get("signer", {}).get("person")
    return (
        found
        + ["signer"] * (signer != str(signature.made_by_id))
        + ["digest"] * (_digest(signature) != signature.digest)
    )


def together(first: JobRow, work: Work) -> bool:
    """Say whether another signature came from the same device within two minutes."""
    tablet = work.entry.actor.tablet
    same = isinstance(first, Signature) and first.tablet == (tablet.pk if tablet else None)
    return same and isinstance(first, Signature) and now() - first.signed_at < FRESH


def _digest(signature: Signature) -> str:
    return digest_of(signature.text.encode())


def _head(work: Work) -> dict[str, Any]:
    last = Entry.objects.filter(workshop=work.job.workshop_id, chain="records").order_by("-position").first()
    return {"position": last.position, "digest": last.digest} if last else {"position": 0, "digest": ORIGIN}
