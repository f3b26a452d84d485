"""A correction as the page shows it: predicted, never a statement; what each place allows; other plans."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from hingeline_app.bench.correcting.correction_of import NONE_OF_IT
from hingeline_app.bench.weighing.weighing_shown import NARROW, WIDE, Picture
from hingeline_app.figures import draw_glyph
from hingeline_app.figures.correction.bars import bars_of
from hingeline_app.figures.correction.places import draw_places
from hingeline_app.figures.correction.words import (
    amount_words,
    arm_words,
    before_and_after,
    change_words,
    mass_of,
    plan_words,
    predicted_words,
    signed_words,
)
from hingeline_app.figures.limits.change import draw_limit_change
from hingeline_app.figures.style import status_class
from hingeline_app.figures.wording import format_number, format_quantity
from hingeline_app.report.correction import predicted_side
from hingeline_app.report.correction_pictures import places_picture
from hingeline_app.report.quantities import value_of

COMMON_STEP = 0.001  # kg, where a place states none
ALMOST_WHOLE = 1e-6  # of a step


@dataclass(frozen=True)
class PlaceChosen:
    """One place: what it allows, what is chosen, and what less and more would be."""

    letter: str
    name: str
    arm: str
    allows: str
    amount: str
    is_changed: bool
    less: tuple[str, ...] | None
    more: tuple[str, ...] | None


@dataclass(frozen=True)
class CorrectionShown:
    """A predicted correction."""

    word: str
    status: str
    glyph: str
    sentence: str
    reason: str
    remedies: tuple[str, ...]
    places_drawn: Picture
    bars_drawn: Picture
    places: tuple[PlaceChosen, ...]
    effects: tuple[tuple[str, ...], ...]
    plans: tuple[tuple[str, ...], ...]
    plan_amounts: tuple[tuple[str, ...], ...]
    changes: tuple[tuple[str, ...], ...]
    notes: tuple[str, ...]
    # Said beside the prediction: it lies nearer to a limit than U.
    edge: str
    sums: str
    is_any: bool


def correction_shown(document: Mapping[str, Any], library: Mapping[str, Any]) -> CorrectionShown:
    """Show a correction; the plans beside it are the library's."""
    word = document["predicted_statement"]
    plans = library["plans"]
    return CorrectionShown(
        word=f"Predicted {word}, not weighed" if word else "Predicted, not weighed: no statement",
        status=status_class(word),
        glyph=draw_glyph(word, side=predicted_side(document), predicted=False),
        sentence=predicted_words(document),
        reason=document["reason"] or "",
        remedies=tuple(each["sentence"] for each in document["remedies"]),
        places_drawn=_both(lambda width: draw_places(places_picture(document), width)),
        bars_drawn=_both(lambda width: draw_limit_change(*bars_of(document), width)),
        places=tuple(_place(document, index) for index in range(len(document["places"]))),
        effects=tuple(before_and_after(document)),
        plans=tuple(plan_words(plan) for plan in plans),
        plan_amounts=tuple(_written(amounts_of(document, plan["changes"])) for plan in plans),
        changes=tuple(change_words(change) for change in document["changes"]),
        notes=tuple(document["notes"]),
        edge=next((note for note in document["notes"] if note.startswith("The plan lies ")), ""),
        sums=_sums(document),
        is_any=bool(document["changes"]),
    )


def _both(draw: Any) -> Picture:
    return Picture(draw(WIDE), draw(NARROW))


def amounts_of(document: Mapping[str, Any], changes: Sequence[Mapping[str, Any]]) -> list[float]:
    """Give the weights added at each place, in their order [kg]."""
    by = {change["place"]: float(change["mass"]["value"]) for change in changes}
    return [by.get(place["name"], 0.0) for place in document["places"]]


def _written(amounts: Sequence[float]) -> tuple[str, ...]:
    return tuple(f"{round(each * 1e3, 6):g} g" for each in amounts)


