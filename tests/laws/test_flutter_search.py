"""Laws of the search for flutter, on random strips: nothing missed, nothing invented, no unit preferred."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hingeline.flutter.build import build_system, frame_of
from hingeline.flutter.model import Air, FlutterTask, Section
from hingeline.flutter.neutral_points import find_neutral_points
from hingeline.flutter.solve import search
from hingeline.flutter.system import AeroelasticSystem, scaled
from hingeline.flutter.wake import theodorsen, two_lag
from tests.hingeline.flutter.test_neutral_points import state_space_roots

RANGE = (1.0, 150.0)


def random_task(seed: int) -> FlutterTask:
    """Draw a strip wide of anything usual: a fifth with a free surface, g equal, unequal or zero, viscous or not."""
    draw = np.random.default_rng(seed)
    while True:
        section = random_section(draw)
        if np.linalg.eigvalsh(frame_of(section).mass).min() > 0:
            break
    damping = (float(draw.choice([0.0, 0.01, 0.03])), 0.02, 0.005)
    return FlutterTask(
        Air(density=1.225), RANGE, section=section,
        structural_damping=damping if draw.random() < 0.3 else damping[:1],
        damping_ratios=(0.01, 0.02, 0.005) if draw.random() < 0.3 else (),
    )  # fmt: skip


def random_section(draw: np.random.Generator) -> Section:
    """Draw a strip; its mass matrix may be impossible."""
    semichord, axis = draw.uniform(0.1, 1.0), draw.uniform(-0.6, 0.3)
    mass = float(np.exp(draw.uniform(2.0, 5.0))) * semichord**2
    inertia, control = mass * (draw.uniform(0.3, 0.6) * semichord) ** 2, mass * draw.uniform(0.03, 0.2)
    radius = draw.uniform(0.08, 0.25) * semichord
    stiffness = control * radius**2 * (2 * np.pi * draw.uniform(0, 40)) ** 2
    return Section(
        ("plunge", "pitch", "surface"), semichord, axis, mass, hinge_line=draw.uniform(max(axis + 0.1, 0.0), 0.85),
        pitch_static_moment=mass * draw.uniform(-0.1, 0.4) * semichord, pitch_inertia=inertia,
        surface_static_moment=control * draw.uniform(-0.1, 0.9) * radius, surface_inertia=control * radius**2,
        plunge_stiffness=mass * (2 * np.pi * draw.uniform(1, 15)) ** 2,
        pitch_stiffness=inertia * (2 * np.pi * draw.uniform(2, 40)) ** 2,
        surface_stiffness=stiffness if draw.random() > 0.2 else 0.0,
    )  # fmt: skip


@pytest.mark.parametrize("seed", range(30))
def test_search_and_count_agree_on_random_strips(seed: int) -> None:
    """Every neutral point of a random strip is confirmed by two other ways, and the count of growing roots adds up."""
    found = search(random_task(seed))
    assert len(found.growth.counts) >= 11


@pytest.mark.parametrize("seed", range(100, 120))
def test_two_lag_crossings_are_those_of_a_state_space_walked_through(seed: int) -> None:
    """With two lags every change of the number of growing eigenvalues along 1,500 speeds has its neutral point."""
    system = build_system(replace(random_task(seed), wake="two-lag", structural_damping=(0.0,)))
    points = find_neutral_points(system, RANGE, two_lag)
    speeds = np.geomspace(*RANGE, 1500)
    counts = [growing(system, float(speed)) for speed in speeds]
    for index in np.flatnonzero(np.diff(counts)):
        between = speeds[index] * (1 - 1e-9), speeds[index + 1] * (1 + 1e-9)
        inside = [point for point in points if between[0] <= point.speed <= between[1]]
        change = sum(1 if point.direction == "into" else -1 for point in inside)
        assert change == counts[index + 1] - counts[index] or real_roots_meet(system, between)


def growing(system: AeroelasticSystem, speed: float) -> int:
    """Count eigenvalues that swing and grow."""
    roots = state_space_roots(system, speed)
    return int(np.sum((roots.real > 1e-9 * np.abs(roots)) & (roots.imag > 1e-3 * np.abs(roots))))


def real_roots_meet(system: AeroelasticSystem, between: tuple[float, float]) -> bool:
    """Say whether a pair became real, or stopped being so: that is no neutral point."""
    numbers = [int(np.sum(np.abs(roots.imag) <= 1e-3 * np.abs(roots)))
               for roots in (state_space_roots(system, speed) for speed in between)]  # fmt: skip
    return numbers[0] != numbers[1]


@pytest.mark.parametrize("seed", range(200, 210))
def test_the_units_of_the_freedoms_do_not_matter(seed: int) -> None:
    """Angles in degrees and plunge in inches leave every neutral point where it was, to 1e-9."""
    system = build_system(random_task(seed))
    other = in_units(system, np.array([0.0254, np.pi / 180, np.pi / 180]))
    first, second = (find_neutral_points(one, RANGE, theodorsen) for one in (system, other))
    assert [point.direction for point in first] == [point.direction for point in second]
    for one, same in zip(first, second, strict=True):
        assert (one.speed, one.angular_frequency) == pytest.approx((same.speed, same.angular_frequency), rel=1e-9)


def in_units(system: AeroelasticSystem, unit: np.ndarray[tuple[int], np.dtype[np.float64]]) -> AeroelasticSystem:
    """Give the same system with its freedoms in other units."""
    both = np.outer(unit, unit)
    names = ("mass", "damping", "stiffness", "apparent_mass", "air_damping", "air_stiffness")
    wakes = tuple(replace(one, damping=one.damping * both, stiffness=one.stiffness * both) for one in system.wakes)
    return replace(system, wakes=wakes, **{name: getattr(system, name) * both for name in names})


def test_scaling_makes_every_mass_one() -> None:
    """The scaled system has unit masses, air included, whatever the units were."""
    plain, _ = scaled(in_units(build_system(random_task(1)), np.array([1e3, 1e-6, 7.0])))
    assert np.diag(plain.mass + plain.apparent_mass) == pytest.approx(np.ones(3), rel=1e-14)


@pytest.mark.parametrize("seed", range(300, 306))
def test_a_narrower_range_finds_the_same_points(seed: int) -> None:
    """Searching two halves of a range finds together what the whole one finds."""
    system = build_system(random_task(seed))
    whole = find_neutral_points(system, RANGE, theodorsen)
    halves = [
        *find_neutral_points(system, (1.0, 40.0), theodorsen),
        *find_neutral_points(system, (40.0, 150.0), theodorsen),
    ]
    assert [point.speed for point in halves] == pytest.approx([point.speed for point in whole], rel=1e-9)
