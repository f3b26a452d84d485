"""The workshop itself."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.kept import KeptRow


class Workshop(KeptRow):
    """A workshop: whose records these are. Each has its own chain."""

    name = models.CharField(max_length=120)
    approval_number = models.CharField(max_length=60, blank=True)
    authority = models.CharField(max_length=120, blank=True)
    # As typed, with its unit; the value that weighings take.
    local_gravity = models.CharField(max_length=40, default="9.80665 m/s^2")
    zone = models.CharField(max_length=60, default="UTC")
    language = models.CharField(max_length=10, default="en")

    def __str__(self) -> str:
        return self.name


class WorkshopText(KeptRow):
    """A text of the workshop's own, by what it is for: ``release_wording`` for instance."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="texts")
    name = models.CharField(max_length=40)
    text = models.TextField(max_length=20000, blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["workshop", "name"], name="one_text_a_name")]
