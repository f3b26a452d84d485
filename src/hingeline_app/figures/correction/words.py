"""A correction in words: the same on the page, on paper and in the picture."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.wording import (
    NOT_KNOWN,
    describe_margin,
    format_measured,
    format_moment,
    format_number,
    format_quantity,
    measured_places,
    places_for,
    shared_places,
)

Document = Mapping[str, Any]


def amount_words(mass: float) -> str:
    """Write a mass in grams, to the tenth where it is no whole gram."""
    grams = mass * 1e3
    return format_quantity(grams, "g", places=min(1, shared_places([grams], most=3)))


def signed_words(mass: float) -> str:
    """Write what is added with a plus, what is taken off with a minus."""
    return ("+" if mass > 0.0 else "") + amount_words(mass)


def arm_words(entry: Document) -> str:
    """Write an arm with its side."""
    return f"{format_quantity(entry['arm']['value'] * 1e3, 'mm', digits=5)} {entry['side']}"


def mass_of(change: Document) -> float:
    """Give the change of mass at a place, bracket and screws included [kg]."""
    return sum(float(part["value"]) for part in (change.get("mass"), change.get("fixed_mass")) if part)


def change_words(change: Document) -> tuple[str, ...]:
    """Write a change as a row: place, arm, change, carried then, moment."""
    return (
        str(change["place"]),
        arm_words(change),
        signed_words(mass_of(change)),
        amount_words(change["mass_after"]["value"]),
        format_moment(change["moment"]["value"], places=3),
    )


def load_words(load: Document) -> tuple[str, ...]:
    """Write the loads on a weight, in newtons."""
    return tuple(format_number(load[name]["value"], 1) for name in ("normal", "fore_and_aft", "along_hinge"))


def plan_words(plan: Document) -> tuple[str, ...]:
    """Write a plan as a row: changes, predicted moment and statement, mass moved, K/I."""
    changes = [f"{change['place']} {signed_words(mass_of(change))}" for change in plan["changes"]]
    after = plan["moment_after"]
    moment = format_measured(after["value"], after["expanded_uncertainty"], "N m", sense=True)
    word = plan["predicted_statement"]
    coefficient = plan["coefficient_after"]
    return (
        "; ".join(changes) or "nothing",
        f"{moment}, {word}" if word else moment,
        amount_words(plan["sum_of_changes"]["value"]),
        NOT_KNOWN if coefficient is None else format_number(coefficient, 2),
    )


def before_and_after(document: Document) -> list[tuple[str, ...]]:
    """Write what a plan does as rows: name, before, after. What is not known is left out."""
    rows: list[tuple[str, ...]]
    rows = [("static moment", *(_moment(document[f"moment_{when}"]) for when in _WHEN))]
    if document["mass_before"] and document["mass_after"]:
        pair = (document["mass_before"]["value"], document["mass_after"]["value"])
        rows.append(("mass", *(format_quantity(mass, "kg", places=3) for mass in pair)))
        rows.append(("centre of gravity", *(_centre(document[f"centre_of_gravity_{when}"]) for when in _WHEN)))
    if document["inertia_before"]:
        pair = tuple(document[f"inertia_{when}"]["value"] for when in _WHEN)
        rows.append(("inertia about the hinge line", *_to_one_place(pair)))
    if document["product_before"]:
        pair = tuple(document[f"product_{when}"]["value"] for when in _WHEN)
        rows.append(("product of inertia K", *_to_one_place(pair)))
    if document["coefficient_before"] is not None and document["coefficient_after"] is not None:
        rows.append(("K/I", *(format_number(document[f"coefficient_{when}"], 2) for when in _WHEN)))
    return rows


_WHEN = ("before", "after")


def _to_one_place(pair: tuple[float, float]) -> tuple[str, ...]:
    """Write before and after to the same place, so that they can be compared digit by digit."""
    places = shared_places(pair, most=max(places_for(each, 4) for each in pair))
    return tuple(format_quantity(each, "kg m^2", places=places) for each in pair)


def _moment(quantity: Document) -> str:
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], "N m", sense=True)


def _centre(quantity: Document | None) -> str:
    if quantity is None:
        return NOT_KNOWN
    millimetres = quantity["value"] * 1e3
    side = "aft" if millimetres > 0.0 else "forward" if millimetres < 0.0 else ""
    return f"{format_quantity(abs(millimetres), 'mm', places=1)} {side}".rstrip()


def predicted_words(document: Document) -> str:
    """Say what is predicted, in one sentence."""
    after, limits = document["moment_after"], document["limits"]
    ends = [None if limits[end] is None else limits[end]["value"] for end in ("lower", "upper")]
    places = measured_places(after["value"], after["expanded_uncertainty"])
    return f"{_moment(after)}, {describe_margin(after['value'], ends[0], ends[1], places)}."
