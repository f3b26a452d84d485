"""The weight arm of a check: its picture, its estimates, its caution. An estimate never makes an interval longer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from hingeline.arm import ArmTask, examine
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.figures.arm.picture import arm_picture
from hingeline_app.figures.arm.weight_arm import draw_weight_arm
from hingeline_app.figures.arm.words import figures, interval_sentence, measured
from hingeline_app.files.arm_file import read_arm
from hingeline_app.said import kept_by_language

WIDTH = 348.0
PLACES = 3


@dataclass(frozen=True)
class ArmTold:
    """An arm as the page tells it."""

    picture: SafeString
    estimates: tuple[tuple[str, str], ...]
    caution: str


def arm_told(text: str, points: tuple[str, ...] = ()) -> ArmTold | None:
    """Give what is told of an arm file; None where there is none, or it no longer reads.

    Three check points take the places of weight, wall and root in the picture.
    """
    try:
        return _told(text, points) if text else None
    except InputRefused:
        return None


@kept_by_language(32)
def _told(text: str, points: tuple[str, ...]) -> ArmTold:
    task = read_arm(text.encode())
    document = to_document(examine(task))
    picture = replace(arm_picture(task, document), sentences=(), name="")
    if len(points) == PLACES:
        picture = replace(picture, places=(points[0], points[1], points[2]))
    return ArmTold(
        mark_safe(draw_weight_arm(picture, WIDTH)),
        tuple(_estimates(task, document)),
        interval_sentence(document["crack"]),
    )


def _estimates(task: ArmTask, document: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    worst = max(document["loads"], key=lambda case: case["stress"]["value"])
    where = {"factor": f"{worst['factor']:g}", "direction": worst["direction"]}
    sound = figures(worst["sound_stress"]["value"] / 1e6, "MPa", 3)
    yield _("Estimated stress at %(factor)s g, %(direction)s, as new") % where, sound
    if task.loss is not None:
        yield _("Estimated, with the wall lost"), _of_limit(worst["stress"], task)
    yield _("Estimated own frequency"), measured(document["natural_frequency"], 1.0, "Hz")
    crack = document["crack"]
    if crack is not None:
        yield _("Estimated cycles, assumed crack to its end"), figures(crack["cycles"], "", 2)


def _of_limit(stress: Mapping[str, Any], task: ArmTask) -> str:
    told = measured(stress, 1e-6, "MPa")
    strength = task.material.yield_strength
    if not strength:
        return told
    return _("%(stress)s; yield %(limit)s") % {"stress": told, "limit": figures(strength / 1e6, "MPa", 3)}
