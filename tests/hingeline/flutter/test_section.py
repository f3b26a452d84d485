"""A strip: its masses are those of points, its tab follows its gear, what is left out is held."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hingeline.flutter.model import Section
from hingeline.flutter.natural import natural_modes
from hingeline.flutter.section import section_air, section_frame, section_mass
from hingeline.flutter.strip_air import strip_forces

B, A, C, D = 0.38, -0.3, 0.3, 0.75
STRIP = Section(
    freedoms=("plunge", "pitch", "surface", "tab"),
    semichord=B,
    elastic_axis=A,
    hinge_line=C,
    tab_hinge_line=D,
    mass=9.0,
    pitch_static_moment=0.25,
    pitch_inertia=0.4,
    surface_static_moment=0.02,
    surface_inertia=0.035,
    tab_static_moment=0.006,
    tab_inertia=0.00045,
    plunge_stiffness=22739.6,
    pitch_stiffness=19344.4,
    surface_stiffness=22.1,
    tab_stiffness=16.0,
    tab_gear=-0.5,
)


@pytest.mark.parametrize("seed", range(10))
def test_the_mass_matrix_is_that_of_points(seed: int) -> None:
    """Σ m v vᵀ of points on surface, control and tab is the matrix made of their moments and inertias."""
    generator = np.random.default_rng(seed)
    total, moments = np.zeros((4, 4)), dict.fromkeys(("pitch", "surface", "tab"), np.zeros(2))
    mass = 0.0
    for low, moving in ((-1.0, 1), (C, 2), (D, 3)):
        for _ in range(6):
            m, x = generator.uniform(0.1, 1.0), generator.uniform(low, 1.0) * B
            levers = np.array([1.0, x - A * B, x - C * B, x - D * B])
            v = np.where(np.arange(4) <= moving, levers, 0.0)
            total += m * np.outer(v, v)
            mass += m
            for index, name in enumerate(("pitch", "surface", "tab"), start=1):
                if index <= moving:
                    moments[name] = moments[name] + [m * levers[index], m * levers[index] ** 2]
    given = {
        f"{name}_{kind}": moments[name][i] for name in moments for i, kind in enumerate(("static_moment", "inertia"))
    }

    np.testing.assert_allclose(section_mass(replace(STRIP, mass=mass, **given)), total, rtol=1e-12)


def test_each_freedom_keeps_its_place_whatever_the_order() -> None:
    """Freedoms named in another order give the same matrices, in that order."""
    order = ("surface", "plunge", "tab", "pitch")
    plain, turned = section_frame(STRIP), section_frame(replace(STRIP, freedoms=order))
    places = [plain.freedoms.index(name) for name in order]

    assert turned.freedoms == order
    np.testing.assert_array_equal(turned.mass, plain.mass[np.ix_(places, places)])
    np.testing.assert_array_equal(turned.stiffness, plain.stiffness[np.ix_(places, places)])
    air, other = section_air(STRIP, 1.2)[0], section_air(replace(STRIP, freedoms=order), 1.2)[0]
    np.testing.assert_array_equal(other.motion[0], air.motion[0][:, places])


def test_a_tab_spring_stores_half_its_stiffness_times_its_stretch_squared() -> None:
    """The energy qᵀ K q/2 is k (δ - G β)²/2 beside the other springs'."""
    frame = section_frame(STRIP)
    beta, delta = 0.03, -0.02
    motion = np.array([0.001, 0.01, beta, delta])
    expected = 22739.6 * 1e-6 + 19344.4 * 1e-4 + 22.1 * beta**2 + 16.0 * (delta + 0.5 * beta) ** 2

    assert motion @ frame.stiffness @ motion == pytest.approx(expected, rel=1e-12)


def test_a_rigid_gear_is_the_limit_of_a_stiff_spring() -> None:
    """With a tab spring of 1e9 N the lowest three natural frequencies are those of the rigid gear."""
    stiff = section_frame(replace(STRIP, tab_stiffness=1e9, tab_gear=-0.8))
    rigid = section_frame(
        replace(STRIP, freedoms=STRIP.freedoms[:3], tab_stiffness=0.0, tab_gear=0.0, tab_rigid_gear=-0.8)
    )
    found = [natural_modes(frame.mass, frame.stiffness).frequencies[:3] for frame in (stiff, rigid)]

    np.testing.assert_allclose(found[0], found[1], rtol=1e-6)


def test_a_rigid_gear_moves_the_tab_in_the_air_too() -> None:
    """The air sees a control column that is the control's plus the gear times the tab's."""
    free = section_air(STRIP, 1.2)[0]
    geared = section_air(replace(STRIP, freedoms=STRIP.freedoms[:3], tab_rigid_gear=0.7), 1.2)[0]

    np.testing.assert_array_equal(geared.air.air_stiffness, free.air.air_stiffness)
    np.testing.assert_array_equal(geared.motion[0][:, 2], [0.0, 0.0, 1.0, 0.7])


def test_a_locked_tab_changes_nothing_but_its_own_freedom() -> None:
    """Without the tab among the freedoms its numbers are not asked for: they are in the surface's own."""
    locked = replace(STRIP, freedoms=("plunge", "pitch", "surface"), tab_hinge_line=None)
    air = section_air(locked, 1.2)[0].air

    np.testing.assert_allclose(section_frame(locked).mass, section_frame(STRIP).mass[:3, :3], rtol=1e-12)
    np.testing.assert_array_equal(air.apparent_mass, strip_forces(B, A, C, 1.2).apparent_mass)


def test_what_only_plunges_counts_in_plunge_alone() -> None:
    """A plunging mass above the mass is in one entry of the matrix."""
    more = section_mass(replace(STRIP, plunging_mass=20.0)) - section_mass(STRIP)

    assert more[0, 0] == pytest.approx(11.0)
    assert np.count_nonzero(more) == 1
