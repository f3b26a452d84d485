"""What is signed: second inspections item by item, and releases.

A signature's text names the workshop, the job, its changes, the digest of what was seen
and the entry that the ledger ended with; it holds for nothing else.
"""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.jobs import JobRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.plain import PlainField


class InspectionItem(JobRow):
    """Something that was disturbed and is to be looked at by another person."""

    name = models.CharField(max_length=200)
    # What the worker says of it; hidden from the inspector until that person has looked.
    tick = models.CharField(max_length=200)


class Look(JobRow):
    """What an inspector saw at one item."""

    item = models.ForeignKey(InspectionItem, models.PROTECT, related_name="looks")
    # agreed | differs | not looked at
    finding = models.CharField(max_length=16)
    note = models.CharField(max_length=2000, blank=True)

    class Meta:
        ordering: ClassVar = ["item", "change", "pk"]


class Signature(JobRow):
    """A signature under one job. ``made_by`` signed it."""

    # second inspection | inspected again by the same person | release
    purpose = models.CharField(max_length=40)
    seen = models.CharField(max_length=64)
    text = models.TextField()
    digest = models.CharField(max_length=64)
    # password | passkey | licence number
    proved_by = models.CharField(max_length=24)
    signed_at = models.DateTimeField()
    tablet = models.UUIDField(null=True, blank=True)
    reason = models.CharField(max_length=2000, blank=True)
    notes = PlainField(default=list, blank=True)
    withdrawn_because = models.CharField(max_length=2000, blank=True)
    withdrawn_by = models.ForeignKey(Person, models.PROTECT, related_name="signatures_withdrawn", null=True, blank=True)
    withdrawn_at_change = models.PositiveIntegerField(null=True, blank=True)
