"""Photographs, recordings and scanned pages: known by the digest of the file; and what was written on paper before."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.aircraft import Aircraft, Surface
from hingeline_app.records.models.approved_data import LimitRow
from hingeline_app.records.models.jobs import Job
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.workshop import Workshop


class Attachment(KeptRow):
    """A file that belongs to the records; its bytes lie under its digest."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="attachments")
    # photograph | inspection | recording | page | model | tracks
    kind = models.CharField(max_length=16)
    digest = models.CharField(max_length=64, db_index=True)
    size = models.PositiveBigIntegerField()
    media_type = models.CharField(max_length=60)
    name = models.CharField(max_length=200, blank=True)
    width = models.PositiveIntegerField(null=True, blank=True)
    height = models.PositiveIntegerField(null=True, blank=True)
    # A copy that was drawn anew and holds nothing but the picture.
    preview_digest = models.CharField(max_length=64, blank=True)
    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="attachments", null=True, blank=True)
    job = models.ForeignKey(Job, models.PROTECT, related_name="attachments", null=True, blank=True)
    limit_row = models.ForeignKey(LimitRow, models.PROTECT, related_name="attachments", null=True, blank=True)
    added_by = models.ForeignKey(Person, models.PROTECT, related_name="attachments_added")
    remark = models.CharField(max_length=2000, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(aircraft__isnull=False) | models.Q(limit_row__isnull=False),
                name="an_attachment_belongs_somewhere",
            )
        ]


class PaperRecord(KeptRow):
    """What was signed on paper, transcribed: the original's date and signer, and who transcribed it."""

    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="paper_records")
    surface = models.ForeignKey(Surface, models.PROTECT, related_name="paper_records", null=True, blank=True)
    original_date = models.DateField()
    original_signer = models.CharField(max_length=120)
    original_licence = models.CharField(max_length=60, blank=True)
    says = models.CharField(max_length=2000)
    # As typed, with unit and sense, where the paper states a moment.
    moment = models.CharField(max_length=60, blank=True)
    photograph = models.ForeignKey(Attachment, models.PROTECT, related_name="paper_records", null=True, blank=True)
    transcribed_by = models.ForeignKey(Person, models.PROTECT, related_name="paper_transcribed")
