"""What the last set-up says of a surface after a correction was fitted to it: its mass and the weight on its arm."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.records.queries.jobs import JobRecord

SAME_ARM, SAME_MASS = 5e-4, 5e-4  # m, kg: what was typed at two places for one weight


def fitted_since(job: JobRecord) -> Mapping[str, Any] | None:
    """Give the correction that was fitted after the job's last weighing was begun; None where none was."""
    last, fitted = job.weighing, job.fitted
    if last is None or fitted is None or (fitted.fitted_at_change or 0) < last.change:
        return None
    return fitted.document


def is_known(correction: Mapping[str, Any] | None) -> bool:
    """Whether it is known how much heavier or lighter a fitted correction made the surface."""
    return bool(correction and correction.get("mass_before") and correction.get("mass_after"))


def with_fitted(set_up: Mapping[str, Any], correction: Mapping[str, Any] | None) -> Mapping[str, Any]:
    """Give the set-up with the mass and the weights that the correction left; its mass is a sum, not weighed."""
    surface = dict(set_up.get("surface") or {})
    if correction is None or not surface:
        return set_up
    if surface.get("mass") and is_known(correction):
        surface["mass"] = _sum(surface["mass"], correction)
    if surface.get("balance_weight"):
        surface["balance_weight"] = [_weight(each, correction["changes"]) for each in surface["balance_weight"]]
    return {**set_up, "surface": surface}


def _sum(mass: str, correction: Mapping[str, Any]) -> str:
    """Add what was fitted to the mass as it is typed now: it may have been corrected since the plan."""
    try:
        typed = float(read(mass, "mass"))
    except InputRefused:
        return mass
    return _typed(typed + correction["mass_after"]["value"] - correction["mass_before"]["value"])


def _weight(weight: Mapping[str, Any], changes: list[Mapping[str, Any]]) -> dict[str, Any]:
    """Give a weight with what was added to it or taken off; one that no change names stays."""
    try:
        mass, arm = float(read(weight["mass"], "mass")), float(read(weight["arm"], "length"))
    except (InputRefused, KeyError):
        return dict(weight)
    for change in changes:
        before = change["mass_after"]["value"] - change["mass"]["value"]
        same_place = change["side"] == weight.get("side", "forward") and abs(change["arm"]["value"] - arm) <= SAME_ARM
        if same_place and abs(before - mass) <= SAME_MASS:
            return {**weight, "mass": _typed(change["mass_after"]["value"])}
    return dict(weight)


def _typed(mass: float) -> str:
    """Write a mass as a file takes it: to the gram, to a tenth of one where that is needed."""
    places = 3 if abs(mass - round(mass, 3)) < 5e-6 else 4
    return f"{mass:.{places}f} kg"
