"""The mass of a surface after a plan against the mass range of its approved limits: predicted, not weighed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hingeline.uncertainty import guarded, simple
from hingeline_app.figures.wording import format_measured, format_range
from hingeline_app.report.quantities import value_of

# What a change of mass may be off by at each place, as the plan takes it [kg]; and the k of its U.
OF_A_CHANGE, COVERAGE = 0.0005, 2.0
# How the note begins that the library writes of every plan, since it plans by the moment alone.
NOT_LOOKED_AT = "Limits of the surface's mass, and moment limits that step with it,"


@dataclass(frozen=True)
class MassAfter:
    """The mass that a plan leaves, its limits, and what would be true of it; with no ± where the surface's has none."""

    mass: str
    limits: str
    word: str
    is_taken_as_exact: bool = False


def mass_after(found: Mapping[str, Any], document: Mapping[str, Any], *, has_bands: bool) -> MassAfter | None:
    """Compare the mass after a plan with the mass limits that the weighing was compared with.

    None without such limits, where the surface's mass is not known, and where the moment limits step with the mass:
    then the plan's own note says what to compare.

    Parameters
    ----------
    found, document : mapping
        The results of the weighing and of the plan.
    has_bands : bool
        Whether the moment limits step with the mass.
    """
    limited = next((each for each in found.get("statements") or () if each["of"] == "mass"), None)
    after = value_of(document.get("mass_after"))
    if has_bands or limited is None or after is None:
        return None
    lower, upper = value_of(limited["lower"]), value_of(limited["upper"])
    of_the_surface = value_of(limited.get("expanded_uncertainty"))
    expanded = _expanded(of_the_surface or 0.0, len(document["changes"]))
    by_rule = guarded(after, expanded, lower, upper) if found.get("rule") == "guarded" else simple(after, lower, upper)
    return MassAfter(
        # The ± of the changes alone would make the mass look surer than anybody knows it.
        mass=format_measured(after, expanded if of_the_surface else None, "kg"),
        limits=format_range(lower, upper, "kg"),
        word=by_rule or "no statement",
        is_taken_as_exact=not of_the_surface,
    )


def _expanded(of_the_surface: float, changes: int) -> float:
    """Give U of the mass: that of the surface as weighed, and of each change a rectangle (GUM 4.3.7)."""
    of_changes = changes * (OF_A_CHANGE / math.sqrt(3.0)) ** 2
    return COVERAGE * math.sqrt((of_the_surface / COVERAGE) ** 2 + of_changes)
