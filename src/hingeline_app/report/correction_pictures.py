"""From the document of a correction to its two pictures: the places, and the limits before and after."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.correction.bars import bars_of
from hingeline_app.figures.correction.places import PlaceMark, PlacesPicture, draw_places
from hingeline_app.figures.correction.words import amount_words, mass_of, signed_words
from hingeline_app.figures.limits.change import draw_limit_change
from hingeline_app.figures.style import on_paper
from hingeline_app.report.quantities import signed_arm, value_of

WIDTH = 650.0

Document = Mapping[str, Any]


def places_picture(document: Document) -> PlacesPicture:
    """Gather what the picture of the places shows."""
    changes = {change["place"]: change for change in document["changes"]}
    surface = document["surface"] or {}
    return PlacesPicture(
        places=tuple(_mark(place, changes.get(place["name"])) for place in document["places"]),
        trailing_edge=value_of(surface.get("hinge_to_trailing_edge")),
        centre_before=value_of(document["centre_of_gravity_before"]),
        centre_after=value_of(document["centre_of_gravity_after"]),
    )


def _mark(place: Document, change: Document | None) -> PlaceMark:
    mark = PlaceMark(place["name"], signed_arm(place), value_of(place["present_mass"]) or 0.0)
    if change is None:
        return mark
    after = f"{amount_words(change['mass_after']['value'])} in all"
    return PlaceMark(mark.name, mark.arm, mark.present, mass_of(change), signed_words(mass_of(change)), after)


def places_svg(document: Document, width: float = WIDTH) -> str:
    """Draw the places for print, or as a file that stands alone."""
    return on_paper(draw_places(places_picture(document), width))


def limits_svg(document: Document, width: float = WIDTH) -> str:
    """Draw the limits with the weighed and the predicted moment."""
    return on_paper(draw_limit_change(*bars_of(document), width))
