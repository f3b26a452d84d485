"""Release: the certifying person's decision, under what was seen; and its withdrawal, a new entry."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.entrance import NotAllowed, require, signed_in
from hingeline_app.records.actions.signing import holds, over_of, refuse_unseen, require_proof, signed, together
from hingeline_app.records.actions.working import begun, refuse_closed
from hingeline_app.records.legible import remark
from hingeline_app.records.models import Job, Person, Signature
from hingeline_app.records.permission import Matter, Words
from hingeline_app.records.proof import Proof
from hingeline_app.records.queries.matter import AGAIN, OPEN, RELEASE, RELEASED, SECOND, matter_of, standing_signature
from hingeline_app.records.queries.open_points import open_points
from hingeline_app.records.queries.picture import seen_of
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.ways_in import STRONG
from hingeline_app.records.write_door import Actor, Command, OpenEntry, write_door

ON_OWN_INSPECTION = "Inspected again by the same person. There was no second inspection."
CLOSE_TOGETHER = "Both signatures came from one device within two minutes."
# Names, for a person and the number of a job, what is in the way beside what the records can judge: what a step and
# a limit mean is known where job files are read. It is asked of every release, inside the door.
Judge = Callable[[Person, int], Iterable[str]]


def release(
    actor: Actor,
    seen: Mapping[UUID, str],
    proof: Proof,
    *,
    judge: Judge,
    on_own_inspection: bool = False,
    command: Command | None = None,
) -> list[Signature]:
    """Release one job, or the jobs of an order, each as it was seen: all of them or none.

    ``judge`` is asked of each job in the same transaction; whatever it names refuses them all.

    Raises
    ------
    NotAllowed
        The table of roles has no yes; something is open: it says what; no fresh proof.
    Moved
        A job changed since it was looked at.
    """
    with write_door(actor, "released", command=command) as entry:
        entry.says["jobs"] = [str(job) for job in seen]
        is_proved, own = holds(proof, actor, STRONG, over_of(seen)), on_own_inspection
        return [_release(entry, job, digest, proof, judge, is_proved, own) for job, digest in seen.items()]


def withdraw_release(actor: Actor, job: UUID, reason: str, proof: Proof, command: Command | None = None) -> Signature:
    """Withdraw a release: the job is open again, and what was signed stays readable as withdrawn.

    Raises
    ------
    NotAllowed
        The table of roles has no yes, the job is not released, or there is no fresh proof.
    """
    says = {"reason": remark("reason", reason, needed=True)}
    with write_door(actor, "release withdrawn", says, command=command) as entry:
        kept = found(signed_in(actor), Job, job)
        require(actor, Act.WITHDRAW_RELEASE, matter_of(kept))
        require_proof(actor, proof, STRONG, seen_of(kept))
        signature = standing_signature(kept, RELEASE)
        if kept.state != RELEASED or signature is None:
            raise NotAllowed(_("This job is not released."))
        work = begun(entry, kept, signed_in(actor))
        signature.withdrawn_because, signature.withdrawn_by = says["reason"], work.person
        signature.withdrawn_at_change, kept.state = kept.changes, OPEN
        work.keep(signature)
        work.keep(kept)
    return signature


def _release(
    entry: OpenEntry, job: UUID, seen: str, proof: Proof, judge: Judge, is_proved: bool, on_own_inspection: bool
) -> Signature:
    actor = entry.actor
    kept = found(signed_in(actor), Job, job)
    refuse_closed(kept)
    second = standing_signature(kept, SECOND)
    own = standing_signature(kept, AGAIN) if on_own_inspection and second is None else None
    require(actor, Act.RELEASE, _matter(kept, second, own, is_proved))
    refuse_unseen(Job.objects.get(pk=kept.pk), seen)
    _refuse_open([*open_points(kept), *judge(signed_in(actor), kept.number)])
    work = begun(entry, kept, signed_in(actor))
    inspected = second or own
    notes = [ON_OWN_INSPECTION] * (own is not None) + [CLOSE_TOGETHER] * (
        inspected is not None and together(inspected, work)
    )
    signature = signed(work, RELEASE, seen, proof, notes=tuple(notes))
    kept.state = RELEASED
    work.keep(signature)
    work.keep(kept)
    return signature


def _matter(job: Job, second: Signature | None, own: Signature | None, is_proved: bool) -> Matter:
    return replace(
        matter_of(job),
        inspected_by=second.made_by_id if second else None,
        on_own_inspection=own is not None,
        is_proved=is_proved,
    )


def _refuse_open(points: Sequence[Words]) -> None:
    if points:
        raise NotAllowed(_("In the way of release: %(points)s") % {"points": " ".join(map(str, points))})
