"""Structure and air together: virtual work, what a wake model leaves, scaling that holds exactly."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hingeline.flutter.assembling import Stations, assemble, integrated
from hingeline.flutter.build import build_system, density_of, modes_in_vacuo
from hingeline.flutter.model import Air, FlutterTask, Section, Tailplane, TailplaneWeight
from hingeline.flutter.section import section_air, section_frame
from hingeline.flutter.strip_air import strip_forces
from hingeline.flutter.system import AeroelasticSystem, dynamic_matrix
from hingeline.flutter.wake import theodorsen

STRIP = Section(
    freedoms=("plunge", "pitch", "surface"),
    semichord=0.3,
    elastic_axis=-0.4,
    hinge_line=0.5,
    mass=12.0,
    plunging_mass=16.0,
    pitch_static_moment=0.55,
    surface_static_moment=0.03,
    pitch_inertia=0.33,
    surface_inertia=0.0085,
    plunge_stiffness=12791.5,
    pitch_stiffness=1302.8,
    surface_stiffness=162.4,
)
TASK = FlutterTask(Air(density=1.225), (2.0, 100.0), section=STRIP)
P, U = -1.0 + 41.0j, 63.0


def matrix(task: FlutterTask, p: complex = P, speed: float = U) -> np.ndarray:
    """Give A(p, U) of a task."""
    return dynamic_matrix(build_system(task), p, speed, theodorsen)


def strip_with(factor: dict[str, float], **others: float) -> FlutterTask:
    """Give the strip with some of its numbers multiplied, others set."""
    return replace(
        TASK, section=replace(STRIP, **{name: getattr(STRIP, name) * by for name, by in factor.items()}, **others)
    )


# ------------------------------------------------------------------------------------------ scaling

MASSES = ("mass", "plunging_mass")
MOMENTS = ("pitch_static_moment", "surface_static_moment")
INERTIAS = ("pitch_inertia", "surface_inertia")
SPRINGS = ("plunge_stiffness", "pitch_stiffness", "surface_stiffness")


def test_all_masses_springs_and_air_together_only_scale_the_matrix() -> None:
    """Everything three times heavier, stiffer and denser: A is three times as large, every speed stays."""
    heavier = strip_with(dict.fromkeys((*MASSES, *MOMENTS, *INERTIAS, *SPRINGS), 3.0))

    np.testing.assert_allclose(matrix(replace(heavier, air=Air(density=3 * 1.225))), 3 * matrix(TASK), rtol=1e-12)


def test_four_times_the_stiffness_is_twice_the_speed() -> None:
    """A(2 p, 2 U) with all springs four times as stiff is 4 A(p, U)."""
    stiffer = strip_with(dict.fromkeys(SPRINGS, 4.0))

    np.testing.assert_allclose(matrix(stiffer, 2 * P, 2 * U), 4 * matrix(TASK), rtol=1e-12)


def test_a_larger_section_has_the_speed_in_proportion() -> None:
    """Chord x 2, S x 2, I x 4, K_α and K_β x 4, density/4: A(p, 2 U) in the units of the larger chord is A(p, U)."""
    factor = {"semichord": 2.0, **dict.fromkeys(MOMENTS, 2.0), **dict.fromkeys(INERTIAS, 4.0)}
    larger = strip_with({**factor, "pitch_stiffness": 4.0, "surface_stiffness": 4.0})
    unit = np.array([1.0, 2.0, 2.0])

    scaled = matrix(replace(larger, air=Air(density=1.225 / 4)), P, 2 * U)
    np.testing.assert_allclose(scaled / np.outer(unit, unit), matrix(TASK), rtol=1e-12)


# ---------------------------------------------------------------------------------------- assembling


def test_air_forces_do_the_work_of_every_station() -> None:
    """qᵀ Ma q is the sum of each strip's own, stacked or one by one."""
    generator = np.random.default_rng(7)
    chords, axes, hinges = (
        generator.uniform(0.2, 0.5, 5),
        generator.uniform(-0.5, 0.0, 5),
        generator.uniform(0.1, 0.8, 5),
    )
    motion, width = generator.normal(size=(5, 3, 4)), generator.uniform(0.1, 1.0, 5)
    stacked = integrated(strip_forces(chords, axes, hinges, 1.2).apparent_mass, motion, width)
    alone = sum(
        width[i] * motion[i].T @ strip_forces(chords[i], axes[i], hinges[i], 1.2).apparent_mass @ motion[i]
        for i in range(5)
    )

    np.testing.assert_allclose(stacked, alone, rtol=1e-12)


