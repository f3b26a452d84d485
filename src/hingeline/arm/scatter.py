"""How the life of an assumed crack scatters with what is uncertain: draws, with a seed."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from hingeline.arm.crack_course import (
    Driven,
    constant_rate,
    course_of,
    driven,
    start_of,
    through_rate,
)
from hingeline.arm.crack_geometry import WIDEST, through_crack_intensity
from hingeline.arm.critical_size import collapse_moment_ratio
from hingeline.arm.growth import cycles_along
from hingeline.arm.model import ArmTask, Crack
from hingeline.arm.results import LifeDistribution, LifeQuantile
from hingeline.errors import InputRefused

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, np.dtype[np.float64]]

QUANTILES = (0.025, 0.05, 0.5, 0.95, 0.975)
FEWEST, MOST = 100, 1_000_000
_GRID, _STRETCHES = 2001, 8
HOUR = 3600.0
VARIED = ("stress_range", "initial", "half_angle", "largest_stress", "toughness")


def scatter_of_life(task: ArmTask, largest_stress: float, samples: int, seed: int) -> LifeDistribution:
    """Draw the growth constant and every quantity whose uncertainty is stated, and sum the cycles up each time.

    Parameters
    ----------
    task : ArmTask
        With a crack.
    largest_stress : float
        Of the limit load [Pa].
    samples, seed : int

    Returns
    -------
    LifeDistribution
        The same draws for the same seed.

    Raises
    ------
    InputRefused
        Too few or too many samples, or a negative seed.

    Notes
    -----
    The growth constant is lognormal, the others are normal; a draw that is not above 0 is drawn again. C and m are
    one pair, so m stays. A crack that begins in the surface varies with growth constant and stress range alone.
    """
    import numpy as np

    _refuse_unusable(samples, seed)
    crack = task.crack
    assert crack is not None
    draws = _draws(crack, largest_stress, samples, np.random.default_rng(seed))
    cycles = _surface_cycles if crack.geometry == "surface" else _cycles
    found = cycles(task, crack, largest_stress, draws)
    found = found / draws["growth_constant"] / draws["stress_range"] ** crack.growth_exponent
    return LifeDistribution(
        samples=samples,
        seed=seed,
        varied=varied_in(crack),
        quantiles=tuple(LifeQuantile(part, float(np.quantile(found, part))) for part in QUANTILES),
        already_critical=float(np.mean(found <= 0.0)),
        part_shorter_than_approved=_shorter(crack, found),
    )


def varied_in(crack: Crack) -> tuple[str, ...]:
    """Name what is drawn."""
    stated = [name for name in VARIED if getattr(crack, f"{name}_uncertainty", None) is not None]
    if crack.geometry == "surface":
        stated = [name for name in stated if name == "stress_range"]
    return (*(("growth_constant",) if crack.growth_log_deviation else ()), *stated)


def _refuse_unusable(samples: int, seed: int) -> None:
    if not FEWEST <= samples <= MOST:
        raise InputRefused.of("samples", samples, f"a whole number from {FEWEST} to {MOST}", "1000 says enough.")
    if seed < 0:
        raise InputRefused.of("seed", seed, "0 or a positive whole number", "Any will do; keep it.")


def _shorter(crack: Crack, cycles: Array) -> float | None:
    if crack.approved_interval is None:
        return None
    needed = crack.approved_interval / HOUR * crack.factor * crack.cycles_per_hour
    return float((cycles < needed).mean())


def _draws(crack: Crack, largest_stress: float, samples: int, generator: np.random.Generator) -> dict[str, Array]:
    """Draw each quantity over its own value: all are 1 where nothing is stated."""
    import numpy as np

    values = {"largest_stress": largest_stress}
    found = {"growth_constant": np.exp(crack.growth_log_deviation * generator.standard_normal(samples))}
    for name in VARIED:
        stated = getattr(crack, f"{name}_uncertainty", None)
        value = values.get(name, getattr(crack, name))
        relative = 0.0 if stated is None or not value else stated.of(value) / value
        found[name] = _above_zero(relative, samples, generator)
    return found


def _above_zero(relative: float, samples: int, generator: np.random.Generator) -> Array:
    drawn = 1.0 + relative * generator.standard_normal(samples)
    while (bad := drawn <= 0.0).any():
        drawn[bad] = 1.0 + relative * generator.standard_normal(int(bad.sum()))
    return drawn


def _surface_cycles(task: ArmTask, crack: Crack, largest_stress: float, draws: dict[str, Array]) -> Array:
    import numpy as np

    return np.full(len(draws["growth_constant"]), course_of(task, crack, largest_stress).cycles)


def _cycles(task: ArmTask, crack: Crack, largest_stress: float, draws: dict[str, Array]) -> Array:
    """Give the cycles of every draw, for the growth constant and the stress range as they are in the file."""
    import numpy as np

    found, start = driven(task, crack, largest_stress), start_of(task, crack)
    assert start is not None
    starts = start * draws["half_angle" if crack.geometry == "tube through" else "initial"]
    ends = _ends(found, draws)
    if crack.final is not None:
        ends = np.minimum(ends, crack.final)
    ends = np.maximum(ends, starts)
    rate = through_rate(found) if crack.geometry == "tube through" else constant_rate(found)
    return _summed(rate, starts, ends)


def _summed(rate: Callable[[float], float], starts: Array, ends: Array) -> Array:
    """Add up once over the whole range, and read every draw off it."""
    import numpy as np

    edges = np.geomspace(float(starts.min()), float(ends.max()) * (1.0 + 1e-12), _STRETCHES + 1)
    sizes, sums = [float(edges[0])], [0.0]
    for first, last in pairwise(edges):
        before = sums[-1]
        for size, cycles in cycles_along(rate, float(first), float(last))[1:]:
            sizes.append(size)
            sums.append(before + cycles)
    places = np.log(sizes)
    found: Array = np.interp(np.log(ends), places, sums) - np.interp(np.log(starts), places, sums)
    return found


def _ends(found: Driven, draws: dict[str, Array]) -> Array:
    """Give the critical size of every draw [m]."""
    import numpy as np

    stress = found.largest_stress * draws["largest_stress"]
    toughness = found.crack.toughness * draws["toughness"]
    if found.mean_radius is None:
        assert found.height is not None
        part = np.minimum(2.0 * stress / (3.0 * found.flow_stress), 1.0)
        collapse = found.height * (1.0 - np.sqrt(part))
    else:
        collapse = found.mean_radius * _collapse_angles(np.pi * stress / (4.0 * found.flow_stress))
    if found.crack.geometry == "tube through":
        return np.minimum(collapse, _fracture_lengths(found, toughness / stress))
    factor = found.crack.geometry_factor or 1.0
    return np.minimum(collapse, (toughness / (factor * stress)) ** 2 / np.pi)


def _collapse_angles(needed: Array) -> Array:
    """Read the half angles off the ring's plastic moment, which falls with the angle."""
    import numpy as np

    angles = np.linspace(math.pi, 0.0, _GRID)
    found: Array = np.interp(needed, [collapse_moment_ratio(float(angle)) for angle in angles], angles)
    return found


def _fracture_lengths(found: Driven, wanted: Array) -> Array:
    """Read the half lengths off the intensity of a stress of 1 Pa, up to the end of the model's range."""
    import numpy as np

    radius, wall = found.ring()
    angles = np.linspace(0.0, WIDEST * math.pi, _GRID)
    driven_by_one = [through_crack_intensity(1.0, radius, wall, float(angle)) for angle in angles]
    lengths: Array = radius * np.interp(wanted, driven_by_one, angles)
    return lengths
