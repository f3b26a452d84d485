"""The demo workshop's weighing, as a result document: invented, written out by hand.

0.842 kg × 9.80665 m/s² × 0.255 m = 2.1056 N m, against 0.00 … 2.10 N m.
"""

from __future__ import annotations

from datetime import datetime
from typing import Any

from hingeline_app.report import SheetDetails, make_worksheet

GRAVITY = 9.80665
EXPANDED = 0.04443
MADE_AT = datetime(2027, 3, 12, 9, 41)

SHEET = SheetDetails(
    workshop="Fenholt workshop",
    aircraft="Merle T2 · T2-07",
    part="T2-34-110",
    serial="0071",
    job="0412",
    weighing="1",
    date="12 Mar 2027",
    scale_calibrated="4 Nov 2026",
    document="Data sheet 7, issue C",
)

WEIGHING = """\
format = "hingeline/weighing/1"
# As typed, with a comment, an accent (é), a carriage return\r
[surface]
name = "Elevator, left half"
"""


def quantity(value: float, unit: str, **more: Any) -> dict[str, Any]:
    return {"value": value, "unit": unit, **more}


def moment(value: float, expanded: float | None) -> dict[str, Any]:
    sense = "tail-heavy" if value > 0 else "nose-heavy" if value < 0 else "balanced"
    return quantity(
        value,
        "N m",
        sense=sense,
        standard_uncertainty=None if expanded is None else expanded / 2,
        expanded_uncertainty=expanded,
        coverage_factor=None if expanded is None else 2.0,
        degrees_of_freedom=None,
    )


def support(readings: list[dict[str, Any]], net: dict[str, Any], force: float, **more: Any) -> dict[str, Any]:
    return {
        "side": "aft",
        "pushes": "up",
        "arm": quantity(0.255, "m", typed="255 mm"),
        "readings": readings,
        "rising": [],
        "falling": [],
        "tare": quantity(0.0, net["unit"]),
        "net": net,
        "force": quantity(force, "N"),
        "scale": "HL-3",
        **more,
    }


def cause(source: str, standard: float, unit: str, share: float) -> dict[str, Any]:
    return {"source": source, "standard_uncertainty": standard, "unit": unit, "share": share}


def demo_result(**changes: Any) -> dict[str, Any]:
    """Return the demo's result document, with some of its parts changed."""
    grams = [quantity(float(value), "g") for value in (840, 845, 840, 845, 840)]
    result = {
        "format": "hingeline/weighing-result/1",
        "surface": {
            "name": "Elevator, left half",
            "mass": quantity(4.1, "kg", typed="4.100 kg"),
            "hinge_to_trailing_edge": quantity(0.27, "m", typed="270 mm"),
            "balance_weights": [
                {"mass": quantity(0.6, "kg", typed="0.600 kg"), "arm": quantity(0.18, "m"), "side": "forward"}
            ],
        },
        "supports": [support(grams, quantity(842.0, "g"), 0.842 * GRAVITY)],
        "hung": [],
        "parts": [],
        "terms": [{"name": "support", "moment": quantity(0.842 * GRAVITY * 0.255, "N m")}],
        "local_gravity": quantity(GRAVITY, "m/s^2"),
        "static_moment": moment(0.842 * GRAVITY * 0.255, EXPANDED),
        "friction_moment": None,
        "centre_of_gravity": quantity(0.05236, "m"),
        "budget": [
            cause("friction in the bearings", 0.00577, "kg", 0.42),
            cause("scale calibration", 0.005, "kg", 0.32),
            cause("arm", 0.001155, "m", 0.18),
            cause("level", 0.00504, "rad", 0.03),
            cause("scale's step", 0.00144, "kg", 0.03),
            cause("readings", 0.00122, "kg", 0.02),
        ],
        "limits": {
            "lower": quantity(0.0, "N m", typed="0.00 N m"),
            "upper": quantity(2.1, "N m", typed="2.10 N m"),
            "guarded_lower": quantity(EXPANDED, "N m"),
            "guarded_upper": quantity(2.1 - EXPANDED, "N m"),
        },
        "limits_source": "Merle T2 data sheet 7, issue C, page 3",
        "rule": "simple",
        "statement": "outside",
        "statement_simple": "outside",
        "statement_guarded": "too close to tell",
        "statements": [],
        "reading_window": {
            "at_lower": quantity(0.0, "g"),
            "at_upper": quantity(839.766, "g"),
            "at_guarded_lower": quantity(17.77, "g"),
            "at_guarded_upper": quantity(822.0, "g"),
            "rises_with_moment": True,
        },
        "notes": ["Not stated, so counted as nothing: air currents. The real uncertainty is larger."],
        "cautions": ["Work to the approved data: this shows its limits and does not replace them."],
        "about": {"version": "0.1.0"},
    }
    return {**result, **changes}


def demo_pdf(sheet: SheetDetails = SHEET, weighing: str = WEIGHING, paper: Any = "a4", **changes: Any) -> bytes:
    """Make the demo's worksheet."""
    return make_worksheet(demo_result(**changes), weighing, sheet, MADE_AT, "0.1.0", paper)
