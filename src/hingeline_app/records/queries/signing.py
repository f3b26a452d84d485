"""What somebody is about to sign, as its digest."""

from __future__ import annotations

from hingeline_app.records.models import Job, Person
from hingeline_app.records.queries.picture import seen_of
from hingeline_app.records.queries.visible import Nowhere, visible_to


def seen_by_number(viewer: Person, number: int) -> str:
    """Give the digest of everything that a job holds now.

    Raises
    ------
    Nowhere
        There is no such job for this person.
    """
    job = visible_to(viewer, Job).filter(number=number).first()
    if job is None:
        raise Nowhere("there is no such job")
    return seen_of(job)
