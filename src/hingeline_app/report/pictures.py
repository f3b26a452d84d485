"""From a result document to the two signature pictures."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hingeline_app.figures import (
    BeamPicture,
    HungMass,
    LimitBar,
    LoosePart,
    SupportMark,
    WeightMark,
    draw_beam,
    draw_limit_bar,
    on_paper,
)
from hingeline_app.figures.wording import format_measured, format_quantity
from hingeline_app.report.quantities import (
    Quantity,
    arm_text,
    expanded_of,
    signed_arm,
    unit_of,
    value_of,
    written,
)
from hingeline_app.report.record import Result
from hingeline_app.report.words import moment_statement

WIDTH = 650.0
UNKNOWN_FORCE = 10.0


def beam_picture(result: Result) -> BeamPicture:
    """Gather what the beam shows."""
    surface = result.get("surface") or {}
    moment, expanded = value_of(result["static_moment"]), expanded_of(result["static_moment"])
    upper = value_of((result.get("limits") or {}).get("upper"))
    supports = [_support(entry) for entry in result.get("supports") or []]
    return BeamPicture(
        supports=tuple(supports),
        hung=tuple(HungMass(signed_arm(e), written(e["mass"]), arm_text(e)) for e in result.get("hung") or []),
        weights=tuple(
            WeightMark(signed_arm(e), f"weight {written(e['mass'])}", arm_text(e)) for e in balance_weights(result)
        ),
        parts=tuple(
            LoosePart(signed_arm(e), str(e["name"]), e.get("state") != "not fitted", arm_text(e))
            for e in result.get("parts") or []
        ),
        trailing_edge=value_of(surface.get("hinge_to_trailing_edge")),
        centre_of_gravity=value_of(result.get("centre_of_gravity")),
        mass_text=written(surface["mass"], 4) if surface.get("mass") else "",
        moment=moment,
        moment_text="" if moment is None else format_measured(moment, expanded, "N m", sense=True),
        statement=moment_statement(result),
        full_force=abs(upper / supports[0].arm) if upper and len(supports) == 1 and supports[0].arm else None,
    )


def balance_weights(result: Result) -> list[Mapping[str, Any]]:
    """Return the balance weights that are fitted: drawn only, since they are weighed with the surface."""
    of_surface = (result.get("surface") or {}).get("balance_weights")
    return list(of_surface or result.get("balance_weights") or [])


def _support(entry: Mapping[str, Any]) -> SupportMark:
    force = value_of(entry.get("force"))
    return SupportMark(
        arm=signed_arm(entry),
        # Not weighed yet: an arrow of common length, without a number.
        force=UNKNOWN_FORCE if force is None else abs(force),
        force_text="" if force is None else format_quantity(abs(force), "N", digits=4),
        reading_text=mean_net(entry),
        pushes="down" if entry.get("pushes") == "down" else "up",
        arm_text=arm_text(entry),
    )


def mean_net(entry: Mapping[str, Any]) -> str:
    """Write the mean reading less tare, to one place beyond what the readings show at most."""
    net: Quantity = entry.get("net")
    value = value_of(net)
    return written(net) if value is None else format_quantity(value, unit_of(net), digits=4)


def limit_bar(result: Result) -> LimitBar:
    """Gather what the limit bar shows."""
    limits = result.get("limits") or {}
    moment = result["static_moment"]
    return LimitBar(
        value=value_of(moment),
        uncertainty=expanded_of(moment),
        lower=value_of(limits.get("lower")),
        upper=value_of(limits.get("upper")),
        guarded_lower=value_of(limits.get("guarded_lower")),
        guarded_upper=value_of(limits.get("guarded_upper")),
        statement=moment_statement(result),
        coverage_factor=moment.get("coverage_factor"),
    )


def drawn(result: Result, carried: Callable[[str], str] = on_paper) -> dict[str, str]:
    """Draw both pictures, for print where nothing else is said."""
    return {
        "beam": carried(draw_beam(beam_picture(result), WIDTH)),
        "bar": carried(draw_limit_bar(limit_bar(result), WIDTH)),
    }
