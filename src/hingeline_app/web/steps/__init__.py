"""The eight steps of a job: the word of each, and what its sheet shows."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.web.steps import arm, arrive, correct, limits, refit, release, second_inspection, weigh


@dataclass(frozen=True)
class Step:
    """One step: its address, its word, and what fills its sheet."""

    name: str
    word: Any
    shown: Callable[[HttpRequest, JobRecord], Mapping[str, Any]]

    @property
    def template(self) -> str:
        """Give the template of its sheet."""
        return f"web/job/{self.name}.html"


STEPS = (
    Step("arrive", _("Arrive"), arrive.shown),
    Step("limits", _("Limits"), limits.shown),
    Step("weigh", _("Weigh"), weigh.shown),
    Step("correct", _("Correct"), correct.shown),
    Step("arm", _("Arm"), arm.shown),
    Step("refit", _("Refit"), refit.shown),
    Step("second-inspection", _("Second inspection"), second_inspection.shown),
    Step("release", _("Release"), release.shown),
)
BY_NAME = {step.name: step for step in STEPS}
