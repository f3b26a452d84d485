"""Measured values of a weighing: the moment, the mass moment, and the centre of gravity, worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.balance import HungMass, Part, Stated, StatedUncertainty, Support, Surface, Weighing, weigh
from hingeline.balance.measured import scaled, surface_mass, with_both
from hingeline.errors import InputRefused
from hingeline.uncertainty import Measured

STATED = StatedUncertainty(calibration=Stated(0.01, "kg", "standard"))


def weighing_of(surface: Surface, **more: object) -> Weighing:
    """1 kg at 0.5 m aft, 9.8 m/s²: 4.9 N m, u = 0.049 N m."""
    support = Support(0.5, readings=(1.0,))
    return Weighing(surface, (support,), local_gravity=9.8, **{"uncertainty": STATED, **more})  # type: ignore[arg-type]


def test_moment_and_mass_moment() -> None:
    """4.9 N m, u = 0.01 x 4.9 = 0.049, U = 1.95996 u = 0.096038 N m; over 9.8 m/s²: 0.5 kg m, u = 0.005 kg m."""
    result = weigh(weighing_of(Surface("rudder")))
    moment, mass_moment = result.static_moment, result.mass_moment
    assert moment.value == pytest.approx(4.9, rel=1e-14)
    assert moment.standard_uncertainty == pytest.approx(0.049, rel=1e-13)
    assert moment.expanded_uncertainty == pytest.approx(0.096038, rel=1e-5)
    assert moment.degrees_of_freedom is None
    assert mass_moment.value == pytest.approx(0.5, rel=1e-14)
    assert mass_moment.standard_uncertainty == pytest.approx(0.005, rel=1e-13)
    assert mass_moment.coverage_factor == moment.coverage_factor


def test_centre_of_gravity_and_its_uncertainty() -> None:
    """4.9 N m over 4 kg x 9.8: 0.125 m. Reading: 0.049/39.2 = 1.25 mm; mass: 0.125 x 0.04/4 = 1.25 mm; √2 x 1.25."""
    surface = Surface("rudder", mass=4.0, mass_uncertainty=Stated(0.04, "kg", "standard"))
    centre = weigh(weighing_of(surface)).centre_of_gravity
    assert centre is not None
    assert centre.value == pytest.approx(0.125, rel=1e-14)
    assert centre.standard_uncertainty == pytest.approx(0.00125 * math.sqrt(2.0), rel=1e-12)
    assert centre.expanded_uncertainty == pytest.approx(1.959964 * 0.00125 * math.sqrt(2.0), rel=1e-6)


def test_an_exact_mass_adds_nothing() -> None:
    """Where nothing is stated of the mass, only the reading's 1.25 mm is left."""
    centre = weigh(weighing_of(Surface("rudder", mass=4.0))).centre_of_gravity
    assert centre is not None
    assert centre.standard_uncertainty == pytest.approx(0.00125, rel=1e-12)


def test_the_centre_is_of_the_surface_as_weighed() -> None:
    """A hung mass belongs to the weighing and a part does not: (4.9 + 0.98) N m over 39.2 N, 0.15 m."""
    part = Part("tab", "not fitted", 0.5, 0.4, mass_uncertainty=Stated(0.1, "kg", "standard"))
    weighing = weighing_of(Surface("rudder", mass=4.0), hung=(HungMass(0.5, 0.2),))
    with_part = replace(weighing, parts=(part,))
    one, other = weigh(weighing).centre_of_gravity, weigh(with_part).centre_of_gravity
    assert one is not None
    assert one.value == pytest.approx(0.15, rel=1e-14)
    assert other == one
    assert weigh(with_part).static_moment.value == pytest.approx(5.88 + 0.5 * 9.8 * 0.4, rel=1e-14)


def test_gravity_is_left_out_of_the_centre() -> None:
    """The same gravity makes readings and mass into forces: its uncertainty acts on the moment alone."""
    stated = replace(STATED, gravity=Stated(0.02, "m/s^2", "standard"))
    one = weigh(weighing_of(Surface("rudder", mass=4.0)))
    other = weigh(weighing_of(Surface("rudder", mass=4.0), uncertainty=stated))
    assert other.centre_of_gravity == one.centre_of_gravity
    assert other.static_moment.standard_uncertainty == pytest.approx(math.hypot(0.049, 0.5 * 0.02), rel=1e-12)


def test_gravity_acts_on_the_centre_by_a_dial_that_shows_force() -> None:
    """9.8 N at 0.5 m over 4 kg x 9.8 m/s²: 125 mm, and u(g)/g = 0.02/9.8 of it, 0.2551 mm (by hand, no source)."""
    support = Support(0.5, readings=(9.8,), reading_unit="N")
    stated = StatedUncertainty(gravity=Stated(0.02, "m/s^2", "standard"))
    weighing = Weighing(Surface("rudder", mass=4.0), (support,), uncertainty=stated, local_gravity=9.8)
    centre = weigh(weighing).centre_of_gravity
    assert centre is not None
    assert centre.value == pytest.approx(0.125, rel=1e-14)
    assert centre.standard_uncertainty == pytest.approx(0.125 * 0.02 / 9.8, rel=1e-12)


def test_without_a_mass_there_is_no_centre() -> None:
    """Moment alone does not tell where the centre of gravity lies."""
    assert weigh(weighing_of(Surface("rudder"))).centre_of_gravity is None


def test_a_centre_behind_the_trailing_edge_is_refused() -> None:
    """0.8 kg would put it 0.625 m aft, with a trailing edge at 0.6 m: the mass, or the moment, is wrong."""
    surface = Surface("rudder", mass=4.0, hinge_to_trailing_edge=0.6)
    weigh(weighing_of(surface))
    with pytest.raises(InputRefused) as caught:
        weigh(weighing_of(replace(surface, mass=0.8)))
    (refusal,) = caught.value.refusals
    assert (refusal.field, refusal.value) == ("surface.mass", "0.8")
    assert "within 600 mm of the hinge line" in refusal.expected
    assert "625 mm aft" in refusal.remedy


def test_surface_mass() -> None:
    """Not weighed: None. Nothing stated: exact. 1 % of 4 kg: 0.04 kg."""
    assert surface_mass(weighing_of(Surface("rudder"))) is None
    assert surface_mass(weighing_of(Surface("rudder", mass=4.0))) == Measured(4.0, 0.0, 0.0)
    relative = surface_mass(weighing_of(Surface("rudder", mass=4.0, mass_uncertainty=Stated(0.01, "1", "standard"))))
    assert relative is not None
    assert relative.standard_uncertainty == pytest.approx(0.04, rel=1e-14)


def test_scaled() -> None:
    """An exact factor turns the value's sign, but not that of its uncertainty; what is not known stays so."""
    assert scaled(Measured(2.0, 0.25, 0.5, 2.0, 5.0), -3.0) == Measured(-6.0, 0.75, 1.5, 2.0, 5.0)
    assert scaled(Measured(2.0, None), 3.0) == Measured(6.0, None)


def test_of_both_uncertainties_the_one_is_k_times_the_other() -> None:
    """A moment of ± 0.03 N m with u of 0.012 N m was stated with k = 2.5, whatever the coverage asked for."""
    found = with_both(Measured(2.0, 0.012, 0.03), 0.95)
    assert found.coverage_factor == pytest.approx(2.5, rel=1e-12)
    assert (found.standard_uncertainty, found.expanded_uncertainty) == pytest.approx((0.012, 0.03), rel=1e-12)
