"""The mass after a plan against the mass range of the approved limits."""

from __future__ import annotations

from typing import Any

import pytest

from hingeline_app.bench.correcting.mass_after import mass_after


def found(rule: str = "simple", expanded: float | None = 0.0) -> dict[str, Any]:
    """A weighing whose limits give a mass range of 3.9 to 4.2 kg."""
    limited = {
        "of": "mass",
        "lower": {"value": 3.9},
        "upper": {"value": 4.2},
        "expanded_uncertainty": None if expanded is None else {"value": expanded},
    }
    return {"rule": rule, "statements": [{"of": "static moment"}, limited]}


def plan(mass: float | None, changes: int = 1) -> dict[str, Any]:
    """A plan that leaves a mass [kg]."""
    return {"mass_after": None if mass is None else {"value": mass}, "changes": [{}] * changes}


@pytest.mark.parametrize(
    ("rule", "mass", "word"),
    [
        ("simple", 4.1, "inside"),
        ("simple", 4.2, "inside"),
        ("simple", 4.2001, "outside"),
        ("guarded", 4.199, "inside"),
        # U = 2 x 0.5 g / sqrt(3) = 0.577 g (GUM 4.3.7): within it of a limit nobody can tell.
        ("guarded", 4.1995, "too close to tell"),
        ("guarded", 4.2005, "too close to tell"),
        ("guarded", 4.201, "outside"),
    ],
)
def test_the_mass_after_a_plan_is_told_by_the_rule_in_force(rule: str, mass: float, word: str) -> None:
    """As the weighing tells it: on the limit is inside by the simple rule."""
    said = mass_after(found(rule), plan(mass), has_bands=False)
    assert said is not None
    assert said.word == word


def test_its_uncertainty_is_that_of_the_surface_and_of_each_change() -> None:
    """U of 4 g and two changes of 0.5 g at most: sqrt(4^2 + 2 x 0.577^2) = 4.08 g (arithmetic, no source)."""
    said = mass_after(found(expanded=0.004), plan(4.1, 2), has_bands=False)
    assert said is not None
    assert said.mass == "4.1000 ± 0.0041\u00a0kg"


@pytest.mark.parametrize("expanded", [None, 0.0])
def test_where_nobody_stated_the_surfaces_own_no_plus_or_minus_is_shown(expanded: float | None) -> None:
    """That of the changes alone would make it look sure; a weighing takes such a mass as exact, and says so."""
    said = mass_after(found("guarded", expanded), plan(4.13), has_bands=False)
    assert said is not None
    assert (said.mass, said.word, said.is_taken_as_exact) == ("4.13\u00a0kg", "inside", True)


def test_without_a_range_a_mass_or_beside_stepped_limits_nothing_is_compared() -> None:
    """The note of the plan stays."""
    assert mass_after({"statements": []}, plan(4.1), has_bands=False) is None
    assert mass_after(found(), plan(None), has_bands=False) is None
    assert mass_after(found(), plan(4.1), has_bands=True) is None
