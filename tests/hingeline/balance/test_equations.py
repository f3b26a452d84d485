"""Each equation of statics, worked by hand."""

from __future__ import annotations

import pytest

from hingeline.balance import equations


def test_mean() -> None:
    """(1 + 2 + 6)/3 = 3."""
    assert equations.mean((1.0, 2.0, 6.0)) == 3.0


def test_mean_of_equal_readings_is_that_reading() -> None:
    """0.1 three times added up in floats and divided by three is not 0.1; the mean is."""
    assert (0.1 + 0.1 + 0.1) / 3.0 != 0.1
    for count in range(1, 30):
        assert equations.mean((0.1,) * count) == 0.1
        assert equations.mean((0.7321,) * count) == 0.7321


def test_net_reading() -> None:
    """840 g shown less 40 g of tare: 800 g."""
    assert equations.net_reading(840.0, 40.0) == 800.0


@pytest.mark.parametrize(("pulls", "force"), [(False, 19.6), (True, -19.6)])
def test_push_up(pulls: bool, force: float) -> None:
    """2 kg at 9.8 m/s²: 19.6 N up; a hook that pulls, 19.6 N down."""
    assert equations.push_up(2.0, 9.8, pulls=pulls) == pytest.approx(force, rel=1e-15)


def test_support_moment() -> None:
    """20 N up at 0.25 m aft carries a tail-heavy 5 N m; forward of the hinge line, a nose-heavy one."""
    assert equations.support_moment(20.0, 0.25) == 5.0
    assert equations.support_moment(20.0, -0.25) == -5.0


def test_hung_moment() -> None:
    """2 kg hung 0.5 m forward at 9.8 m/s² levels a tail-heavy 9.8 N m."""
    assert equations.hung_moment(2.0, -0.5, 9.8) == pytest.approx(9.8, rel=1e-15)


def test_part_moment() -> None:
    """A part of 2 kg fitted 0.5 m forward makes it nose-heavy by 9.8 N m: the opposite of what hanging it reveals."""
    assert equations.part_moment(2.0, -0.5, 9.8) == pytest.approx(-9.8, rel=1e-15)


def test_level_sensitivity() -> None:
    """4 kg, 20 mm below the hinge line at 9.8 m/s²: 4 x 9.8 x -0.02 = -0.784 N m a radian."""
    assert equations.level_sensitivity(4.0, -0.02, 9.8) == pytest.approx(-0.784, rel=1e-14)


def test_friction_moment_has_no_sign() -> None:
    """8.4 N rising, 8.0 N falling at 0.25 m: 0.25 x 0.4/2 = 0.05 N m, whichever is larger."""
    assert equations.friction_moment(8.4, 8.0, 1.0, 0.25) == pytest.approx(0.05, rel=1e-14)
    assert equations.friction_moment(8.0, 8.4, 1.0, 0.25) == pytest.approx(0.05, rel=1e-14)


def test_centre_of_gravity() -> None:
    """1.96 N m over 4 kg at 9.8 m/s²: 1.96/39.2 = 0.05 m aft; nose-heavy, 0.05 m forward."""
    assert equations.centre_of_gravity(1.96, 4.0, 9.8) == pytest.approx(0.05, rel=1e-14)
    assert equations.centre_of_gravity(-1.96, 4.0, 9.8) == pytest.approx(-0.05, rel=1e-14)


def test_reading_at() -> None:
    """A limit of 5 N m, 1 N m of it from other terms, 2 N m a kilogram, 0.1 kg tare: (5 - 1)/2 + 0.1 = 2.1 kg."""
    assert equations.reading_at(5.0, 1.0, 2.0, 0.1) == pytest.approx(2.1, rel=1e-15)
