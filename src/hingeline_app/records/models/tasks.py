"""Checks ahead: tasks of the approved programme, when they were done, what was put off; private calendars."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.aircraft import Aircraft
from hingeline_app.records.models.approved_data import Issue
from hingeline_app.records.models.jobs import Job
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.parts import Part
from hingeline_app.records.models.people import Person
from hingeline_app.records.models.plain import PlainField
from hingeline_app.records.models.workshop import Workshop


class Task(KeptRow):
    """A line of the approved programme, of one aircraft or of one part that takes its hours along."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="tasks")
    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="tasks", null=True, blank=True)
    part = models.ForeignKey(Part, models.PROTECT, related_name="tasks", null=True, blank=True)
    name = models.CharField(max_length=200)
    issue = models.ForeignKey(Issue, models.PROTECT, related_name="tasks", null=True, blank=True)
    # What the due room asks of a task, but for its name, its owner and when it was done.
    rule = PlainField()
    # What to look at, in the order of the picture's numbers.
    check_points = PlainField(default=list, blank=True)
    # The text of an arm file, where the task is the weight arm's.
    arm_file = models.TextField(blank=True, max_length=20_000)
    added_by = models.ForeignKey(Person, models.PROTECT, related_name="tasks_added")
    withdrawn_because = models.CharField(max_length=2000, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(aircraft__isnull=False, part__isnull=True)
                | models.Q(aircraft__isnull=True, part__isnull=False),
                name="a_task_has_one_owner",
            ),
            models.UniqueConstraint(
                fields=["aircraft", "name"],
                condition=models.Q(withdrawn_because="", aircraft__isnull=False),
                name="one_task_a_name_of_aircraft",
            ),
            models.UniqueConstraint(
                fields=["part", "name"],
                condition=models.Q(withdrawn_because="", part__isnull=False),
                name="one_task_a_name_of_part",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class TaskRow(KeptRow):
    """What is entered of a task; withdrawn, never erased."""

    task = models.ForeignKey(Task, models.PROTECT, related_name="%(class)ss")
    entered_by = models.ForeignKey(Person, models.PROTECT, related_name="%(class)ss_entered")
    entered_on = models.DateField()
    withdrawn_because = models.CharField(max_length=2000, blank=True)

    class Meta:
        abstract = True


class SignOff(TaskRow):
    """A task was done: hours and landings are totals of its owner. It rests on a released job, or on a paper."""

    done_on = models.DateField()
    hours = models.DecimalField(max_digits=14, decimal_places=4, null=True, blank=True)
    landings = models.PositiveIntegerField(null=True, blank=True)
    # Where it was due then, without tolerance, where somebody wrote it.
    due_hours = models.DecimalField(max_digits=14, decimal_places=4, null=True, blank=True)
    due_landings = models.PositiveIntegerField(null=True, blank=True)
    due_date = models.DateField(null=True, blank=True)
    job = models.ForeignKey(Job, models.PROTECT, related_name="sign_offs", null=True, blank=True)
    paper = models.CharField(max_length=200, blank=True)
    signer = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering: ClassVar = ["task", "done_on", "hours", "pk"]
        constraints: ClassVar = [
            models.CheckConstraint(
                condition=models.Q(job__isnull=False) | ~models.Q(paper=""), name="a_sign_off_rests_on_something"
            )
        ]


class Deferral(TaskRow):
    """An approval let a task wait, once, up to a point. It is shown beside the due point and never moves it."""

    until_date = models.DateField(null=True, blank=True)
    until_hours = models.DecimalField(max_digits=14, decimal_places=4, null=True, blank=True)
    until_landings = models.PositiveIntegerField(null=True, blank=True)
    approval = models.CharField(max_length=200)
    reason = models.CharField(max_length=2000)

    class Meta:
        ordering: ClassVar = ["task", "entered_on", "pk"]


class CalendarFeed(KeptRow):
    """A private address of one person's calendar; known by a secret of which only the digest is kept."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="calendar_feeds")
    token_digest = models.CharField(max_length=64, unique=True)
    made_on = models.DateField()
    withdrawn_on = models.DateField(null=True, blank=True)

    secret_fields: ClassVar[frozenset[str]] = frozenset({"token_digest"})
