"""How a signature is made: who proved it, what was seen, where the ledger stood."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import Any
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.confirming_time import refuse_unconfirmed_time
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.working import Moved, Work
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.chain import ORIGIN
from hingeline_app.records.dates import now
from hingeline_app.records.models import Entry, Job, Person, Signature
from hingeline_app.records.models.jobs import JobRow
from hingeline_app.records.proof import Proof
from hingeline_app.records.queries.picture import seen_of
from hingeline_app.records.ways_in import PASSKEY
from hingeline_app.records.write_door import Actor

FORMAT = "hingeline/signature/1"
LICENCE_NUMBER = "licence number"
FRESH = timedelta(minutes=2)


def holds(proof: Proof, actor: Actor, ways: frozenset[str], over: str) -> bool:
    """Say whether a proof is this person's, of a kind that is enough here, fresh, and for what is signed.

    A passkey answers for the very bytes; a password may have been asked without them.
    """
    own = actor.person is not None and proof.person == actor.person.pk
    covers = proof.over == over or (not proof.over and proof.how != PASSKEY)
    return own and covers and proof.how in ways and timedelta(0) <= now() - proof.at <= FRESH


def require_proof(actor: Actor, proof: Proof, ways: frozenset[str], over: str) -> None:
    """Refuse a signature without fresh proof.

    Raises
    ------
    NotAllowed
        It is another person's, too old, for something else, or of a kind that is not enough here.
    """
    if not holds(proof, actor, ways, over):
        raise NotAllowed(_("Prove again who you are: each signature needs it, fresh."))


def over_of(seen: Mapping[UUID, str]) -> str:
    """Give the digest that a proof is over: of one job what was seen of it, of several that of them all."""
    if len(seen) == 1:
        return next(iter(seen.values()))
    return digest_of(canonical({str(job): digest for job, digest in seen.items()}))


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
    work: Work,
    purpose: str,
    seen: str,
    proof: Proof,
    *,
    reason: str = "",
    notes: tuple[str, ...] = (),
    found_at: Sequence[Mapping[str, str]] | None = None,
) -> Signature:
    """Make a signature that holds for this job, as it was seen, at this place of the ledger; not kept yet.

    ``found_at`` is what the person who signs an inspection found at each item.
    """
    refuse_unconfirmed_time(work.entry.actor.workshop)
    actor, at = work.entry.actor, now()
    # As the records have the person now: who acts may have been read before a licence was entered.
    signer = Person.objects.get(pk=work.person.pk)
    text = {
        "format": FORMAT,
        "purpose": purpose,
        "workshop": str(work.job.workshop_id),
        "job": str(work.job.pk),
        "number": work.job.number,
        "change": work.job.changes,
        "seen": seen,
        "after": _head(work),
        "signer": {"person": str(signer.pk), "name": signer.name, "licence": signer.licence_number},
        "proof": proof.as_note(),
        "reason": reason,
        "notes": list(notes),
        "at": at.isoformat(),
    }
    if found_at is not None:
        text["found"] = [dict(each) for each in found_at]
    data = canonical(text)
    return Signature(
        purpose=purpose,
        seen=seen,
        text=data.decode(),
        digest=digest_of(data),
        proved_by=proof.how,
        signed_at=at,
        tablet=actor.tablet.pk if actor.tablet else None,
        reason=reason,
        notes=list(notes),
        **work.made,
    )


def together(first: JobRow, work: Work) -> bool:
    """Say whether another signature came from the same device within two minutes."""
    tablet = work.entry.actor.tablet
    same = isinstance(first, Signature) and first.tablet == (tablet.pk if tablet else None)
    return same and isinstance(first, Signature) and now() - first.signed_at < FRESH


def _head(work: Work) -> dict[str, Any]:
    last = Entry.objects.filter(workshop=work.job.workshop_id, chain="records").order_by("-position").first()
    return {"position": last.position, "digest": last.digest} if last else {"position": 0, "digest": ORIGIN}
