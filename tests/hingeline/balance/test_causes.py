"""The causes of uncertainty: which there are, and how strongly each acts, worked by hand at 9.8 m/s²."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.balance import HungMass, Part, Stated, StatedUncertainty, Support, Surface, Weighing
from hingeline.balance.causes import causes_of_parts, causes_of_weighing, in_reading_unit
from hingeline.balance.terms import hung_terms, part_terms, support_terms
from hingeline.uncertainty import Contribution

SUPPORT = Support(arm=0.5, readings=(2.0, 2.2, 2.1), tare=0.1)


def weighing_of(*supports: Support, **more: object) -> Weighing:
    return Weighing(Surface("rudder"), supports, local_gravity=9.8, **more)  # type: ignore[arg-type]


def causes_by_name(weighing: Weighing) -> dict[str, Contribution]:
    causes = [*causes_of_weighing(weighing, support_terms(weighing)), *causes_of_parts(weighing)]
    assert len({cause.source for cause in causes}) == len(causes)
    return {cause.source: cause for cause in causes}


def test_terms() -> None:
    """A support, a hung mass and two parts, each with its name and moment.

    Support: (2.1 - 0.1) x 9.8 x 0.5 = 9.8. Hung: 0.5 x 9.8 x 0.2 forward = 0.98. Not fitted: 0.1 x 9.8 x 0.3
    aft = 0.294. Fitted, not counted, forward: 0.1 x 9.8 x 0.1 = 0.098, taken away from the nose-heavy side.
    """
    weighing = weighing_of(
        SUPPORT,
        hung=(HungMass(0.5, 0.2),),
        parts=(Part("tab", "not fitted", 0.1, 0.3), Part("rig", "fitted, not counted", 0.1, 0.1, "forward")),
    )
    (support,) = support_terms(weighing)
    assert (support.name, support.net, support.force) == ("support", pytest.approx(2.0), pytest.approx(19.6))
    assert support.moment == pytest.approx(9.8, rel=1e-14)
    (hung,) = hung_terms(weighing)
    assert (hung.name, hung.moment) == ("hung mass", pytest.approx(0.98))
    assert [(part.name, part.moment) for part in part_terms(weighing)] == [
        ("tab, not fitted", pytest.approx(0.294)),
        ("rig, fitted, not counted", pytest.approx(0.098)),
    ]


def test_several_supports_are_numbered() -> None:
    """Two supports and two hung masses carry numbers, one does not."""
    weighing = weighing_of(SUPPORT, replace(SUPPORT, side="forward"), hung=(HungMass(1.0, 0.1), HungMass(2.0, 0.1)))
    assert [term.name for term in support_terms(weighing)] == ["support 1", "support 2"]
    assert [term.name for term in hung_terms(weighing)] == ["hung mass 1", "hung mass 2"]


def test_scatter_of_readings() -> None:
    """2.0, 2.2, 2.1 kg: s = 0.1, u = 0.1/√3 with two degrees of freedom, 4.9 N m a kilogram."""
    cause = causes_by_name(weighing_of(SUPPORT))["readings"]
    assert cause.standard_uncertainty == pytest.approx(0.1 / math.sqrt(3.0), rel=1e-12)
    assert (cause.unit, cause.degrees_of_freedom) == ("kg", 2.0)
    assert cause.sensitivity == pytest.approx(4.9, rel=1e-14)


def test_rising_and_falling_scatter_count_half_each() -> None:
    """The moment follows the middle of both means: half of 4.9 N m a kilogram for each series."""
    across = replace(SUPPORT, readings=(), rising=(2.2, 2.4), falling=(2.0, 2.0, 2.3))
    causes = causes_by_name(weighing_of(across))
    assert causes["readings, rising"].sensitivity == pytest.approx(2.45, rel=1e-14)
    assert causes["readings, falling"].sensitivity == pytest.approx(2.45, rel=1e-14)
    assert (causes["readings, rising"].degrees_of_freedom, causes["readings, falling"].degrees_of_freedom) == (1.0, 2.0)


def test_one_reading_has_only_the_stated_repeatability() -> None:
    """One reading says nothing of its scatter: nothing is counted, or what is stated."""
    once = replace(SUPPORT, readings=(2.1,))
    assert causes_by_name(weighing_of(once)) == {}
    stated = StatedUncertainty(repeatability=Stated(0.01, "kg", "standard", None, 8.0))
    cause = causes_by_name(weighing_of(once, uncertainty=stated))["repeatability, readings"]
    assert (cause.standard_uncertainty, cause.degrees_of_freedom) == (0.01, 8.0)
    assert "repeatability, readings" not in causes_by_name(weighing_of(SUPPORT, uncertainty=stated))


def test_step_friction_air_and_tare_act_on_the_reading() -> None:
    """Each acts at 4.9 N m a kilogram, the tare against it; a step of 5 g is 5/√12 g, a relative one of the net."""
    stated = StatedUncertainty(
        scale=Stated(0.005, "kg", "resolution"),
        friction=Stated(0.01, "1", "standard"),
        air=Stated(0.003, "kg"),
        tare_uncertainty=Stated(0.002, "kg", "triangular"),
    )
    causes = causes_by_name(weighing_of(SUPPORT, uncertainty=stated))
    assert causes["scale's step"].standard_uncertainty == pytest.approx(0.005 / math.sqrt(12.0), rel=1e-14)
    assert causes["friction in the bearings"].standard_uncertainty == pytest.approx(0.02, rel=1e-14)
    assert causes["air currents"].standard_uncertainty == pytest.approx(0.003 / math.sqrt(3.0), rel=1e-14)
    assert causes["tare"].standard_uncertainty == pytest.approx(0.002 / math.sqrt(6.0), rel=1e-14)
    assert causes["tare"].sensitivity == pytest.approx(-4.9, rel=1e-14)


def test_arm_acts_with_the_force() -> None:
    """19.6 N a metre of arm; a support's own statement goes before the common one."""
    stated = StatedUncertainty(arm=Stated(0.002, "m", "standard"))
    cause = causes_by_name(weighing_of(SUPPORT, uncertainty=stated))["arm"]
    assert (cause.standard_uncertainty, cause.sensitivity) == (0.002, pytest.approx(19.6))
    own = replace(SUPPORT, side="forward", arm_uncertainty=Stated(0.01, "1", "standard"))
    cause = causes_by_name(weighing_of(own, uncertainty=stated))["arm"]
    assert (cause.standard_uncertainty, cause.sensitivity) == (0.005, pytest.approx(-19.6))


