"""The arm worked out a second time by other means: finite elements, draws, a crack grown cycle by cycle."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.linalg import eigh

from hingeline.arm import ArmTask, ArmWeight, Crack, Loss, Material, Oscillation, Root, Tube, examine, vibration
from hingeline.arm.growth import closed_form_cycles, integrated_cycles
from hingeline.arm.worked import own_frequency, work_out
from hingeline.uncertainty import Normal, monte_carlo
from hingeline.uncertainty.stated import Stated

STEEL = Material(200e9, 7833.0, 517.1e6, 655e6)
ARM = ArmTask(STEEL, Root(0.260), ArmWeight(1.4), Tube(19.05e-3, 0.889e-3))


def by_elements(beam: vibration.Beam, count: int = 16) -> float:
    """Give the first frequency of beam elements with consistent mass, a spring at the root and a body at the end."""
    size = beam.length / count
    stiff = beam.stiffness / size**3 * np.array(
        [[12, 6 * size, -12, 6 * size], [6 * size, 4 * size**2, -6 * size, 2 * size**2],
         [-12, -6 * size, 12, -6 * size], [6 * size, 2 * size**2, -6 * size, 4 * size**2]]
    )  # fmt: skip
    heavy = beam.mass / count / 420.0 * np.array(
        [[156, 22 * size, 54, -13 * size], [22 * size, 4 * size**2, 13 * size, -3 * size**2],
         [54, 13 * size, 156, -22 * size], [-13 * size, -3 * size**2, -22 * size, 4 * size**2]]
    )  # fmt: skip
    freedoms = 2 * (count + 1)
    stiffness, mass = np.zeros((freedoms, freedoms)), np.zeros((freedoms, freedoms))
    for at in range(count):
        here = slice(2 * at, 2 * at + 4)
        stiffness[here, here] += stiff
        mass[here, here] += heavy
    offset = beam.beyond_tip
    mass[-2:, -2:] += np.array(
        [[beam.weight, beam.weight * offset], [beam.weight * offset, beam.inertia + beam.weight * offset**2]]
    )
    first = 2 if not beam.root_flexibility else 1
    if beam.root_flexibility:
        stiffness[1, 1] += 1.0 / beam.root_flexibility
    squares = eigh(stiffness[first:, first:], mass[first:, first:], eigvals_only=True)
    return math.sqrt(squares[0]) / (2.0 * math.pi)


@pytest.mark.parametrize("offset", [0.0, 0.03])
@pytest.mark.parametrize("inertia", [0.0, 4e-4])
@pytest.mark.parametrize("soft", [0.0, 1.0 / 4000.0, 1.0 / 300.0])
@pytest.mark.parametrize("weight", [0.02, 0.3, 3.0])
def test_the_exact_frequency_is_that_of_finite_elements(
    offset: float, inertia: float, soft: float, weight: float
) -> None:
    """Sixteen elements lie above the exact root by no more than one in a million.

    Below it only by what the eigenvalue routine leaves: the stiffness spans nine powers of ten.
    """
    beam = replace(work_out(ARM).beam, weight=weight, beyond_tip=offset, inertia=inertia, root_flexibility=soft)
    elements, exact = by_elements(beam), vibration.exact_frequency(beam)
    assert exact * (1.0 - 2e-8) <= elements <= exact * (1.0 + 1e-6)


def test_stress_and_frequency_scatter_as_the_draws_do() -> None:
    """Two hundred thousand draws of wall, loss, length and mass give the u that was carried, to one per cent."""
    stated = {"wall": (0.889e-3, 1.5e-5), "depth": (0.15e-3, 1e-5), "length": (0.260, 5e-4), "mass": (1.4, 2e-3)}
    u = {name: Stated(size, "kg" if name == "mass" else "m", "standard") for name, (_, size) in stated.items()}
    task = replace(
        ARM,
        tube=Tube(19.05e-3, 0.889e-3, wall_uncertainty=u["wall"]),
        loss=Loss("outside", 0.15e-3, u["depth"]),
        root=Root(0.260, u["length"]),
        weight=ArmWeight(1.4, u["mass"]),
    )
    result = examine(task)
    inputs = [Normal(mean, size) for mean, size in stated.values()]

    def section(wall, depth):
        outer, inner = 9.525e-3 - depth, 9.525e-3 - wall
        return np.pi * (outer**2 - inner**2), np.pi * (outer**4 - inner**4) / 4.0, outer

    def stress(wall, depth, length, mass):
        area, second, outer = section(wall, depth)
        return 24.0 * 9.80665 * (mass * length + 7833.0 * area * length**2 / 2.0) * outer / second

    def frequency(wall, depth, length, mass):
        area, second, _ = section(wall, depth)
        return np.sqrt(3.0 * 200e9 * second / length**3 / (mass + 33.0 / 140.0 * 7833.0 * area * length)) / (2 * np.pi)

    for model, found in ((stress, result.loads[0].stress), (frequency, result.natural_frequency)):
        drawn = monte_carlo(model, inputs, draws=200_000, seed=11)
        assert drawn.mean == pytest.approx(found.value, rel=2e-3)
        assert found.standard_uncertainty == pytest.approx(drawn.standard_uncertainty, rel=1e-2)


def test_a_crack_grown_cycle_by_cycle_takes_as_long() -> None:
    """Thousands of cycles added one by one: the closed form is met to one step."""
    crack = Crack("constant", 300e6, 50e6, 4.2e-11, 3.0, 1.0, geometry_factor=1.12, initial=1e-3, largest_stress=300e6)
    found = examine(replace(ARM, crack=crack)).crack
    assert found is not None
    size, cycles = 1e-3, 0
    while size < found.final_size:
        size += 4.2e-11 * (1.12 * 300.0 * math.sqrt(math.pi * size)) ** 3.0
        cycles += 1
    assert cycles == pytest.approx(found.cycles, rel=2e-3)


def test_at_its_own_frequency_without_damping_there_is_no_apparent_mass() -> None:
    """Null and a note, not an infinity; with a little damping there is one, and it is large."""
    own = own_frequency(work_out(ARM))
    found = examine(replace(ARM, oscillation=Oscillation(own)))
    assert found.effectiveness is None
    assert any("no finite size" in note for note in found.notes)
    damped = examine(replace(ARM, oscillation=Oscillation(own, 0.01))).effectiveness
    assert damped is not None
    assert damped.magnitude == pytest.approx(50.0, rel=1e-3)


def test_a_swing_at_the_limit_amplitude_makes_the_limit_stress() -> None:
    """Swung by the amplitude that is said to reach the limit load, the stress is the normal case's."""
    swung = examine(replace(ARM, oscillation=Oscillation(9.0, 0.01, math.radians(4.0))))
    assert swung.oscillation is not None
    limit = swung.oscillation.amplitude_for_limit
    again = examine(replace(ARM, oscillation=Oscillation(9.0, 0.01, limit)))
    assert again.oscillation is not None
    assert again.oscillation.stress == pytest.approx(again.loads[0].stress.value)


@pytest.mark.parametrize("beside", [0.0, 5e-10, 1e-8, 9e-7, 1e-5])
def test_beside_an_exponent_of_two_the_closed_form_is_the_integral(beside: float) -> None:
    """By the logarithm at two and by powers beside it: within the millionth that both ways must agree to."""
    exponent = 2.0 + beside
    closed = closed_form_cycles(1e-3, 5e-3, constant=7e-12, exponent=exponent, factor=1.0, stress_range=100e6)
    summed = integrated_cycles(lambda size: 7e-12 * (100.0 * math.sqrt(math.pi * size)) ** exponent, 1e-3, 5e-3)

    assert closed == pytest.approx(summed, rel=5e-7)
