"""Scales, stands, loose masses and materials: each ± is set once, here, and nobody types it again."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.certificates import Certificate, from_data
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.plain import PlainField
from hingeline_app.records.models.workshop import Workshop


class Scale(KeptRow):
    """A scale with its certificate. Quantities as typed, with their units."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="scales")
    name = models.CharField(max_length=60)
    step = models.CharField(max_length=40)
    largest = models.CharField(max_length=40)
    certificate = models.CharField(max_length=120, blank=True)
    # From which day the certificate counts; none in rows from before it was asked for.
    certificate_begins = models.DateField(null=True, blank=True)
    # The last day on which the certificate holds.
    certificate_expires = models.DateField(null=True, blank=True)
    # Those that it had before, the newest first: a weighing rests on the one of its day.
    certificates_before = PlainField(default=list, blank=True)
    # "calibration", "resolution", … as in a job file's [uncertainty] table.
    uncertainty = PlainField(default=dict, blank=True)
    check_weight = models.CharField(max_length=40, blank=True)
    check_tolerance = models.CharField(max_length=40, blank=True)
    withdrawn_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["workshop", "name"], name="one_scale_a_name")]

    def __str__(self) -> str:
        return self.name

    @property
    def certificates(self) -> tuple[Certificate, ...]:
        """Give the certificate that it has now, then those before it."""
        now = Certificate(self.certificate, self.certificate_begins, self.certificate_expires, self.uncertainty)
        return (now, *map(from_data, self.certificates_before))


class DailyCheck(KeptRow):
    """What a scale showed under its check weight."""

    scale = models.ForeignKey(Scale, models.PROTECT, related_name="checks")
    number = models.PositiveIntegerField()
    checked_on = models.DateField()
    shown = models.CharField(max_length=40)
    shown_kilograms = models.FloatField()
    checked_by = models.ForeignKey(Person, models.PROTECT, related_name="checks")
    is_within = models.BooleanField()

    class Meta:
        ordering: ClassVar = ["scale", "number"]


class Stand(KeptRow):
    """A stand with its mandrel, props and other loose masses, and the ± that belongs to it."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="stands")
    name = models.CharField(max_length=60)
    # [{"name": "mandrel", "mass": "84 g"}, …]
    masses = PlainField(default=list, blank=True)
    # "arm", "level", "friction", … as in a job file's [uncertainty] table.
    uncertainty = PlainField(default=dict, blank=True)
    withdrawn_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["workshop", "name"], name="one_stand_a_name")]

    def __str__(self) -> str:
        return self.name


class Material(KeptRow):
    """A batch of material with the certificate it came with."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="materials")
    name = models.CharField(max_length=120)
    batch = models.CharField(max_length=60)
    release_certificate = models.CharField(max_length=120)
    received_on = models.DateField()
    expires_on = models.DateField(null=True, blank=True)
    withdrawn_because = models.CharField(max_length=2000, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["workshop", "name", "batch"], name="one_material_a_batch"),
        ]
