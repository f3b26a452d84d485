"""A place as the next plan sees it, after corrections were fitted: what each left there, its bracket with it."""

from __future__ import annotations

from typing import Any

import pytest

from hingeline_app.bench.correcting.correction_of import place_now

PLACE = {"name": "A", "arm": "180 mm", "side": "forward", "largest_mass": "200 g", "fixed_mass": "25 g"}


def fitted(place: str, present: float, after: float) -> dict[str, Any]:
    """One fitted correction: what the plan knew to be at the place, and what it carries then in all [kg]."""
    change = {"place": place, "mass_after": {"value": after}}
    return {"changes": [change], "places": [{"name": place, "present_mass": {"value": present}}]}


def test_a_later_correction_of_another_place_leaves_what_an_earlier_one_put_here() -> None:
    """100 g and their bracket came to A, then 30 g to B: A carries 100 g, and its bracket is no change any more."""
    now = place_now(PLACE, [fitted("A", 0.0, 0.125), fitted("B", 0.0, 0.03)])
    assert now == PLACE | {"present_mass": "0.1 kg"}


def test_a_bracket_that_stayed_alone_is_not_fitted_a_second_time() -> None:
    """All weights were taken off: the next ones bring no bracket, and what may be there is less by it."""
    now = place_now(PLACE | {"present_mass": "100 g"}, [fitted("A", 0.1, 0.025)])
    assert "fixed_mass" not in now
    assert (now["present_mass"], now["largest_mass"]) == ("0.0 kg", "0.175 kg")


def test_a_bracket_that_stayed_alone_is_still_there_under_the_next_weights() -> None:
    """All weights off, then 80 g to the bracket of 25 g that the plan was not told of, then 10 g of them off again."""
    off, on, less = (fitted("A", *each) for each in ((0.1, 0.025), (0.0, 0.08), (0.08, 0.095)))
    for each, fixed in ((off, 0.025), (on, 0.0), (less, 0.025)):
        each["places"][0]["fixed_mass"] = {"value": fixed}
    typed = PLACE | {"present_mass": "100 g"}

    assert place_now(typed, [off, on]) == PLACE | {"present_mass": "0.08 kg"}
    assert place_now(typed, [off, on, less]) == PLACE | {"present_mass": "0.07 kg"}


@pytest.mark.parametrize(("typed", "counts"), [("50 g", "50 g"), ("0 g", "0.1 kg")])
def test_what_was_typed_after_a_correction_counts(typed: str, counts: str) -> None:
    """What the plan was worked out from is replaced by what was fitted; another number was typed since."""
    assert place_now(PLACE | {"present_mass": typed}, [fitted("A", 0.0, 0.125)])["present_mass"] == counts
