"""Natural frequencies in vacuo, and damping stated mode by mode."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import eigh

from hingeline.errors import InputRefused
from hingeline.flutter.natural import modal_damping, natural_modes


def random_structure(seed: int, size: int) -> tuple[np.ndarray, np.ndarray]:
    """Give a mass and a stiffness matrix, entries of very different size."""
    generator = np.random.default_rng(seed)
    unit = 10.0 ** generator.uniform(-3, 3, size)
    made = [generator.normal(size=(size, 2 * size)) for _ in range(2)]
    mass, stiffness = (one @ one.T * np.outer(unit, unit) for one in made)
    return mass, stiffness * 1e4


@pytest.mark.parametrize("seed", range(20))
def test_they_are_those_of_a_general_eigenvalue_solver(seed: int) -> None:
    """SciPy's generalised solver, given the same matrices, has the same frequencies."""
    mass, stiffness = random_structure(seed, 5)
    unit = 1 / np.sqrt(np.diag(mass))
    squares = eigh(stiffness * np.outer(unit, unit), mass * np.outer(unit, unit), eigvals_only=True)

    np.testing.assert_allclose(natural_modes(mass, stiffness).frequencies, np.sqrt(squares) / (2 * np.pi), rtol=1e-9)


@pytest.mark.parametrize("seed", range(5))
def test_shapes_have_unit_mass_and_their_own_stiffness(seed: int) -> None:
    """Φᵀ M Φ = 1 and Φᵀ K Φ = ω², mode by mode."""
    mass, stiffness = random_structure(seed, 4)
    modes = natural_modes(mass, stiffness)

    np.testing.assert_allclose(modes.shapes.T @ mass @ modes.shapes, np.eye(4), atol=1e-10)
    squares = (2 * np.pi * modes.frequencies) ** 2
    np.testing.assert_allclose(modes.shapes.T @ stiffness @ modes.shapes, np.diag(squares), atol=1e-9 * squares[-1])


def test_what_nothing_holds_has_exactly_no_frequency() -> None:
    """Without a spring the frequency is 0, not the rounding of it; a spring between two frees one motion only."""
    mass = np.array([[2.0, 0.3, 0.1], [0.3, 1.0, 0.2], [0.1, 0.2, 0.5]])
    geared = np.array([[0.0, 0.0, 0.0], [0.0, 9.0, -3.0], [0.0, -3.0, 1.0]])

    assert natural_modes(mass, np.diag([5.0, 3.0, 0.0])).frequencies[0] == 0.0
    frequencies = natural_modes(mass, geared).frequencies
    assert frequencies[:2].tolist() == [0.0, 0.0]
    assert frequencies[2] > 0.1
    assert natural_modes(mass, np.zeros((3, 3))).frequencies.tolist() == [0.0, 0.0, 0.0]


def test_a_soft_spring_beside_a_stiff_one_is_not_taken_for_none() -> None:
    """A frequency a million times lower than the highest still comes out."""
    frequencies = natural_modes(np.eye(2), np.diag([1.0, 1e12])).frequencies

    np.testing.assert_allclose(frequencies, [1 / (2 * np.pi), 1e6 / (2 * np.pi)], rtol=1e-12)


def test_stated_damping_ratios_are_those_of_the_damped_modes() -> None:
    """The eigenvalues of p² M + p D + K have the ratios that were stated, mode by mode."""
    mass, stiffness = random_structure(1, 3)
    ratios = [0.01, 0.02, 0.3]
    damping = modal_damping(mass, natural_modes(mass, stiffness), ratios)
    first_order = np.block(
        [[np.zeros((3, 3)), np.eye(3)], [-np.linalg.solve(mass, stiffness), -np.linalg.solve(mass, damping)]]
    )
    roots = sorted((p for p in np.linalg.eigvals(first_order) if p.imag > 0), key=abs)

    np.testing.assert_allclose([-p.real / abs(p) for p in roots], ratios, rtol=1e-7)
    np.testing.assert_allclose(damping, damping.T, rtol=1e-9)


def test_masses_that_no_body_has_are_refused() -> None:
    """A static moment beyond √(mass x inertia) is refused, and so is a mass of nothing; the message says what to do."""
    for mass in (np.array([[1.0, 2.0], [2.0, 1.0]]), np.array([[1.0, 0.0], [0.0, 0.0]])):
        with pytest.raises(InputRefused, match=r"numbers that a real body can have.*about the elastic axis"):
            natural_modes(mass, np.eye(2))


def test_modal_damping_is_that_of_a_second_program() -> None:
    """1 and 2 per cent in the modes of a tailplane give the matrix computed apart from this program."""
    mass = np.array([[36.0, 11.0 * 0.17 * 0.76], [11.0 * 0.17 * 0.76, 0.62]])
    stiffness = np.diag([36.0 * (2 * np.pi * 8.0) ** 2, 3500.0])
    apart = [[38.0660103035, -0.426262831146], [-0.426262831146, 1.69427179076]]

    np.testing.assert_allclose(
        modal_damping(mass, natural_modes(mass, stiffness), [0.01, 0.02]), apart, rtol=0, atol=5e-11 * 10
    )
