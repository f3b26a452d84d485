"""What the last set-up says of a surface after a correction was fitted to it: its mass and the weight on its arm."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.figures.correction.words import mass_of
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.report.quantities import value_of

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
        surface["balance_weight"] = _weights(surface["balance_weight"], correction)
    return {**set_up, "surface": surface}


def _sum(mass: str, correction: Mapping[str, Any]) -> str:
    """Add what was fitted to the mass as it is typed now: it may have been corrected since the plan."""
    try:
        typed = float(read(mass, "mass"))
    except InputRefused:
        return mass
    return _typed(typed + correction["mass_after"]["value"] - correction["mass_before"]["value"])


def _weights(drawn: Sequence[Mapping[str, Any]], correction: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Give the weights as they are now: heavier, lighter, one more where there was none, none where all was taken."""
    weights = [dict(each) for each in drawn]
    present = {each["name"]: value_of(each.get("present_mass")) or 0.0 for each in correction.get("places") or ()}
    for change in correction["changes"]:
        carried = change["mass_after"]["value"] - mass_of(change)
        # With bracket and screws or without them: of the two a person types one.
        either = (carried, present.get(change.get("place"), carried))
        at = _found(weights, change, either)
        if at is not None:
            weights[at]["mass"] = _typed(_number(weights[at], "mass") + mass_of(change))
        elif carried <= SAME_MASS:
            weights.append(_of_a_place(change))
    return [each for each in weights if not abs(_number(each, "mass")) <= SAME_MASS]


def _found(weights: Sequence[Mapping[str, Any]], change: Mapping[str, Any], either: tuple[float, float]) -> int | None:
    """Find the weight that is drawn of what a place carried; of a place that carried nothing, any at its arm.

    What is drawn there then is no ballast that can be taken off, and more was fitted to it.
    """
    there = [index for index, each in enumerate(weights) if _is_at(each, change)]
    for index in there:
        if any(abs(_number(weights[index], "mass") - each) <= SAME_MASS for each in either):
            return index
    return there[0] if there and max(either) <= SAME_MASS else None


def _of_a_place(change: Mapping[str, Any]) -> dict[str, Any]:
    # In millimetres, as the drawing dimensions every other arm that nobody typed.
    arm = f"{1e3 * change['arm']['value']:.3f}".rstrip("0").rstrip(".")
    return {"mass": _typed(change["mass_after"]["value"]), "arm": f"{arm} mm", "side": change["side"]}


def _is_at(weight: Mapping[str, Any], change: Mapping[str, Any]) -> bool:
    same_side = bool(change["side"] == weight.get("side", "forward"))
    return same_side and abs(float(change["arm"]["value"]) - _number(weight, "arm")) <= SAME_ARM


def _number(weight: Mapping[str, Any], name: str) -> float:
    """Give a mass or an arm in SI; not a number where it cannot be read, which is the same as no other."""
    try:
        return float(read(weight[name], "mass" if name == "mass" else "length"))
    except (InputRefused, KeyError):
        return math.nan


def _typed(mass: float) -> str:
    """Write a mass as a file takes it: to the gram, to a tenth of one where that is needed."""
    places = 3 if abs(mass - round(mass, 3)) < 5e-6 else 4
    return f"{mass:.{places}f} kg"
