"""What a coating plan or a swing hands over to a job: its file as it was asked, worked out again each time it is shown.

A planned paint is a prediction beside the weighing, never in place of it. A swing gives the inertia that the correction
works with where nobody typed another; it measures no static moment.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from hingeline.balance.coating import predict_coating
from hingeline.balance.swing import inertia_by_swing
from hingeline.document import to_document
from hingeline.errors import InputRefused
from hingeline_app.figures.wording import format_measured
from hingeline_app.files.coating_file import read_coating
from hingeline_app.files.swing_file import read_swing
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord

COATING, SWING = "correct.coating", "correct.swing"
LONGEST = 8000


@dataclass(frozen=True)
class HandedOver:
    """What was handed over, in words, and the file that it follows from."""

    words: str
    mass: str
    text: str


def refuse_unreadable(place: str, text: str) -> None:
    """Refuse a file that cannot be worked out.

    Raises
    ------
    InputRefused
        It is too long, cannot be read, or describes nothing that can be worked out.
    """
    if len(text) > LONGEST:
        raise InputRefused.of(
            "file", f"{len(text)} characters", f"at most {LONGEST} characters", "Plan fewer layers at a time."
        )
    if place == COATING:
        read_coating(text.encode())  # as what is typed today is read; one that is kept is shown as it was read then
    (_coating if place == COATING else _swing)(text)


def paint_of(job: JobRecord) -> HandedOver | None:
    """Give the planned paint of a job; None without one."""
    text = _text(job, COATING)
    if not text:
        return None
    surface = _coating(text)["surfaces"][0]
    change, mass = surface["moment_change"], surface["mass_change"]
    return HandedOver(
        format_measured(change["value"], change["expanded_uncertainty"], "N m", sense=True),
        format_measured(1e3 * mass["value"], _times(1e3, mass["expanded_uncertainty"]), "g"),
        text,
    )


def swung_of(job: JobRecord) -> HandedOver | None:
    """Give the inertia by a swing that was handed over to a job; None without one."""
    text = _text(job, SWING)
    if not text:
        return None
    inertia = _swing(text)["inertia"]
    return HandedOver(format_measured(inertia["value"], inertia["expanded_uncertainty"], "kg m^2"), "", text)


def swung_inertia(details: Mapping[str, Any]) -> str | None:
    """Give the inertia by the swing as a ballast file takes it; None without one."""
    text = value_at(details, f"{SWING}.file")
    return f"{_swing(str(text))['inertia']['value']!r} kg m^2" if text else None


def _text(job: JobRecord, place: str) -> str:
    return str(value_at(job.details, f"{place}.file") or "")


def _times(factor: float, value: float | None) -> float | None:
    return None if value is None else factor * value


@lru_cache(maxsize=64)
def _coating(text: str) -> Mapping[str, Any]:
    return to_document(predict_coating(read_coating(text.encode(), kept=True)))


@lru_cache(maxsize=64)
def _swing(text: str) -> Mapping[str, Any]:
    return to_document(inertia_by_swing(read_swing(text.encode())))
