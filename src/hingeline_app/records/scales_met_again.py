"""Scales that came with one aircraft and are met again with the next from the same workshop: certificates since then.

Without them weighings of the second aircraft rest on a certificate that had ended. What is here stays as it is but for
certificates on top of those that are known, and only while the scale is that workshop's alone: nobody here has
weighed with it, checked it or entered a certificate.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from uuid import UUID

from hingeline_app.records.models import Entry, Scale
from hingeline_app.records.rebuilding import row_of
from hingeline_app.records.rows import Note

Key = tuple[str, str]
IMPORTED = "aircraft imported"


def with_newer_certificates(workshop: UUID, origin: str, notes: Mapping[Key, Note]) -> Iterator[Scale]:
    """Give the scales that are here and have newer certificates in a file, with these; not kept yet."""
    told = {key[1]: row_of(Scale, note) for key, note in notes.items() if key[0] == "scale"}
    for ours in Scale.objects.filter(workshop=workshop, pk__in=list(told)):
        theirs = told[str(ours.pk)]
        if isinstance(theirs, Scale) and _follows(theirs, ours) and _is_theirs_alone(workshop, origin, ours):
            ours.certificate, ours.uncertainty = theirs.certificate, theirs.uncertainty
            ours.certificate_begins, ours.certificate_expires = theirs.certificate_begins, theirs.certificate_expires
            ours.certificates_before = theirs.certificates_before
            yield ours


def _follows(theirs: Scale, ours: Scale) -> bool:
    """Whether all that is known here stands at the end of the list, and what came before it began later."""
    known, listed = ours.certificates, theirs.certificates
    new = listed[: len(listed) - len(known)]
    begun = known[0].begins
    later = all(each.begins is not None and (begun is None or each.begins > begun) for each in new)
    return bool(new) and listed[len(new) :] == known and later


def _is_theirs_alone(workshop: UUID, origin: str, scale: Scale) -> bool:
    entries = Entry.objects.filter(workshop=workshop, body__contains=str(scale.pk))
    bodies = [json.loads(body) for body in entries.values_list("body", flat=True)]
    return all(body["kind"] == IMPORTED and body["says"].get("from") == origin for body in bodies)