def _place(document: Mapping[str, Any], index: int) -> PlaceChosen:
    place = document["places"][index]
    changes = {change["place"]: change for change in document["changes"]}
    change = changes.get(place["name"])
    shown = mass_of(change) if change else 0.0
    return PlaceChosen(
        letter="ABCDEFGHIJKLMNOPQRST"[index],
        name=place["name"],
        arm=arm_words(place),
        allows=_allows(place),
        amount=signed_words(shown) if shown else amount_words(0.0),
        is_changed=abs(shown) > NONE_OF_IT,
        less=stepped(document, index, -1),
        more=stepped(document, index, +1),
    )


def stepped(document: Mapping[str, Any], index: int, way: int) -> tuple[str, ...] | None:
    """Give the amounts after one step at a place; None where the place does not allow it.

    Amounts that the place may not carry are passed over: too little in all, or too much where more is there than
    is allowed. One of them alone would be refused, and with it every further step.
    """
    place, amounts = document["places"][index], amounts_of(document, document["changes"])
    step = value_of(place["smallest_step"]) or COMMON_STEP
    now = round(amounts[index] / step)
    counts = {now + way, *_ends(place, step)}
    allowed = [each for each in counts if (each - now) * way > 0 and _may_be_chosen(place, each * step)]
    if not allowed:
        return None
    after = min(allowed, key=lambda each: abs(each - now)) * step
    return _written([*amounts[:index], after, *amounts[index + 1 :]])


def _ends(place: Mapping[str, Any], step: float) -> Iterator[int]:
    """Give where what a place may carry begins and ends, in steps from what is there."""
    present, fixed = value_of(place["present_mass"]) or 0.0, value_of(place["fixed_mass"]) or 0.0
    largest, smallest = value_of(place["largest_mass"]), value_of(place["smallest_mass"])
    yield 0
    yield -math.floor(present / step + ALMOST_WHOLE)
    if largest is not None:
        yield math.floor((largest - fixed - present) / step + ALMOST_WHOLE)
    if smallest is not None:
        yield math.ceil((smallest - fixed - present) / step - ALMOST_WHOLE)


def _may_be_chosen(place: Mapping[str, Any], added: float) -> bool:
    present, fixed = value_of(place["present_mass"]) or 0.0, value_of(place["fixed_mass"]) or 0.0
    largest, smallest = value_of(place["largest_mass"]), value_of(place["smallest_mass"])
    if not added:
        return largest is None or present <= largest + NONE_OF_IT
    carried = present + added + (fixed if present > 0.0 or added > 0.0 else 0.0)
    too_much = largest is not None and carried > largest + NONE_OF_IT
    too_little = smallest is not None and NONE_OF_IT < carried < smallest - NONE_OF_IT
    return not (too_much or too_little or present + added < -NONE_OF_IT or (place["pieces"] and added > 0.0))


def _allows(place: Mapping[str, Any]) -> str:
    """Say in one line what a place allows: steps, how much in all, what is there."""
    step, largest, present = (value_of(place[name]) for name in ("smallest_step", "largest_mass", "present_mass"))
    if largest is None:
        words = [f"{amount_words(present)} there" if present else "no most stated"]
    else:
        there = f"{format_number(present * 1e3, 0)} of " if present else "to "
        words = [f"{there}{amount_words(largest)}"]
    return " · ".join([*words, f"{amount_words(step)} steps"] if step else words)


def _sums(document: Mapping[str, Any]) -> str:
    """Write the sum of a change at one place out; of several the number of terms."""
    changes = document["changes"]
    if len(changes) != 1:
        return f"sum of {len(changes)} changes" if changes else ""
    change = changes[0]
    gravity = format_quantity(document["local_gravity"]["value"], "m/s^2", digits=7)
    arm = format_quantity(change["arm"]["value"], "m", places=3)
    moment = format_number(abs(change["moment"]["value"]), 3)
    return f"{format_quantity(abs(mass_of(change)), 'kg', places=3)} × {gravity} × {arm} = {moment} N·m"
