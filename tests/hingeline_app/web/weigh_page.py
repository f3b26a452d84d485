"""The step Weigh as the tests use it: a weighing begun, entries sent as the tablet's queue does, the page read."""

from __future__ import annotations

import json
from typing import Any

from hingeline_app.records.models import Measurement
from tests.hingeline_app.web.conftest import Fenholt

READINGS = ("0,840 kg", "845 g", "0.840 kg", "845 g", "840 g")


def entered(fenholt: Fenholt, **fields: str) -> tuple[int, dict[str, Any]]:
    """Send an entry as the tablet's queue does."""
    answer = fenholt.client("jon").post(f"/job/{fenholt.job}/entry", fields, headers={"X-Entry": "1"})
    return answer.status_code, json.loads(answer.content)


def begun(fenholt: Fenholt, **more: str) -> Measurement:
    """Begin a weighing by push."""
    fields = {"way": "push", "scale": str(fenholt.scale), "support.0.arm": "255 mm", "surface.mass": "4.100 kg", **more}
    assert entered(fenholt, kind="begin-weighing", **fields)[0] == 200
    return Measurement.objects.filter(kind="weighing").order_by("-number")[0]


def read(fenholt: Fenholt, weighing: Measurement, *typed: str) -> None:
    for each in typed:
        number, _, unit = each.partition(" ")
        status, said = entered(fenholt, kind="reading", measurement=str(weighing.pk), typed=number, unit=unit)
        assert status == 200, said


def page(fenholt: Fenholt, query: str = "") -> str:
    answer = fenholt.client("jon").get(f"/job/{fenholt.job}/weigh{query}")
    assert answer.status_code == 200
    return answer.content.decode()


def context(fenholt: Fenholt) -> Any:
    return fenholt.client("jon").get(f"/job/{fenholt.job}/weigh").context
