"""Density by altitude."""

from __future__ import annotations

import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.atmosphere import equivalent_airspeed, standard_density


@pytest.mark.parametrize(
    ("altitude", "density", "tolerance"),
    [
        (0.0, 1.2250, 5e-5),
        (5000.0, 0.73612, 5e-6),
        (11000.0, 0.36392, 5e-6),
        (-1000.0, 1.3470, 5e-5),
    ],
)
def test_table(altitude: float, density: float, tolerance: float) -> None:
    """The density is that of the table of ICAO Doc 7488 / ISO 2533 at geopotential altitudes (from memory)."""
    assert abs(standard_density(altitude) - density) <= tolerance


@pytest.mark.parametrize(("height", "density"), [(1000.0, 1.1117), (5000.0, 0.7364), (10000.0, 0.4135)])
def test_by_geometric_height(height: float, density: float) -> None:
    """By height above the ground (geopotential h r/(r + h), r = 6356766 m) text books print these (from memory)."""
    assert abs(standard_density(height * 6356766 / (6356766 + height)) - density) <= 5e-5


def test_eight_thousand_feet() -> None:
    """At 8000 ft the density ratio is 0.7860 (standard atmosphere tables of text books, from memory)."""
    assert abs(standard_density(8000 * 0.3048) / standard_density(0.0) - 0.7860) <= 5e-5


def test_hydrostatic_balance() -> None:
    """Pressure falls by the weight of the air: dp/dH = -ρ g, with p = ρ R T."""

    def pressure(height: float) -> float:
        return standard_density(height) * 287.05287 * (288.15 - 0.0065 * height)

    for height in (-1500.0, 0.0, 3000.0, 10000.0):
        fall = (pressure(height + 1) - pressure(height - 1)) / 2
        assert fall == pytest.approx(-standard_density(height) * 9.80665, rel=1e-7)


@pytest.mark.parametrize("altitude", [-2000.1, 11000.1, float("nan"), float("inf")])
def test_out_of_range(altitude: float) -> None:
    """Beyond the layer that the formula holds for, the density itself is asked for."""
    with pytest.raises(InputRefused, match=r"altitude from -2000 m to 11000 m. Give the density"):
        standard_density(altitude)


def test_equivalent_airspeed() -> None:
    """At a quarter of the sea-level density a true airspeed counts half; the dynamic pressure is the same."""
    assert equivalent_airspeed(100.0, 1.225 / 4) == pytest.approx(50.0)
    assert equivalent_airspeed(80.0, 1.225) == 80.0
