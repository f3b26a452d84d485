"""A reading far from the others is asked about; nothing is left out by itself."""

from __future__ import annotations

from statistics import median

import pytest

from hingeline_app.bench.weighing.odd_readings import odd_readings


def test_the_modified_z_score_is_that_of_the_handbook() -> None:
    """M = 0.6745 (x - median) / MAD, odd above 3.5 (NIST/SEMATECH e-Handbook, 1.3.5.17, after Iglewicz and Hoaglin)."""
    values = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3]
    middle = median(values)
    scatter = median(abs(value - middle) for value in values)
    expected = tuple(i for i, value in enumerate(values) if 0.6745 * abs(value - middle) / scatter > 3.5)
    assert expected == (8, 9)
    assert odd_readings(values) == expected


def test_the_steps_of_a_scale_are_no_outliers() -> None:
    """Four times the same and once a step beside it."""
    assert odd_readings([0.840, 0.840, 0.840, 0.840, 0.845], step=0.005) == ()
    assert odd_readings([0.840, 0.845, 0.840, 0.845, 0.990], step=0.005) == (4,)


@pytest.mark.parametrize("values", [[], [0.8], [0.8, 0.9], [0.8, 0.8, 0.99]])
def test_of_few_readings_none_is_called_odd(values: list[float]) -> None:
    assert odd_readings(values, step=0.005) == ()


def test_without_a_step_one_that_differs_from_equal_ones_is_asked_about() -> None:
    assert odd_readings([1.0, 1.0, 1.0, 1.2]) == (3,)
