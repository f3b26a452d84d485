"""How the onset moves with each input: against solving again, and by identities that must hold exactly."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from hingeline.flutter.build import build_system
from hingeline.flutter.dotted import with_value
from hingeline.flutter.model import FlutterTask, Tailplane, TailplaneWeight
from hingeline.flutter.neutral_points import NeutralPoint, find_neutral_points
from hingeline.flutter.sensitivity import sensitivities
from hingeline.flutter.wake import wake_named
from tests.hingeline.flutter.models import RIG, STRIP, task

MODELS = {
    "rig": task(RIG),
    "strip": task(STRIP, (2.0, 100.0), structural_damping=(0.01,)),
    "strip with viscous damping": task(STRIP, (2.0, 100.0), damping_ratios=(0.01, 0.02, 0.03), wake="two-lag"),
}
MASSES = ("plunging_mass", "pitch_static_moment", "surface_static_moment", "pitch_inertia", "surface_inertia")
STIFFNESSES = ("plunge_stiffness", "pitch_stiffness", "surface_stiffness")


def onset(model: FlutterTask) -> NeutralPoint:
    """Find the lowest point into growth."""
    points = find_neutral_points(build_system(model), (model.speeds[0], model.speeds[1]), wake_named(model.wake))
    return next(point for point in points if point.direction == "into")


def elasticities(model: FlutterTask) -> Mapping[str, float]:
    """Elasticity by the field's short name."""
    found = sensitivities(model, onset(model))
    return {one.field.removeprefix("section."): one.elasticity for one in found}


@pytest.mark.slow
@pytest.mark.parametrize("name", MODELS)
def test_derivatives_are_those_of_solving_again(name: str) -> None:
    """dU/dfield equals the fourth-order difference of the onset solved anew, to 1e-5 of U/field."""
    model = MODELS[name]
    checked = 0
    for one in sensitivities(model, onset(model)):
        value = one.elasticity * onset(model).speed / one.derivative if one.derivative else 0.0
        if value == 0:
            continue
        step = 1e-3 * value
        speeds = [onset(with_value(model, one.field, value + place * step)).speed for place in (-2, -1, 1, 2)]
        again = (speeds[0] - 8 * speeds[1] + 8 * speeds[2] - speeds[3]) / (12 * step)
        assert one.derivative == pytest.approx(again, abs=1e-5 * onset(model).speed / abs(value)), one.field
        checked += 1
    assert checked >= 12


@pytest.mark.parametrize("name", MODELS)
def test_scaling_all_masses_stiffnesses_and_the_density_changes_nothing(name: str) -> None:
    """All masses, moments, inertias, stiffnesses and density together: the sum of elasticities is 0 to 1e-8."""
    found = elasticities(MODELS[name])
    together = (*MASSES, *STIFFNESSES, "air.density")
    assert sum(found[field] for field in together) == pytest.approx(0.0, abs=1e-8)
    assert max(abs(found[field]) for field in together) > 0.1


@pytest.mark.parametrize("name", ["rig", "strip"])
def test_stiffnesses_together_count_one_half(name: str) -> None:
    """All three stiffnesses together: speed goes with the root, the sum is 1/2 to 1e-8."""
    found = elasticities(MODELS[name])
    assert sum(found[field] for field in STIFFNESSES) == pytest.approx(0.5, abs=1e-8)


@pytest.mark.parametrize("name", ["rig", "strip"])
def test_lengths_scale_with_the_speed(name: str) -> None:
    """A model larger by one factor: b + static moments + 2 (inertias + K_α + K_β - density) sum to 1 to 1e-8."""
    found = elasticities(MODELS[name])
    moments = found["semichord"] + found["pitch_static_moment"] + found["surface_static_moment"]
    twice = found["pitch_inertia"] + found["surface_inertia"] + found["pitch_stiffness"] + found["surface_stiffness"]
    assert moments + 2 * (twice - found["air.density"]) == pytest.approx(1.0, abs=1e-8)


def test_the_scaled_model_itself_flutters_at_the_scaled_speed() -> None:
    """Masses, stiffnesses and density times 3.7 leave speed and frequency; stiffnesses times 4 double both."""
    heavy = replace(RIG, mass=RIG.mass * 3.7, **{name: getattr(RIG, name) * 3.7 for name in (*MASSES, *STIFFNESSES)})
    stiff = replace(RIG, **{name: getattr(RIG, name) * 4 for name in STIFFNESSES})
    plain = onset(task(RIG))
    same = onset(replace(task(heavy), air=replace(task(RIG).air, density=1.225 * 3.7)))
    faster = onset(task(stiff, (0.5, 80.0)))
    assert (same.speed, same.angular_frequency) == pytest.approx((plain.speed, plain.angular_frequency), rel=1e-11)
    assert faster.speed == pytest.approx(2 * plain.speed, rel=1e-11)
    assert faster.angular_frequency == pytest.approx(2 * plain.angular_frequency, rel=1e-11)


def test_what_is_not_in_the_model_moves_nothing() -> None:
    """The section's mass counts for nothing where a plunging mass is given, and the tab's numbers without a tab."""
    found = elasticities(MODELS["rig"])
    assert found["mass"] == 0.0
    assert found["tab_inertia"] == 0.0


def test_a_weights_arm_is_a_number_too() -> None:
    """For a tailplane with a flexible weight the derivative by its mass and arm are those of solving again."""
    weight = TailplaneWeight(1.0, 0.36, arm_frequency=9.0)
    tail = Tailplane(2.9, 0.74, 0.25, 0.42, 10.5, 0.62, 25.0, 8.0, circuit_stiffness=3200.0, weights=(weight,))
    model = replace(task(RIG, (2.0, 320.0)), section=None, tailplane=tail)
    found = {one.field: one.derivative for one in sensitivities(model, onset(model))}
    for field, value in (("tailplane.weight[0].mass", 1.0), ("tailplane.weight[0].arm", 0.36)):
        step = 1e-4 * value
        before, after = (onset(with_value(model, field, value + side * step)).speed for side in (-1, 1))
        assert found[field] == pytest.approx((after - before) / (2 * step), rel=1e-5)
