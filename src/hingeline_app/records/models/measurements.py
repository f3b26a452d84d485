"""What was measured on a job, and what was worked out from it."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.equipment import Scale, Stand
from hingeline_app.records.models.jobs import JobRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.plain import PlainField

FINITE = models.Q(si_value__gt=-1e300) & models.Q(si_value__lt=1e300)


class Measurement(JobRow):
    """One weighing, swing or other measurement: its set-up as typed; readings stand by themselves."""

    # weighing | swing | refit | arm
    kind = models.CharField(max_length=24)
    number = models.PositiveIntegerField()
    begun_on = models.DateField()
    scale = models.ForeignKey(Scale, models.PROTECT, related_name="measurements", null=True, blank=True)
    stand = models.ForeignKey(Stand, models.PROTECT, related_name="measurements", null=True, blank=True)
    # Arms, sides, tares, method: by the names of the job file.
    set_up = PlainField(default=dict, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["job", "kind", "number"], name="one_measurement_a_number"),
        ]


class Reading(JobRow):
    """One reading: as typed and in SI. It can be withdrawn with a reason; it stays."""

    measurement = models.ForeignKey(Measurement, models.PROTECT, related_name="readings")
    # Which of the set-up's places, for instance "support 1"; and rising or falling where it is such.
    place = models.CharField(max_length=60)
    typed = models.CharField(max_length=40)
    si_value = models.FloatField()
    si_unit = models.CharField(max_length=20)
    withdrawn_because = models.CharField(max_length=2000, blank=True)
    withdrawn_by = models.ForeignKey(Person, models.PROTECT, related_name="readings_withdrawn", null=True, blank=True)
    withdrawn_at_change = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        ordering: ClassVar = ["measurement", "change", "pk"]
        constraints: ClassVar = [models.CheckConstraint(condition=FINITE, name="a_reading_is_finite")]


class Result(JobRow):
    """A document that the library made, in its one spelling."""

    measurement = models.ForeignKey(Measurement, models.PROTECT, related_name="results", null=True, blank=True)
    # For instance hingeline/weighing-result/1.
    document_format = models.CharField(max_length=60)
    document = models.TextField()
    digest = models.CharField(max_length=64)
    # What it was worked out from, so that it can be worked out again.
    asked = models.TextField(blank=True)
    software = models.CharField(max_length=40)


class BallastProposal(JobRow):
    """A correction worked out: predicted, not weighed. Once fitted, the surface must be weighed again."""

    document = models.TextField()
    digest = models.CharField(max_length=64)
    fitted_at_change = models.PositiveIntegerField(null=True, blank=True)
    fitted_by = models.ForeignKey(Person, models.PROTECT, related_name="ballast_fitted", null=True, blank=True)


class Correction(JobRow):
    """A new entry that names an old one, says what it ought to have said, and why."""

    # The row that is corrected, by table and identifier.
    table = models.CharField(max_length=60)
    row = models.UUIDField()
    field = models.CharField(max_length=60)
    was = PlainField(null=True, blank=True)
    now = PlainField(null=True, blank=True)
    reason = models.CharField(max_length=2000)
