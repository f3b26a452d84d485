"""Spread masses worked by hand, and what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.balance.spread import (
    DynamicTask,
    MassPoint,
    Plate,
    TrialPlace,
    TrialWeight,
    dynamic_balance,
    spread_of,
)
from hingeline.errors import InputRefused

POINT = MassPoint("weight", 2.0, 0.1, "forward", 3.0)
PLATE = Plate("skin", 0.0, 0.2, 1.0, 3.0, mass=1.0)
WEIGHT = TrialWeight(0.05)


def test_a_point_by_hand() -> None:
    """2 kg, 0.1 m ahead, 3 m out: S = -0.2, I = 0.02, K = -0.6, K/I = -30."""
    found = spread_of([POINT])
    assert (found.mass, found.mass_moment) == (2.0, -0.2)
    assert found.static_moment == pytest.approx(-1.96133, rel=1e-14)
    assert found.inertia == pytest.approx(0.02, rel=1e-14)
    assert found.product_of_inertia == pytest.approx(-0.6, rel=1e-14)
    assert found.dynamic_coefficient == pytest.approx(-30.0, rel=1e-14)
    assert (found.centre_aft, found.centre_spanwise) == (-0.1, 3.0)


def test_a_plate_across_the_hinge_line_by_hand() -> None:
    """1.2 kg from -0.1 to 0.2 m and 2 to 4 m: S = 1.2 × 0.05, I = 1.2 × 0.01, K = 1.2 × 0.05 × 3."""
    found = spread_of([], [Plate("skin", -0.1, 0.2, 2.0, 4.0, mass=1.2)])
    assert found.mass_moment == pytest.approx(0.06, rel=1e-14)
    assert found.inertia == pytest.approx(1.2 * (0.01 - 0.02 + 0.04) / 3.0, rel=1e-14)
    assert found.product_of_inertia == pytest.approx(0.18, rel=1e-14)
    by_area = spread_of([], [Plate("skin", -0.1, 0.2, 2.0, 4.0, mass_per_area=2.0)])
    assert by_area.mass == pytest.approx(1.2, rel=1e-14)


def test_the_three_places_are_the_ends_and_the_middle() -> None:
    """Without places the weight stands at the span's ends and middle; the inboard end is the nearer one."""
    found = dynamic_balance(DynamicTask(plates=(PLATE,), weight=WEIGHT))
    assert [(place.name, place.spanwise) for place in found.places] == [
        ("inboard end", 1.0), ("middle", 2.0), ("outboard end", 3.0),
    ]  # fmt: skip
    left = replace(PLATE, spanwise_from=-3.0, spanwise_to=-1.0)
    mirrored = dynamic_balance(DynamicTask(plates=(left,), weight=WEIGHT))
    assert [place.spanwise for place in mirrored.places] == [-1.0, -2.0, -3.0]


def test_a_mass_that_is_given_is_kept() -> None:
    """A weight of its own mass: S falls by m a, I grows by m a², K falls by m a y."""
    weight = TrialWeight(0.05, mass=0.4, places=(TrialPlace("tip", 3.0),))
    found = dynamic_balance(DynamicTask(plates=(PLATE,), weight=weight))
    (tip,) = found.places
    assert tip.mass_moment == pytest.approx(0.1 - 0.02, rel=1e-13)
    assert tip.inertia == pytest.approx(0.04 / 3.0 + 0.001, rel=1e-13)
    assert tip.product_of_inertia == pytest.approx(0.2 - 0.06, rel=1e-13)
    assert not any("same" in note for note in found.notes)


def test_it_is_called_an_estimate() -> None:
    """The cautions say that nothing was measured, and that nothing is said of flutter."""
    found = dynamic_balance(DynamicTask(points=(POINT,)))
    assert found.cautions[0].startswith("An estimate")
    assert any("free of flutter" in caution for caution in found.cautions)


def plate(**changes: object) -> DynamicTask:
    """A task whose one plate is changed."""
    return DynamicTask(plates=(replace(PLATE, **changes),))  # type: ignore[arg-type]


def point(**changes: object) -> DynamicTask:
    """A task whose one point is changed."""
    return DynamicTask(points=(replace(POINT, **changes),))  # type: ignore[arg-type]


def weight(**changes: object) -> DynamicTask:
    """A task whose weight is changed."""
    return DynamicTask(plates=(PLATE,), weight=replace(WEIGHT, **changes))  # type: ignore[arg-type]


REFUSED = [
    (DynamicTask(), "plate", "at least one plate or point"),
    (point(mass=0.0), "point[0].mass", "above 0 and up to 1000 kg"),
    (point(mass=math.nan), "point[0].mass", "above 0 and up to 1000 kg"),
    (point(arm=-0.1), "point[0].arm", "0 or more"),
    (point(arm=25.0), "point[0].arm", "a distance up to 10 m"),
    (point(spanwise=math.inf), "point[0].spanwise", "within ± 50 m"),
    (plate(chordwise_from=0.3), "plate[0].chordwise", "from a smaller to a larger distance"),
    (plate(spanwise_to=1.0), "plate[0].spanwise", "from a smaller to a larger distance"),
    (plate(chordwise_to=200.0), "plate[0].chordwise", "two distances within ± 10 m"),
    (plate(spanwise_to=math.nan), "plate[0].spanwise", "two distances within ± 50 m"),
    (plate(mass=None), "plate[0].mass", "either mass or mass_per_area"),
    (plate(mass_per_area=5.0), "plate[0].mass", "either mass or mass_per_area"),
    (plate(mass=-1.0), "plate[0].mass", "above 0 and up to 1000 kg"),
    (plate(mass=None, mass_per_area=0.0), "plate[0].mass_per_area", "above 0 and up to 1000 kg/m^2"),
    (weight(arm=0.0), "weight.arm", "above 0 and up to 10 m"),
    (weight(mass=0.0), "weight.mass", "above 0 and up to 1000 kg"),
    (weight(side="aft"), "weight.mass", "the surface is tail-heavy, and no mass there balances it"),
    (weight(places=(TrialPlace("tip", 1e9),)), "weight.place[0].spanwise", "within ± 50 m"),
    (DynamicTask(points=(POINT,), weight=TrialWeight(0.1, "aft")), "weight.place", "places along the span"),
    (replace(point(), local_gravity=0.0), "local_gravity", "between 9.7 and 9.9"),
]


@pytest.mark.parametrize(("task", "field", "expected"), REFUSED)
def test_it_is_refused(task: DynamicTask, field: str, expected: str) -> None:
    """The refusal names the field and what would do."""
    with pytest.raises(InputRefused) as caught:
        dynamic_balance(task)
    found = {refusal.field: refusal for refusal in caught.value.refusals}
    assert field in found, list(found)
    assert expected in found[field].expected
    assert found[field].remedy.endswith((".", "?"))


def test_a_balanced_surface_has_no_balancing_mass() -> None:
    """Where S is nothing already, the mass to try has to be given."""
    with pytest.raises(InputRefused) as caught:
        dynamic_balance(DynamicTask(plates=(Plate("even", -0.1, 0.1, 1.0, 2.0, mass=1.0),), weight=WEIGHT))
    assert "the surface is balanced" in caught.value.refusals[0].expected
