"""What the step Arm shows: the arm to scale, its places, the treatment, the estimate and its caution."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from hingeline.errors import InputRefused
from hingeline_app.bench.arm.arm_estimate import ASKED, OF_A_CRACK, estimate_of, lacking, lacking_of_crack, model_of
from hingeline_app.bench.arm.arm_points import FOUND, METHODS, POINTS, Point, open_points, point_of, points_against
from hingeline_app.bench.arm.galvanic import METALS, SOURCE, pair_of
from hingeline_app.figures.arm.crack_words import detection_pairs, growth_pairs
from hingeline_app.figures.arm.picture import arm_picture
from hingeline_app.figures.arm.weight_arm import draw_weight_arm
from hingeline_app.figures.arm.words import interval_sentence
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.photographs import PHOTOGRAPH
from hingeline_app.records.treatment import TREATMENT, treated_after
from hingeline_app.web.marked_photographs import marked_photographs
from hingeline_app.web.steps.closing import closing


@dataclass(frozen=True)
class Shown:
    """One place with what was entered of it."""

    point: Point
    row: Mapping[str, Any] | None
    grave: bool

    @property
    def was(self) -> str:
        """Give the row as the page shows it."""
        return json.dumps(self.row)

    @property
    def wall_lines(self) -> list[str]:
        """Give the wall readings as they are typed, one place a line."""
        return str((self.row or {}).get("walls") or "").split("; ") if self.row else []


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    against = points_against(job)
    return {
        "points": [_shown(job, each, against) for each in POINTS],
        "found": FOUND,
        "methods": METHODS,
        "left": open_points(job),
        "against": against,
        "treatment": value_at(job.details, TREATMENT),
        "treatment_was": json.dumps(value_at(job.details, TREATMENT)),
        "treated": treated_after(job.details) >= 0,
        "asked": [(each, model_of(job)[each.name]) for each in ASKED],
        "lacking": lacking(job),
        "asked_of_crack": [(each, model_of(job)[each.name]) for each in OF_A_CRACK],
        "lacking_of_crack": lacking_of_crack(job),
        "photographs": marked_photographs(request, job, PHOTOGRAPH, "arm"),
        **_estimate(job),
        **_galvanic(job),
        **closing(request, job, "arm"),
    }


def _shown(job: JobRecord, point: Point, against: list[str]) -> Shown:
    return Shown(point, point_of(job, point.name), any(each.startswith(point.words) for each in against))


def _estimate(job: JobRecord) -> dict[str, Any]:
    try:
        found = estimate_of(job)
    except InputRefused as refused:
        return {"estimate_faults": [str(each) for each in refused.refusals]}
    if found is None:
        return {}
    picture = arm_picture(found.task, found.document)
    drawn = [(name, mark_safe(draw_weight_arm(picture, width))) for name, width in WIDTHS]
    return {"pictures": drawn, **_crack(found.document["crack"])}


def _crack(crack: Mapping[str, Any] | None) -> dict[str, Any]:
    """Give the growth of an assumed crack beside the approved interval, in the words of the command."""
    if crack is None:
        return {}
    found = [] if crack["detection"] is None else list(detection_pairs(crack["detection"]))
    pairs = [*growth_pairs(crack), *found]
    return {
        "crack_says": interval_sentence(crack),
        "is_shorter": bool(crack["shorter_than_approved"]),
        "crack_first": [pair for pair in pairs if pair[0].startswith(SHOWN_FIRST)],
        "crack_pairs": [pair for pair in pairs if not pair[0].startswith(SHOWN_FIRST)],
    }


WIDTHS = (("wide", 650.0), ("slim", 348.0))
# Of a crack, what is not folded away: from what can be found to what breaks, beside the approved interval.
SHOWN_FIRST = ("critical", "cycles", "approved interval", "interval shown")


def _galvanic(job: JobRecord) -> dict[str, Any]:
    one, other = (str(value_at(job.details, f"arm.pair.{name}") or "") for name in ("metal", "other_metal"))
    fields = [("arm.pair.metal", one, _("Arm or bracket")), ("arm.pair.other_metal", other, _("Weight or bolt"))]
    return {"metals": METALS, "metal_fields": fields, "pair": pair_of(one, other), "source": SOURCE}