def test_supports_on_one_scale_share_its_calibration() -> None:
    """Aft at 0.5 m and forward at 0.2 m: 9.8 x (0.5 - 0.2) = 2.94 N m a kilogram, not the root of the squares."""
    stated = StatedUncertainty(calibration=Stated(0.01, "kg", "expanded", 2.0))
    second = replace(SUPPORT, arm=0.2, side="forward")
    cause = causes_by_name(weighing_of(SUPPORT, second, uncertainty=stated))["scale calibration"]
    assert (cause.standard_uncertainty, cause.sensitivity) == (0.005, pytest.approx(2.94))
    apart = weighing_of(replace(SUPPORT, scale="A"), replace(second, scale="B"), uncertainty=stated)
    causes = causes_by_name(apart)
    assert causes["scale calibration of A"].sensitivity == pytest.approx(4.9)
    assert causes["scale calibration of B"].sensitivity == pytest.approx(-1.96)


def test_a_relative_calibration_acts_with_the_whole_moment() -> None:
    """1 % of 9.8 N m from one support and 1 % of -3.92 N m from the other, together: 5.88 N m a part."""
    stated = StatedUncertainty(calibration=Stated(0.01, "1", "standard"))
    second = replace(SUPPORT, arm=0.2, side="forward")
    cause = causes_by_name(weighing_of(SUPPORT, second, uncertainty=stated))["scale calibration"]
    assert (cause.standard_uncertainty, cause.unit, cause.sensitivity) == (0.01, "1", pytest.approx(5.88))


