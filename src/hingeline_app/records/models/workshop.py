"""The workshop itself."""

from __future__ import annotations

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
