"""Which limits hold for this surface, and what is true of it: inside, outside, too close to tell."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hingeline.balance.measured import scaled, surface_mass
from hingeline.balance.model import Decision, Limits, MomentBand, MomentLimits, Statement, Weighing
from hingeline.balance.terms import SupportTerm
from hingeline.errors import InputRefused
from hingeline.uncertainty import (
    INSIDE,
    OUTSIDE,
    Measured,
    guarded,
    guarded_limits,
    margin,
    probability_within,
    simple,
    worse,
)

NEXT_BAND = (
    "Give or take its uncertainty, the surface's mass may lie in another mass band: look whether the moment keeps "
    "the limits there too."
)
GAP = (
    "Give or take its uncertainty, the surface's mass may lie in none of the mass bands: the approved data gives no "
    "moment limit there."
)


@dataclass(frozen=True, slots=True)
class Applicable:
    """The moment limits that hold for a surface of this mass, and what was noticed on the way."""

    lower: float | None
    upper: float | None
    notes: tuple[str, ...] = ()
    no_band: bool = False


def applicable_limits(limits: Limits, mass: float | None) -> Applicable:
    """Find the moment limits; on an edge shared by two mass bands, the tighter of both.

    Raises
    ------
    InputRefused
        The mass lies on the edge of two bands whose limits no moment can meet together.
    """
    if not limits.bands or mass is None:
        return Applicable(limits.lower, limits.upper)
    bands = [band for band in limits.bands if band.lightest <= mass <= band.heaviest]
    if not bands:
        note = "The surface's mass lies in none of the mass bands: the approved data gives no moment limit for it."
        return Applicable(None, None, (note,), no_band=True)
    if len(bands) == 1:
        return Applicable(bands[0].lower, bands[0].upper)
    lower, upper = _largest(bands), _smallest(bands)
    if lower is not None and upper is not None and lower > upper:
        shown = getattr(mass, "text", f"{mass:.6g}")
        remedy = "It lies on the edge of two bands whose limits share no moment: ask the design holder which one holds."
        raise InputRefused.of("surface.mass", shown, "a mass within one band", remedy)
    note = "The surface's mass lies on the edge of two mass bands: the tighter limits of both are used."
    return Applicable(lower, upper, (note,))


def notes_of_next_band(bands: tuple[MomentBand, ...], mass: Measured | None) -> tuple[str, ...]:
    """Note a mass that with its U reaches out of its band: into another, whose moment limits differ, or into a gap."""
    if mass is None or not mass.expanded_uncertainty:
        return ()
    here = [band for band in bands if band.lightest <= mass.value <= band.heaviest]
    if not here:
        return ()
    lightest, heaviest = mass.value - mass.expanded_uncertainty, mass.value + mass.expanded_uncertainty
    reached = [band for band in bands if band.lightest < heaviest and lightest < band.heaviest]
    steps = len(here) == 1 and any((band.lower, band.upper) != (here[0].lower, here[0].upper) for band in reached)
    gap = _meets_a_gap(bands, lightest, heaviest)
    return (*((NEXT_BAND,) if steps else ()), *((GAP,) if gap else ()))


def _meets_a_gap(bands: tuple[MomentBand, ...], lightest: float, heaviest: float) -> bool:
    """Whether some mass between the two lies within the outer edges of all bands, and in none of them."""
    ordered = sorted(bands, key=lambda each: each.lightest)
    edge = ordered[0].heaviest
    for band in ordered[1:]:
        if edge < band.lightest and edge < heaviest and lightest < band.lightest:
            return True
        edge = max(edge, band.heaviest)
    return False


def _largest(bands: list[MomentBand]) -> float | None:
    return max((band.lower for band in bands if band.lower is not None), default=None)


def _smallest(bands: list[MomentBand]) -> float | None:
    return min((band.upper for band in bands if band.upper is not None), default=None)


def moment_limits(applicable: Applicable, expanded: float | None) -> MomentLimits:
    """Give the band as approved and, where U is known, drawn in by U at both ends."""
    lower, upper = applicable.lower, applicable.upper
    if expanded is None:
        return MomentLimits(lower, upper)
    guarded_lower, guarded_upper, _ = guarded_limits(expanded, lower, upper)
    return MomentLimits(lower, upper, guarded_lower, guarded_upper)


def decide_moment(moment: Measured, applicable: Applicable) -> Decision | None:
    """Say what is true of the static moment; None where nothing limits it."""
    if applicable.lower is None and applicable.upper is None:
        return None
    return _decide("static moment", "N m", moment, applicable.lower, applicable.upper)


def decide_mass(weighing: Weighing, applicable: Applicable) -> Decision | None:
    """Say what is true of the surface's mass; None where nothing limits it."""
    bounds, mass = mass_bounds(weighing.limits), surface_mass(weighing)
    if bounds is None or mass is None:
        return None
    decision = _decide("mass", "kg", mass, *bounds)
    return _in_no_band(decision, weighing.limits.bands) if applicable.no_band else decision


def _in_no_band(decision: Decision, bands: tuple[MomentBand, ...]) -> Decision:
    """Say of a mass that no band takes by how much it is outside, and give no chance: a gap has two sides."""
    nearest = max(margin(decision.value, band.lightest, band.heaviest) or 0.0 for band in bands)
    return replace(
        decision,
        margin=min(nearest, nearest if decision.margin is None else decision.margin),
        probability_within=None,
        statement_simple=OUTSIDE,
        statement_guarded=OUTSIDE,
    )


def mass_bounds(limits: Limits) -> tuple[float | None, float | None] | None:
    """Give the limits of the surface's mass [kg], or the outer edges of its mass bands; None without either."""
    if limits.mass is not None:
        return limits.mass.lower, limits.mass.upper
    if limits.bands:
        return min(band.lightest for band in limits.bands), max(band.heaviest for band in limits.bands)
    return None


def decide_reading(weighing: Weighing, moment: Measured, supports: tuple[SupportTerm, ...]) -> Decision | None:
    """Say what is true of the reading at the document's own point, tail-heavy positive."""
    limits = weighing.limits.reading
    if limits is None or len(supports) != 1:
        return None
    per_unit = supports[0].support.arm * (weighing.local_gravity if limits.unit == "kg" else 1.0)
    return _decide("reading", limits.unit, scaled(moment, 1.0 / per_unit), limits.lower, limits.upper)


def _decide(of: str, unit: str, measured_value: Measured, lower: float | None, upper: float | None) -> Decision:
    value, expanded = measured_value.value, measured_value.expanded_uncertainty
    standard = measured_value.standard_uncertainty
    return Decision(
        of=of,  # type: ignore[arg-type]
        unit=unit,
        value=value,
        expanded_uncertainty=expanded,
        lower=lower,
        upper=upper,
        margin=margin(value, lower, upper),
        probability_within=None if not standard else probability_within(value, standard, lower, upper),
        statement_simple=simple(value, lower, upper) or INSIDE,
        statement_guarded=None if expanded is None else guarded(value, expanded, lower, upper),
    )


def overall(statements: tuple[Statement | None, ...]) -> Statement | None:
    """Give the worst of several statements; none where one of them could not be made."""
    if not statements or None in statements:
        return OUTSIDE if OUTSIDE in statements else None
    return worse(*statements)
