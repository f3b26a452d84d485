"""A wing with aileron: distributions, weights, a locked aileron, and its bare frequencies in closed form."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hingeline.flutter.assembling import assemble
from hingeline.flutter.beam_shapes import bending_shapes, torsion_shapes
from hingeline.flutter.model import Aileron, AileronWeight, Wing
from hingeline.flutter.natural import natural_modes
from hingeline.flutter.wing import static_moment_along, wing_air, wing_frame

AILERON = Aileron(
    from_root=4.5, to=6.0, hinge_line=0.5, mass=8.0, static_moment=1.2, inertia=0.26, product_of_inertia=6.35
)
WING = Wing(
    length=6.0,
    semichord=0.9,
    elastic_axis=-0.34,
    mass=33.0,
    static_offset=0.18,
    inertia=7.8,
    bending_stiffness=9.6e6,
    torsion_stiffness=1.0e6,
    aileron=AILERON,
)


def test_without_offset_the_frequencies_are_the_beams_own() -> None:
    """(β L)² √(EI/m)/L² and γ √(GJ/I)/L over 2 π: closed forms of the uniform cantilever."""
    bare = replace(WING, aileron=None, static_offset=0.0, bending_modes=2, torsion_modes=2)
    frame = wing_frame(bare)
    bending = np.array([1.8751040687, 4.6940911330]) ** 2 * np.sqrt(9.6e6 / 33.0) / 36.0
    torsion = np.array([0.5, 1.5]) * np.pi * np.sqrt(1.0e6 / 7.8) / 6.0

    np.testing.assert_allclose(
        natural_modes(frame.mass, frame.stiffness).frequencies, np.sort([*bending, *torsion]) / (2 * np.pi), rtol=1e-9
    )


@pytest.mark.parametrize("product", [None, 6.35, 5.0])
def test_the_static_moment_along_the_span_adds_up(product: float | None) -> None:
    """∫ s dy is S and ∫ s y dy is K; without K it is even, and K is S times the middle."""
    aileron = replace(AILERON, product_of_inertia=product)
    nodes, weights = np.polynomial.legendre.leggauss(4)
    places, share = 5.25 + 0.75 * nodes, 0.75 * weights
    along = static_moment_along(aileron, places)

    assert share @ along == pytest.approx(1.2)
    assert share @ (along * places) == pytest.approx(1.2 * 5.25 if product is None else product)
    if product is None:
        np.testing.assert_allclose(along, 0.8)


def test_a_wing_with_aileron_has_the_mass_matrix_of_many_points() -> None:
    """Points on wing and aileron, each m v vᵀ with v = [φ, x_a ψ, x_c], add up to it, weights and all."""
    weights = (AileronWeight(4.8, 0.25, 4.6), AileronWeight(0.5, 0.1, 5.9))
    frame = wing_frame(replace(WING, aileron=replace(AILERON, weights=weights)))
    total = np.zeros((9, 9))
    nodes, shares = np.polynomial.legendre.leggauss(60)
    for start, end in ((0.0, 4.5), (4.5, 6.0)):
        for y, share in zip((start + end) / 2 + (end - start) / 2 * nodes, (end - start) / 2 * shares, strict=True):
            total += points(share * 33.0, 0.18 * 0.9, share * 7.8, y, hinge=None)
            if start:
                s = float(static_moment_along(AILERON, np.array([y]))[0])
                total += points(share * 8.0 / 1.5, s / (8.0 / 1.5), share * 0.26 / 1.5, y, hinge=0.9 * 0.84)
    for weight in weights:
        total += points(weight.mass, -weight.arm, weight.mass * weight.arm**2, weight.spanwise, hinge=0.9 * 0.84)

    np.testing.assert_allclose(frame.mass, total, rtol=1e-9, atol=1e-9)


def points(mass: float, lever: float, inertia: float, y: float, hinge: float | None) -> np.ndarray:
    """Give two points of this mass, centre and inertia about the axis (or the hinge) at one place."""
    spread = np.sqrt(max(inertia / mass - lever**2, 0.0)) if mass else 0.0
    total = np.zeros((9, 9))
    for x in (lever - spread, lever + spread):
        v = np.zeros(9)
        v[:4] = bending_shapes(4, np.array([y / 6.0]))[0]
        v[4:8] = (x if hinge is None else hinge + x) * torsion_shapes(4, np.array([y / 6.0]))[0]
        v[8] = 0.0 if hinge is None else x
        total += mass / 2 * np.outer(v, v)
    return total


def test_a_locked_aileron_is_mass_only() -> None:
    """Locked, the matrices are those of the free one without its freedom."""
    weights = (AileronWeight(4.8, 0.25, 5.95),)
    free, locked = (
        wing_frame(replace(WING, aileron=replace(AILERON, weights=weights, locked=lock))) for lock in (False, True)
    )

    assert locked.freedoms == free.freedoms[:-1]
    assert free.freedoms[-1] == "aileron"
    np.testing.assert_allclose(locked.mass, free.mass[:-1, :-1], rtol=1e-12)


def test_the_product_of_inertia_tells_weights_of_equal_static_moment_apart() -> None:
    """The same weight further outboard drives bending less: its coupling with the aileron is -m l φ(y) there."""
    couplings = []
    for spanwise in (4.6, 5.25, 5.95):
        weight = AileronWeight(4.8, 0.25, spanwise)
        frame = wing_frame(replace(WING, aileron=replace(AILERON, weights=(weight,))))
        couplings.append(frame.mass[0, -1])

    assert couplings[0] > couplings[1] > couplings[2]


def test_a_uniform_wing_with_an_aileron_all_along_has_the_air_of_one_strip_in_each_shape() -> None:
    """The apparent mass in bending is π ρ b² L/4 by the shapes' own integral; one wake for one chord."""
    whole = replace(WING, aileron=replace(AILERON, from_root=0.0, to=6.0))
    system = assemble(wing_frame(whole), wing_air(whole, 1.225))

    np.testing.assert_allclose(np.diag(system.apparent_mass)[:4], np.pi * 1.225 * 0.81 * 6.0 / 4, rtol=1e-10)
    assert [group.semichord for group in system.wakes] == [0.9]


def test_more_strips_and_shapes_do_not_move_the_lowest_frequencies() -> None:
    """Eight shapes of each instead of four move the lowest two natural frequencies by less than 1 in 1000."""
    few = wing_frame(WING)
    many = wing_frame(replace(WING, bending_modes=8, torsion_modes=8))
    found = [natural_modes(frame.mass, frame.stiffness).frequencies[1:3] for frame in (few, many)]

    np.testing.assert_allclose(found[0], found[1], rtol=1e-3)
