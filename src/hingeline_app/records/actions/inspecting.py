"""Second inspection, item by item and blind; and "inspected again by the same person", which is never one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import NamedTuple
from uuid import UUID

from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed, require, signed_in
from hingeline_app.records.actions.signing import LICENCE_NUMBER, over_of, refuse_unseen, require_proof, signed
from hingeline_app.records.actions.working import Work, begun, refuse_closed, working
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, remark
from hingeline_app.records.models import InspectionItem, Job, Look, Person, Signature
from hingeline_app.records.proof import Proof
from hingeline_app.records.queries.items import AGREED, FINDINGS, items_of
from hingeline_app.records.queries.matter import AGAIN, SECOND, matter_of, workers
from hingeline_app.records.queries.standing import standing_of
from hingeline_app.records.queries.visible import Nowhere, Row, found
from hingeline_app.records.roles import CERTIFYING, ENGINEER, SECOND_INSPECTOR, Act
from hingeline_app.records.ways_in import STRONG
from hingeline_app.records.write_door import Actor, Command, OpenEntry, write_door

VOUCHING = frozenset({ENGINEER, SECOND_INSPECTOR, CERTIFYING})
WITNESS_WORKED = "The witness of the guest worked on this job."


class Disturbed(NamedTuple):
    """What was disturbed, and what the worker says of it."""

    name: str
    tick: str


def ask_for_inspection(
    actor: Actor, job: UUID, disturbed: Sequence[Disturbed], command: Command | None = None
) -> list[InspectionItem]:
    """List what another person is to look at; what the worker says stays hidden until that person has looked.

    Raises
    ------
    InputRefused
        Nothing is listed.
    """
    if not disturbed:
        raise InputRefused.of("items", "", "at least one item", "List what was disturbed.")
    with working(actor, Act.WORK, "second inspection asked for", job, command=command) as work:
        items = [
            InspectionItem(name=legible("item", each.name, longest=200), tick=legible("tick", each.tick), **work.made)
            for each in disturbed
        ]
        for item in items:
            work.keep(item)
    return items


def look(actor: Actor, item: UUID, finding: str, note: str = "", command: Command | None = None) -> Look:
    """Say what the second person sees at one item. To differ is a state, not an error.

    Raises
    ------
    NotAllowed
        The actor worked on the job, whichever account is used; a guest's finding has no witness.
    """
    if finding not in FINDINGS:
        raise InputRefused.of("finding", finding, " or ".join(FINDINGS), "Choose one of them.")
    kept = item_of(actor, item)
    with looking_at(actor, kept.job_id, "item looked at", command) as work:
        seen = Look(item=kept, finding=finding, note=remark("note", note), **work.made)
        work.keep(seen)
    return seen


def sign_as_second(
    actor: Actor,
    seen: Mapping[UUID, str],
    proof: Proof,
    *,
    witness: Person | None = None,
    command: Command | None = None,
) -> list[Signature]:
    """Sign the second inspection of one job, or of the jobs of an order, each as it was seen.

    ``seen`` gives for each job the digest of what was looked at. A guest signs by licence number,
    with a person of the workshop as witness.

    Raises
    ------
    NotAllowed
        The actor worked on one of them; an item is not looked at or differs; no fresh proof.
    Moved
        A job changed since it was looked at.
    """
    with write_door(actor, "second inspection signed", command=command) as entry:
        _require_second_proof(actor, proof, witness, over_of(seen))
        _note_witness(entry, actor, witness)
        works = [_signing(actor, entry, job) for job in seen]
        signatures = [_sign(work, seen[work.job.pk], proof, witness) for work in works]
        entry.says["jobs"] = [str(job) for job in seen]
    return signatures


def sign_again(
    actor: Actor, job: UUID, seen: str, reason: str, proof: Proof, command: Command | None = None
) -> Signature:
    """Sign "inspected again by the same person", with the reason why nobody else could be found.

    The law lets one person inspect again only where it could not be foreseen. It never counts
    as a second inspection.

    Raises
    ------
    NotAllowed
        The actor did not work on the job, may not certify or inspect, or gave no fresh proof.
    InputRefused
        The reason is missing.
    """
    says = {"reason": remark("reason", reason, needed=True)}
    with working(actor, Act.INSPECT_AGAIN, AGAIN, job, says=says, command=command) as work:
        require_proof(actor, proof, STRONG, seen)
        refuse_unseen(_before(work), seen)
        found_at = _what_was_found(work)
        signature = signed(work, AGAIN, seen, proof, reason=says["reason"], found_at=found_at)
        work.keep(signature)
    return signature


def _sign(work: Work, seen: str, proof: Proof, witness: Person | None) -> Signature:
    before = _before(work)
    refuse_unseen(before, seen)
    found_at = _what_was_found(work)
    notes = (WITNESS_WORKED,) if witness is not None and witness.pk in workers(before) else ()
    signature = signed(work, SECOND, seen, proof, notes=notes, found_at=found_at)
    work.keep(signature)
    work.keep(work.job)
    return signature


def _signing(actor: Actor, entry: OpenEntry, job: UUID) -> Work:
    kept = _job(actor, job)
    require(actor, Act.INSPECT, matter_of(kept))
    refuse_closed(kept)
    return begun(entry, kept, signed_in(actor))


def _before(work: Work) -> Job:
    """Give the job as it was seen, one change before this one."""
    return Job.objects.get(pk=work.job.pk)


def _what_was_found(work: Work) -> list[dict[str, str]]:
    """Give what this person found at each item, which the signature covers; none may be open.

    Raises
    ------
    NotAllowed
        An item is not looked at by this person, or differs.
    """
    items = items_of(work.person, work.job)
    left = [item.name for item in items if item.finding != AGREED]
    if not items:
        raise NotAllowed(_("Nothing is listed to look at: whoever did the work lists what was disturbed."))
    if left:
        raise NotAllowed(_("Still open: %(items)s.") % {"items": ", ".join(left)})
    return [
        {"item": str(item.identifier), "name": item.name, "finding": item.finding, "note": item.note} for item in items
    ]


@contextmanager
def looking_at(actor: Actor, job: UUID, kind: str, command: Command | None) -> Iterator[Work]:
    """Open the door for one look at a job by who may look; to look is no work."""
    with write_door(actor, kind, command=command) as entry:
        kept = _job(actor, job)
        _note_witness(entry, actor, actor.witness)
        about = matter_of(kept)
        own = signed_in(actor).pk in about.workers
        require(actor, Act.INSPECT_AGAIN if own else Act.INSPECT, about)
        refuse_closed(kept)
        work = begun(entry, kept, signed_in(actor))
        yield work
        entry.keep(kept)


def _job(actor: Actor, job: UUID) -> Job:
    """Find a job to inspect; a guest, who sees nothing else, finds it in the workshop."""
    person = signed_in(actor)
    return (
        _of_workshop(Job.objects.filter(workshop=actor.workshop), job) if person.is_guest else found(person, Job, job)
    )


def item_of(actor: Actor, item: UUID) -> InspectionItem:
    """Find an item for who looks at it; a guest, who sees nothing else, finds it in the workshop."""
    person, items = signed_in(actor), InspectionItem.objects.filter(job__workshop=actor.workshop)
    return _of_workshop(items, item) if person.is_guest else found(person, InspectionItem, item)


def _of_workshop(rows: QuerySet[Row], identifier: UUID) -> Row:
    row = rows.filter(pk=identifier).first()
    if row is None:
        raise Nowhere("there is nothing of that name here")
    return row


def _require_second_proof(actor: Actor, proof: Proof, witness: Person | None, over: str) -> None:
    """Require the proof for a second inspection: a guest shows the licence to a witness."""
    if signed_in(actor).is_guest:
        require_proof(actor, proof, frozenset({LICENCE_NUMBER}), over)
        _refuse_no_witness(actor, witness)
        return
    require_proof(actor, proof, STRONG, over)


def _note_witness(entry: OpenEntry, actor: Actor, witness: Person | None) -> None:
    """Let the entry say on whose page a guest acts: a guest has no account, so that another person vouches."""
    if signed_in(actor).is_guest:
        _refuse_no_witness(actor, witness)
    if witness is not None:
        entry.says["witness"] = {"person": str(witness.pk), "name": witness.name}


def _refuse_no_witness(actor: Actor, witness: Person | None) -> None:
    """Refuse a guest's act without somebody who works or inspects here: an owner or an administrator alone is none."""
    known = witness is not None and witness.workshop_id == actor.workshop.pk and not witness.is_guest
    if witness is None or not known or not standing_of(witness, today(actor.workshop)).roles & VOUCHING:
        raise NotAllowed(_("A guest looks and signs with a witness who works or inspects here and saw the licence."))
