"""Recordings of a shaking surface, what was found in them, and series of them: each a row, never written over."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.aircraft import Aircraft, Surface
from hingeline_app.records.models.attachments import Attachment
from hingeline_app.records.models.jobs import Job
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.plain import PlainField
from hingeline_app.records.models.workshop import Workshop


class ShakeRecording(KeptRow):
    """A video, a sound or a table of numbers that was taken in, and what it is of."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="recordings")
    number = models.PositiveIntegerField()
    # video | sound | table | sensor
    kind = models.CharField(max_length=16)
    attachment = models.ForeignKey(Attachment, models.PROTECT, related_name="recordings")
    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="recordings")
    surface = models.ForeignKey(Surface, models.PROTECT, related_name="recordings", null=True, blank=True)
    job = models.ForeignKey(Job, models.PROTECT, related_name="recordings", null=True, blank=True)
    taken_on = models.DateField(null=True, blank=True)
    added_by = models.ForeignKey(Person, models.PROTECT, related_name="recordings_added")
    added_on = models.DateField()
    # Of a video: the size of its picture as shown, and the printed markers in the first one.
    details = PlainField(default=dict, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["workshop", "number"], name="one_recording_a_number"),
        ]

    def __str__(self) -> str:
        return str(self.number)


class ShakeFinding(KeptRow):
    """What one recording was found to show, and what was asked, so that it can be worked out again."""

    recording = models.ForeignKey(ShakeRecording, models.PROTECT, related_name="findings")
    number = models.PositiveIntegerField()
    # For instance hingeline/motion-result/1.
    document_format = models.CharField(max_length=60)
    document = models.TextField()
    digest = models.CharField(max_length=64)
    # Columns, rate, marks: as they were given.
    asked = models.TextField()
    # Of a video: where every mark was seen, as a file of its own.
    tracks = models.ForeignKey(Attachment, models.PROTECT, related_name="findings", null=True, blank=True)
    software = models.CharField(max_length=40)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="recordings_judged")
    made_on = models.DateField()

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["recording", "number"], name="one_finding_a_number"),
        ]


class ShakeSeries(KeptRow):
    """What several recordings at several speeds or weights were found to show together."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="series")
    number = models.PositiveIntegerField()
    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="series")
    surface = models.ForeignKey(Surface, models.PROTECT, related_name="series", null=True, blank=True)
    # airspeed | weight
    against = models.CharField(max_length=16)
    # Recording, finding, speed or weight as typed, one after the other; rest and play, as they were stated.
    asked = models.TextField()
    document_format = models.CharField(max_length=60)
    document = models.TextField()
    digest = models.CharField(max_length=64)
    remark = models.TextField(max_length=2000, blank=True)
    software = models.CharField(max_length=40)
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="series_judged")
    made_on = models.DateField()

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["workshop", "number"], name="one_series_a_number")]

    def __str__(self) -> str:
        return str(self.number)
