"""What is in the way of a release, each as a sentence; none when nothing is."""

from __future__ import annotations

import json
from typing import NamedTuple

from django.db.models import Max
from django.utils.translation import gettext_lazy as _

from hingeline_app.records.certificates import NOT_YET, certificate_on
from hingeline_app.records.models import BallastProposal, Correction, DailyCheck, Job, Measurement, Result
from hingeline_app.records.permission import Words
from hingeline_app.records.queries.limits import READ_TWICE, SUPERSEDED
from hingeline_app.records.queries.matter import WEIGHING_RESULT
from hingeline_app.records.treatment import treated_after

INSIDE, TOO_CLOSE = "inside", "too close to tell"


class OpenPoint(NamedTuple):
    """One thing in the way of a release: the step where it is mended, and a sentence."""

    step: str
    words: Words


def open_points(job: Job) -> list[Words]:
    """Name what is in the way, beside the signatures: limits, weighing, ballast, treatment, scale."""
    return [each.words for each in points_by_step(job)]


def points_by_step(job: Job) -> list[OpenPoint]:
    """Name what is in the way, each with the step where it is mended."""
    weigh = [*_weighing(job), *_scale(job)]
    return [*(OpenPoint("limits", each) for each in _limits(job)), *(OpenPoint("weigh", each) for each in weigh)]


def _limits(job: Job) -> list[Words]:
    row = job.limit_row
    if row is None:
        return [_("No row of limits was chosen.")]
    if row.state == SUPERSEDED:
        return [_("The limits are superseded: a newer issue is here.")]
    return [] if row.state == READ_TWICE else [_("The limits were read by one person: another must read them again.")]


def _weighing(job: Job) -> list[Words]:
    weighing = last_weighing(job)
    result = last_result(weighing) if weighing else None
    if weighing is None or result is None:
        return [_("The last weighing has no result.")]
    fitted = BallastProposal.objects.filter(job=job).aggregate(last=Max("fitted_at_change"))["last"]
    if fitted is not None and weighing.change <= fitted:
        return [_("A correction was fitted after the last weighing was begun: weigh again.")]
    if treated_after(job.details) >= weighing.number:
        return [_("The arm was treated after the last weighing was begun, and the treatment has a mass: weigh again.")]
    if last_touch(weighing) > result.change:
        return [_("The last result is older than what was measured: work it out again.")]
    return _stated(json.loads(result.document).get("statement"))


def _stated(statement: object) -> list[Words]:
    """Let only a statement "inside" through, by the rule that the approved data asks for: the library chose it."""
    if statement == TOO_CLOSE:
        return [
            _(
                "The last weighing is too close to tell by the guarded rule that the approved data asks for: "
                "make the ± smaller or correct the surface."
            )
        ]
    return [] if statement == INSIDE else [_("The last weighing is not shown to be inside the limits.")]


def last_weighing(job: Job) -> Measurement | None:
    """Give the last weighing that was begun on a job."""
    return Measurement.objects.filter(job=job, kind="weighing").select_related("scale").order_by("-number").first()


def last_result(weighing: Measurement) -> Result | None:
    """Give what was last worked out from a weighing."""
    return weighing.results.filter(document_format__startswith=WEIGHING_RESULT).order_by("-change").first()


def last_touch(weighing: Measurement) -> int:
    """Give the last change of what a result rests on: a reading added, withdrawn or corrected, a set-up corrected."""
    readings = weighing.readings.aggregate(added=Max("change"), withdrawn=Max("withdrawn_at_change"))
    corrected = Correction.objects.filter(row=weighing.pk).aggregate(last=Max("change"))["last"]
    return max(each or 0 for each in (*readings.values(), corrected))


def _scale(job: Job) -> list[Words]:
    weighing = last_weighing(job)
    if weighing is None or weighing.scale is None:
        return []
    scale, on = weighing.scale, weighing.begun_on
    points: list[Words] = []
    against = certificate_on(scale.certificates, on).against(on)
    if against == NOT_YET:
        points.append(_("The scale's certificate begins after the day of weighing: weigh again."))
    elif against:
        points.append(_("The scale's certificate had expired on the day of weighing, or has no date."))
    check = DailyCheck.objects.filter(scale=scale, checked_on=on).order_by("number").last()
    if check is not None and not check.is_within:
        points.append(_("The scale did not show its check weight on the day of weighing."))
    return points