def test_half_the_span_twice_is_the_whole() -> None:
    """Two stations of half a metre are one of a metre, in one wake."""
    (whole,) = section_air(STRIP, 1.225)
    half = Stations(whole.air, whole.semichord, whole.motion, whole.width / 2)
    once, twice = (assemble(section_frame(STRIP), stations) for stations in ([whole], [half, half]))

    same(once, twice)
    assert len(twice.wakes) == 1


def same(one: AeroelasticSystem, other: AeroelasticSystem) -> None:
    """Assert that two systems have the same matrix."""
    matrices = [dynamic_matrix(system, P, U, theodorsen) for system in (one, other)]
    np.testing.assert_allclose(*matrices, rtol=1e-12)


def test_structural_damping_is_one_for_all_or_one_a_freedom() -> None:
    """One number is spread over the freedoms; three stand as given."""
    assert build_system(replace(TASK, structural_damping=(0.02,))).structural_damping.tolist() == [0.02] * 3
    assert build_system(replace(TASK, structural_damping=(0.0, 0.01, 0.03))).structural_damping.tolist() == [
        0.0,
        0.01,
        0.03,
    ]


def test_a_lift_slope_factor_acts_on_the_circulation_alone() -> None:
    """With 0.8 the delayed forces are 0.8 of themselves; apparent mass, Bn and Kn stay."""
    full, less = build_system(TASK), build_system(replace(TASK, lift_slope_factor=0.8))

    np.testing.assert_allclose(less.wakes[0].damping, 0.8 * full.wakes[0].damping, rtol=1e-14)
    np.testing.assert_allclose(less.wakes[0].stiffness, 0.8 * full.wakes[0].stiffness, rtol=1e-14)
    for name in ("apparent_mass", "air_damping", "air_stiffness"):
        np.testing.assert_array_equal(getattr(less, name), getattr(full, name))


def test_steady_air_knows_angles_only() -> None:
    """With a steady wake nothing is left that multiplies p or p²; what multiplies U² stays."""
    full, steady = build_system(TASK), build_system(replace(TASK, wake="steady"))

    for nothing in (steady.apparent_mass, steady.air_damping, steady.wakes[0].damping):
        assert not nothing.any()
    np.testing.assert_array_equal(steady.wakes[0].stiffness, full.wakes[0].stiffness)
    np.testing.assert_array_equal(steady.air_stiffness, full.air_stiffness)
    quasi = build_system(replace(TASK, wake="quasi-steady"))
    np.testing.assert_array_equal(quasi.apparent_mass, full.apparent_mass)


def test_damping_ratios_add_to_the_dampers_of_a_model() -> None:
    """Stated modal damping stands beside the dampers of a tailplane's springs."""
    tail = Tailplane(2.9, 0.74, 0.25, 0.42, 10.5, 0.62, 25.0, 8.0, 3200.0, support_damping_ratio=0.01)
    task = FlutterTask(Air(density=1.225), (2.0, 100.0), tailplane=tail)
    own, both = (build_system(one).damping for one in (task, replace(task, damping_ratios=(0.02, 0.03))))
    stated = build_system(
        replace(task, tailplane=replace(tail, support_damping_ratio=0.0), damping_ratios=(0.02, 0.03))
    ).damping

    assert own[0, 0] > 0
    np.testing.assert_allclose(both, own + stated, rtol=1e-12)


def test_the_air_is_given_by_density_or_by_altitude() -> None:
    """At sea level the standard density is 1.225 kg/m³; at 8000 ft 0.9629 (ICAO Doc 7488, from memory)."""
    assert density_of(Air(altitude=0.0)) == pytest.approx(1.225, abs=5e-5)
    assert density_of(Air(altitude=2438.4)) == pytest.approx(0.9629, abs=5e-5)
    assert density_of(Air(density=0.7)) == 0.7


def test_a_free_surface_has_no_frequency() -> None:
    """With the circuit off, the lowest frequency in vacuo is exactly 0 and the matrix is finite."""
    free = replace(TASK, section=replace(STRIP, surface_stiffness=0.0))

    assert modes_in_vacuo(free).frequencies[0] == 0.0
    assert np.isfinite(matrix(free)).all()


def test_a_weight_on_the_hinge_line_of_a_tailplane_only_adds_mass() -> None:
    """With no arm a weight is in plunge alone: the static moment and the inertia stay."""
    tail = Tailplane(2.9, 0.74, 0.25, 0.42, 10.5, 0.62, 25.0, 8.0, 3200.0)
    task = FlutterTask(Air(density=1.225), (2.0, 100.0), tailplane=tail)
    weighted = replace(task, tailplane=replace(tail, weights=(TailplaneWeight(2.0, 0.0),)))

    difference = build_system(weighted).mass - build_system(task).mass
    np.testing.assert_allclose(difference, [[2.0, 0.0], [0.0, 0.0]], atol=1e-14)
