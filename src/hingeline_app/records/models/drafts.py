"""Drafts: what stood on a person's screen, not kept yet. No record: replaced and removed at will."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.people import Person


class Draft(models.Model):
    """The fields of one page as one person left them."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="drafts")
    page = models.CharField(max_length=300)
    # JSON as text: SQLite may not call its JSON functions from a table that is not trusted.
    fields = models.TextField()
    left_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["person", "page"], name="one_draft_a_page")]
