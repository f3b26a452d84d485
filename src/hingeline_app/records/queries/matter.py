"""What the rules ask about a job: whose aircraft, who worked on it, what was signed."""

from __future__ import annotations

import json
from uuid import UUID

from hingeline_app.records.models import (
    Attachment,
    BallastProposal,
    Correction,
    InspectionItem,
    Job,
    Measurement,
    Reading,
    Result,
    ShakeFinding,
    Signature,
)
from hingeline_app.records.permission import Matter

OPEN, RELEASED, VOIDED = "open", "released", "voided"
SECOND, AGAIN, RELEASE = "second inspection", "inspected again by the same person", "release"

# How the format of a document begins that says what a weighing found.
WEIGHING_RESULT = "hingeline/weighing-result/"
# The kind of a photograph that an inspector takes of an item.
INSPECTION = "inspection"
# Whoever made one of these worked on the job; to look and to sign is no work.
WORK = (Measurement, Reading, Result, BallastProposal, Correction, InspectionItem)


def workers(job: Job) -> frozenset[UUID]:
    """Give everybody who did any of the work: opened, ticked, chose, measured, worked out, corrected, photographed."""
    made = [table._default_manager.filter(job=job).order_by().values_list("made_by", flat=True) for table in WORK]
    others = [
        Attachment.objects.filter(job=job).exclude(kind=INSPECTION).values_list("added_by", flat=True),
        BallastProposal.objects.filter(job=job, fitted_by__isnull=False).values_list("fitted_by", flat=True),
        ShakeFinding.objects.filter(recording__job=job).order_by().values_list("made_by", flat=True),
    ]
    everybody = made[0].union(*made[1:], *others)
    return frozenset(everybody) | {job.opened_by_id} | {UUID(each) for each in job.worked_on_by}


def matter_of(job: Job) -> Matter:
    """Give what the rules ask about a job before anything is signed."""
    return Matter(
        workshop=job.workshop_id,
        owner=job.surface.aircraft.owner_id,
        workers=workers(job),
        is_released=job.state == RELEASED,
    )


def signer_of(signature: Signature) -> tuple[str, str]:
    """Give name and licence number of who signed, as they were signed: both may have been corrected since."""
    signer = json.loads(signature.text)["signer"]
    return str(signer["name"]), str(signer["licence"])


def standing_signature(job: Job, purpose: str) -> Signature | None:
    """Give the signature that holds for a job as it is now: any later change of the job ends an inspection."""
    signed = Signature.objects.filter(job=job, purpose=purpose, withdrawn_at_change__isnull=True)
    last = signed.order_by("-change").first()
    if last is None or purpose == RELEASE:
        return last
    released = standing_signature(job, RELEASE)
    return last if last.change == (released.change - 1 if released else job.changes) else None