def test_level_acts_through_the_height_of_the_centre_of_gravity() -> None:
    """4 kg, 20 mm below the hinge line: 0.784 N m a radian; in the hinge line's plane it does not act."""
    stated = StatedUncertainty(level=Stated(0.01, "rad", "standard"))
    weighing = weighing_of(SUPPORT, uncertainty=stated)
    low = replace(weighing, surface=Surface("rudder", mass=4.0, vertical_offset=-0.02))
    assert causes_by_name(low)["level"].sensitivity == pytest.approx(0.784, rel=1e-14)
    plane = replace(weighing, surface=Surface("rudder", mass=4.0, vertical_offset=0.0))
    assert causes_by_name(plane)["level"].sensitivity == 0.0


def test_gravity_acts_on_masses_alone() -> None:
    """A reading in newtons does not mind; one in kilograms, and a hung mass, act with their moment over g."""
    stated = StatedUncertainty(gravity=Stated(0.01, "m/s^2", "standard"))
    in_newtons = replace(SUPPORT, readings=(20.0,), tare=0.0, reading_unit="N")
    weighing = weighing_of(SUPPORT, in_newtons, hung=(HungMass(0.5, 0.2),), uncertainty=stated)
    assert causes_by_name(weighing)["local gravity"].sensitivity == pytest.approx(1.0 + 0.1, rel=1e-14)


def test_hung_masses_and_parts() -> None:
    """Hung 0.5 kg at 0.2 m forward: +1.96 N m a kilogram, +4.9 N a metre; a part not fitted aft: the same signs."""
    stated = StatedUncertainty(mass_uncertainty=Stated(0.001, "kg", "standard"), arm=Stated(0.002, "m", "standard"))
    hung = weighing_of(hung=(HungMass(0.5, 0.2),), uncertainty=stated)
    causes = causes_by_name(hung)
    assert causes["mass of hung mass"].sensitivity == pytest.approx(1.96, rel=1e-14)
    assert causes["arm of hung mass"].sensitivity == pytest.approx(4.9, rel=1e-14)
    parts = (Part("tab", "not fitted", 0.5, 0.2), Part("rig", "fitted, not counted", 0.5, 0.2))
    causes = causes_by_name(replace(hung, parts=parts))
    assert causes["mass of tab"].sensitivity == pytest.approx(1.96, rel=1e-14)
    assert causes["arm of rig"].sensitivity == pytest.approx(-4.9, rel=1e-14)
    own = replace(parts[0], mass_uncertainty=Stated(0.1, "1", "standard"))
    assert causes_by_name(replace(hung, parts=(own,)))["mass of tab"].standard_uncertainty == pytest.approx(0.05)


def test_what_was_stated_as_a_mass_is_turned_into_a_force() -> None:
    """10 g at 9.8 m/s² are 0.098 N; 0.098 N are 10 g again; a fraction stays one."""
    in_newtons = replace(SUPPORT, reading_unit="N")
    force = in_reading_unit(Stated(0.01, "kg"), in_newtons, 9.8)
    assert force == Stated(pytest.approx(0.098), "N")  # type: ignore[arg-type]
    assert in_reading_unit(force, SUPPORT, 9.8) == Stated(pytest.approx(0.01), "kg")  # type: ignore[arg-type]
    assert in_reading_unit(Stated(0.01, "1"), in_newtons, 9.8) == Stated(0.01, "1")
    assert in_reading_unit(None, in_newtons, 9.8) is None


def test_several_hung_masses_are_told_apart_by_their_numbers() -> None:
    """Alone it is the hung mass; of two each has its number, from one."""
    hung = HungMass(0.1, 0.2, mass_uncertainty=Stated(0.001, "kg"))
    once = Support(0.5, readings=(1.0,))
    assert list(causes_by_name(weighing_of(once, hung=(hung,)))) == ["mass of hung mass"]
    assert list(causes_by_name(weighing_of(once, hung=(hung, hung)))) == ["mass of hung mass 1", "mass of hung mass 2"]
