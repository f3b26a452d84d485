"""Work orders and jobs.

A job counts its ``changes``: each row that belongs to it says after how many changes it was
made, which orders them. ``version`` counts only changes of what one person would
overwrite of another's; readings are added and never collide.
"""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.aircraft import Aircraft, Surface
from hingeline_app.records.models.approved_data import LimitRow
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.plain import PlainField
from hingeline_app.records.models.workshop import Workshop


class WorkOrder(KeptRow):
    """The jobs of one visit."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="work_orders")
    number = models.PositiveIntegerField()
    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="work_orders")
    title = models.CharField(max_length=200)
    opened_on = models.DateField()
    closed_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["workshop", "number"], name="one_order_a_number")]


class Job(KeptRow):
    """One surface, from its arrival to its release."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="jobs")
    number = models.PositiveIntegerField()
    work_order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="jobs", null=True, blank=True)
    surface = models.ForeignKey(Surface, models.PROTECT, related_name="jobs")
    opened_by = models.ForeignKey(Person, models.PROTECT, related_name="jobs_opened")
    opened_on = models.DateField()
    # open | released | voided
    state = models.CharField(max_length=12)
    why_here = models.CharField(max_length=2000)
    # What is fitted and what is off, the ticks of arrival, remarks: by name.
    details = PlainField(default=dict, blank=True)
    # Whoever's act changed it, by identifier: a tick or a choice has no row of its own that would say who made it.
    worked_on_by = PlainField(default=list, blank=True)
    limit_row = models.ForeignKey(LimitRow, models.PROTECT, related_name="jobs", null=True, blank=True)
    version = models.PositiveIntegerField(default=1)
    changes = models.PositiveIntegerField(default=1)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["workshop", "number"], name="one_job_a_number")]

    def __str__(self) -> str:
        return f"{self.number:04d}"


class JobRow(KeptRow):
    """What belongs to a job: after how many of its changes it was made, and by whom."""

    job = models.ForeignKey(Job, models.PROTECT, related_name="%(class)ss")
    change = models.PositiveIntegerField()
    made_by = models.ForeignKey(Person, models.PROTECT, related_name="%(class)ss_made")

    class Meta:
        abstract = True
