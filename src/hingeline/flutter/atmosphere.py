"""Density of the standard atmosphere, up to the tropopause."""

from __future__ import annotations

import math

from hingeline.errors import InputRefused

SEA_LEVEL_TEMPERATURE = 288.15
SEA_LEVEL_PRESSURE = 101325.0
SEA_LEVEL_DENSITY = 1.225
LAPSE_RATE = 0.0065
GAS_CONSTANT = 287.05287
STANDARD_GRAVITY = 9.80665
LOWEST, HIGHEST = -2000.0, 11000.0


def standard_density(altitude: float) -> float:
    """Compute the density of the standard atmosphere.

    Parameters
    ----------
    altitude : float
        Pressure altitude (geopotential) [m], -2000 to 11000.

    Returns
    -------
    float
        ρ [kg/m³].

    Raises
    ------
    InputRefused
        If the altitude is out of range.

    Notes
    -----
    T = 288.15 K - 0.0065 K/m H; p = 101325 Pa (T/288.15 K)^(g/(R L)); ρ = p/(R T). ICAO Doc 7488,
    Manual of the ICAO Standard Atmosphere, and ISO 2533: constants of table A and the layer from sea level
    to 11 km; from memory of the publications. The air of a day is not standard: where a temperature is
    known, give the density.

    Examples
    --------
    >>> round(standard_density(0.0), 4), round(standard_density(2438.4), 4)
    (1.225, 0.9629)
    """
    if not LOWEST <= altitude <= HIGHEST:
        raise InputRefused.of(
            "air.altitude",
            f"{altitude} m",
            f"an altitude from {LOWEST:.0f} m to {HIGHEST:.0f} m",
            "Give the density of the air itself for any other.",
        )
    temperature = SEA_LEVEL_TEMPERATURE - LAPSE_RATE * altitude
    exponent = STANDARD_GRAVITY / (GAS_CONSTANT * LAPSE_RATE)
    pressure: float = SEA_LEVEL_PRESSURE * (temperature / SEA_LEVEL_TEMPERATURE) ** exponent
    return pressure / (GAS_CONSTANT * temperature)


def equivalent_airspeed(true_airspeed: float, density: float) -> float:
    """Compute the equivalent airspeed, which has the same dynamic pressure at sea level.

    Parameters
    ----------
    true_airspeed : float
        [m/s].
    density : float
        ρ where it is flown [kg/m³].

    Returns
    -------
    float
        V √(ρ/1.225 kg/m³) [m/s]. Definition.
    """
    return true_airspeed * math.sqrt(density / SEA_LEVEL_DENSITY)
