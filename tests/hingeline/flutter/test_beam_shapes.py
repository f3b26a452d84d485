"""Shapes of a uniform cantilever beam."""

from __future__ import annotations

import numpy as np
import pytest

from hingeline.flutter.beam_shapes import bending_numbers, bending_shapes, torsion_numbers, torsion_shapes

NODES, WEIGHTS = np.polynomial.legendre.leggauss(60)
ALONG, SHARE = (NODES + 1) / 2, WEIGHTS / 2


def test_the_roots_are_the_printed_ones() -> None:
    """β L of the first four: 1.8751, 4.6941, 7.8548, 10.9955 (from memory; any handbook of vibration)."""
    np.testing.assert_allclose(bending_numbers(4), [1.8751, 4.6941, 7.8548, 10.9955], atol=5e-5)


def test_the_roots_fulfil_their_equation() -> None:
    """The roots have cos x cosh x = -1, for all that may be asked for."""
    numbers = bending_numbers(12)

    np.testing.assert_allclose(np.cos(numbers) + 1 / np.cosh(numbers), 0.0, atol=1e-14)


@pytest.mark.parametrize("shapes", [bending_shapes, torsion_shapes])
def test_shapes_are_held_at_the_root_and_one_at_the_tip(shapes) -> None:
    """Each shape is 0 at the clamp and +1 at the tip, up to the twelfth."""
    ends = shapes(12, np.array([0.0, 1.0]))

    np.testing.assert_allclose(ends[0], 0.0, atol=1e-12)
    np.testing.assert_allclose(ends[1], 1.0, rtol=1e-10)


@pytest.mark.parametrize(("shapes", "square"), [(bending_shapes, 0.25), (torsion_shapes, 0.5)])
def test_shapes_are_orthogonal(shapes, square: float) -> None:
    """∫ φ_i φ_j is 0, and L/4 or L/2 of one with itself."""
    values = shapes(8, ALONG)

    np.testing.assert_allclose(values.T @ (SHARE[:, None] * values), square * np.eye(8), atol=1e-11)


def test_curvature_and_twist_store_the_energy_that_is_used() -> None:
    """∫ φ''² is (β L)⁴/4 and ∫ ψ'² is γ²/2, by fourth-order differences of the shapes."""
    step = 1e-3
    bent = [bending_shapes(3, ALONG * (1 - 8 * step) + (4 + i) * step) for i in (-2, -1, 0, 1, 2)]
    second = (-bent[0] + 16 * bent[1] - 30 * bent[2] + 16 * bent[3] - bent[4]) / (12 * step**2)
    inside = ALONG * (1 - 8 * step) + 4 * step
    # Between the two ends that differences cannot reach, the curvature is β² (cosh + cos - σ (sinh + sin))/2.
    numbers = bending_numbers(3)
    sigma = (np.sinh(numbers) - np.sin(numbers)) / (np.cosh(numbers) + np.cos(numbers))
    x = inside[:, None] * numbers
    closed = numbers**2 * (np.cosh(x) + np.cos(x) - sigma * (np.sinh(x) + np.sin(x))) / (2 * (-1.0) ** np.arange(3))
    np.testing.assert_allclose(second, closed, atol=1e-5 * numbers[-1] ** 2)

    x = ALONG[:, None] * numbers
    curvature = numbers**2 * (np.cosh(x) + np.cos(x) - sigma * (np.sinh(x) + np.sin(x))) / 2
    np.testing.assert_allclose(SHARE @ curvature**2, numbers**4 / 4, rtol=1e-10)
    np.testing.assert_allclose(
        SHARE @ (torsion_numbers(3) * np.cos(ALONG[:, None] * torsion_numbers(3))) ** 2, torsion_numbers(3) ** 2 / 2
    )
