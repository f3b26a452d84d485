"""Approved data: documents, their issues, and rows of limits as printed, read by two persons."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.plain import PlainField
from hingeline_app.records.models.workshop import Workshop


class ApprovedDocument(KeptRow):
    """A document whose data is approved: a manual, a supplement, a bulletin."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="approved_documents")
    title = models.CharField(max_length=200)
    number = models.CharField(max_length=60)
    type_name = models.CharField(max_length=60)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["workshop", "number"], name="one_document_a_number")]

    def __str__(self) -> str:
        return self.number


class Issue(KeptRow):
    """An issue of a document; a newer one takes its place."""

    document = models.ForeignKey(ApprovedDocument, models.PROTECT, related_name="issues")
    issue = models.CharField(max_length=60)
    issued_on = models.DateField()
    superseded_by = models.ForeignKey("self", models.PROTECT, related_name="supersedes", null=True, blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["document", "issue"], name="one_issue_a_name")]


class LimitRow(KeptRow):
    """A row of limits. What it says stands in its readings; ``agreed`` is filled once two persons read the same."""

    issue = models.ForeignKey(Issue, models.PROTECT, related_name="rows")
    # What is meant, so that a second person can find it on the page: nothing of what is to be read.
    surface = models.CharField(max_length=120)
    page = models.CharField(max_length=60)
    # draft | read once | read twice | superseded
    state = models.CharField(max_length=12)
    first_reader = models.ForeignKey(Person, models.PROTECT, related_name="rows_read_first")
    second_reader = models.ForeignKey(Person, models.PROTECT, related_name="rows_read_again", null=True, blank=True)
    agreed = PlainField(null=True, blank=True)


class RowReading(KeptRow):
    """What one person read off the page, as printed. A later reading of the same person counts."""

    row = models.ForeignKey(LimitRow, models.PROTECT, related_name="readings")
    turn = models.PositiveIntegerField()
    read_by = models.ForeignKey(Person, models.PROTECT, related_name="row_readings")
    printed = PlainField()
    # What the check of the printed numbers found between them, when it was read.
    contradictions = PlainField(default=list, blank=True)
    # Typed since a word for the sense beside a number is refused in a nose-heavy row: the row turns it once, not twice.
    numbers_are_bare = models.BooleanField(default=False)

    class Meta:
        ordering: ClassVar = ["row", "turn"]
        constraints: ClassVar = [models.UniqueConstraint(fields=["row", "turn"], name="one_row_reading_a_turn")]
