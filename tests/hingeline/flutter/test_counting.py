"""Growing roots are counted right, and a search that missed something does not get away with it."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from hingeline.errors import RoutesDisagree
from hingeline.flutter.build import build_system
from hingeline.flutter.confirming import confirm, confirm_coalescence
from hingeline.flutter.counting import count_growing, count_inside, largest_root
from hingeline.flutter.growing import prove
from hingeline.flutter.neutral_points import find_neutral_points
from hingeline.flutter.roots import find_roots
from hingeline.flutter.system import AeroelasticSystem, scaled
from hingeline.flutter.wake import theodorsen, two_lag
from tests.hingeline.flutter.models import LAGGING_TAB, RIG, WITH_TAB, task
from tests.hingeline.flutter.test_neutral_points import state_space_roots


def polynomial(roots: list[complex]) -> AeroelasticSystem:
    """Give a system without air whose roots in the upper half plane are these, one in each freedom."""
    size, none = len(roots), np.zeros((len(roots), len(roots)))
    return AeroelasticSystem(
        tuple(f"freedom {index}" for index in range(size)), np.eye(size), np.diag([-2 * root.real for root in roots]),
        np.diag([abs(root) ** 2 for root in roots]), np.zeros(size), none, none, none, (),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("roots", "growing"),
    [
        ([1 + 10j, -1 + 12j, 0.1 + 30j], 2),
        ([1e-4 + 10j, 1e-4 + 10.0001j, -1e-4 + 10.00005j], 2),
        ([1e-7 + 1j, -1e-7 + 1.0000001j], 1),
        ([2e-8 + 10j], 1),
        ([-1e-3 + 10j], 0),
        ([5 + 0.05j], 0),
        ([5 + 0.2j], 1),
        ([3 + 3j] * 3, 3),
    ],
)
def test_known_roots_are_counted(roots: list[complex], growing: int) -> None:
    """Roots that were put in are counted: close together, hardly growing, several at one place; slow turners not."""
    assert count_growing(polynomial(roots), 1.0, theodorsen) == growing


def test_a_root_that_grows_by_less_than_a_billionth_of_itself_does_not_grow() -> None:
    """A mode grows when Re p > 1e-9 |p|."""
    assert count_growing(polynomial([2e-9 + 1j]), 1.0, theodorsen) == 1
    assert count_growing(polynomial([0.5e-9 + 1j]), 1.0, theodorsen) == 0


@pytest.mark.parametrize("speed", [3.0, 8.0, 15.0, 25.0, 35.0, 60.0])
def test_the_count_is_that_of_a_state_space(speed: float) -> None:
    """With two lags the count equals that of the growing eigenvalues of the state space, lag states included."""
    system = build_system(task(replace(RIG, surface_stiffness=0.0), wake="two-lag"))
    expected = sum(
        bool(root.real > 1e-9 * abs(root)) and np.angle(root) > 0.02 for root in state_space_roots(system, speed)
    )
    assert count_growing(system, speed, two_lag) == expected


def test_the_count_is_that_of_the_roots_found() -> None:
    """Every growing root that is counted is also found, at speeds all over a range with a hump."""
    system = build_system(task(replace(RIG, surface_stiffness=0.0)))
    for speed in np.linspace(1.0, 40.0, 14):
        growing = [root for root in find_roots(system, float(speed), theodorsen) if root.p.real > 0]
        assert count_growing(system, float(speed), theodorsen) == len(growing)


def test_no_root_lies_beyond_the_radius() -> None:
    """Between the radius and a hundred times of it there is no growing root at any angle."""
    plain, _ = scaled(build_system(task(WITH_TAB, (2.0, 150.0))))
    for speed in (2.0, 50.0, 150.0):
        largest = largest_root(plain, speed)
        assert count_inside(plain, speed, theodorsen, (largest, 100 * largest), (0.02, pi / 2 - 1e-9)) == 0


@pytest.mark.slow
def test_a_missed_neutral_point_is_noticed() -> None:
    """Leaving out any one of the points, or turning it round, is refused by the count."""
    model = task(replace(RIG, surface_stiffness=0.0))
    system, speeds = build_system(model), (0.5, 40.0)
    points = find_neutral_points(system, speeds, theodorsen)
    assert prove(system, speeds, theodorsen, points).counts[-1] == 1
    for index in range(len(points)):
        with pytest.raises(RoutesDisagree, match="number of growing roots"):
            prove(system, speeds, theodorsen, points[:index] + points[index + 1 :])
    turned = (replace(points[0], direction="out of"), *points[1:])
    with pytest.raises(RoutesDisagree, match="No statement"):
        prove(system, speeds, theodorsen, turned)


def test_a_wrong_neutral_point_is_not_confirmed() -> None:
    """A speed or a frequency off by a hundred-thousandth is refused by the other ways."""
    system = build_system(task(RIG))
    (point,) = find_neutral_points(system, (0.5, 40.0), theodorsen)
    confirm(system, point, theodorsen)
    with pytest.raises(RoutesDisagree, match="flutter speed"):
        confirm(system, replace(point, speed=point.speed * (1 + 1e-5)), theodorsen)
    with pytest.raises(RoutesDisagree, match="flutter"):
        confirm(system, replace(point, angular_frequency=point.angular_frequency * (1 + 1e-5)), theodorsen)
    with pytest.raises(RoutesDisagree, match="across the flutter speed"):
        confirm_coalescence(system, replace(point, speed=20.0), theodorsen)


def test_a_growth_that_stops_swinging_is_told_apart_from_a_crossing() -> None:
    """A root that slides down to the real axis changes the count without a neutral point, and is reported as such."""
    model = task(LAGGING_TAB, (30.0, 75.0))
    system = build_system(model)
    points = find_neutral_points(system, (30.0, 75.0), theodorsen)
    growth = prove(system, (30.0, 75.0), theodorsen, points)
    assert [point.direction for point in points] == ["into"]
    assert points[0].speed == pytest.approx(57.30, abs=5e-3)
    assert len(growth.turned_static) == 1
    assert 57.30 < growth.turned_static[0] < 60.4
    assert growth.counts[-1] == 0


def test_a_root_in_proportion_to_speed_is_growing_everywhere() -> None:
    """Tab and control both free: p = (0.018426 + 0.60041 i) U, counted at every speed though no crossing starts it."""
    both = replace(WITH_TAB, surface_stiffness=0.0)
    model = task(both, (2.0, 10.0), structural_damping=(0.02,))
    system = build_system(model)
    points = find_neutral_points(system, (2.0, 10.0), theodorsen)
    growth = prove(system, (2.0, 10.0), theodorsen, points)
    assert points == ()
    assert growth.everywhere
    for speed in (2.0, 2.5):
        (root,) = [one.p for one in find_roots(system, speed, theodorsen) if one.p.real > 0]
        assert root / speed == pytest.approx(0.018426 + 0.60041j, abs=2e-4 * speed)
