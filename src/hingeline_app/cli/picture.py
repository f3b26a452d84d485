"""The pictures of ``coating`` and ``dynamic``: from their documents to an SVG file that stands alone."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.correction.coating import coating_bars
from hingeline_app.figures.correction.three_places import PlacedWeight, PlateShape, ThreePlaces, draw_three_places
from hingeline_app.figures.limits.change import draw_limit_change
from hingeline_app.figures.style import embedded
from hingeline_app.figures.wording import format_quantity

Document = Mapping[str, Any]


def three_places_svg(document: Document) -> str:
    """Draw the surface from above with the trial weight at each of its places."""
    weight = document["weight"]
    arm = weight["arm"]["value"]
    mass, at = format_quantity(1000.0 * weight["mass"]["value"], "g"), format_quantity(1000.0 * arm, "mm")
    return embedded(
        draw_three_places(
            ThreePlaces(
                plates=tuple(_plate(plate) for plate in document["plates"]),
                points=tuple((_aft(point), point["spanwise"]["value"]) for point in document["points"]),
                arm=arm if weight["side"] == "aft" else -arm,
                places=tuple(
                    PlacedWeight(place["name"], place["spanwise"]["value"], place["dynamic_coefficient"])
                    for place in document["places"]
                ),
                weight_text=f"{mass}, {at} {weight['side']}: each time the same static moment",
            )
        )
    )


def limit_change_svg(surface: Document) -> str:
    """Draw the moment as weighed and as predicted against its limits, for one surface of a coating."""
    return embedded(draw_limit_change(*coating_bars(surface)))


def _plate(plate: Document) -> PlateShape:
    return PlateShape(
        (plate["chordwise_from"]["value"], plate["chordwise_to"]["value"]),
        (plate["spanwise_from"]["value"], plate["spanwise_to"]["value"]),
    )


def _aft(point: Document) -> float:
    arm = float(point["arm"]["value"])
    return arm if point["side"] == "aft" else -arm
