"""Propagation of distributions by Monte Carlo.

The second way to an uncertainty: draw the inputs, evaluate the model, sort the results. It knows
nothing of sensitivities, so it shows where a budget's straight line is not good enough.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from hingeline.errors import InputRefused
from hingeline.uncertainty.checks import require_finite, require_fraction, require_not_negative

if TYPE_CHECKING:
    import numpy as np

    Array = np.ndarray[Any, np.dtype[np.float64]]

_CHUNK = 16_384  # a few inputs of this length stay in a processor's own cache
_FEWEST_BEYOND = 10  # draws that must lie outside the interval for its ends to mean anything


@dataclass(frozen=True, slots=True)
class Normal:
    """Normal distribution.

    Parameters
    ----------
    mean, standard : float
        Mean and standard deviation [any unit].
    """

    mean: float
    standard: float


@dataclass(frozen=True, slots=True)
class Rectangular:
    """Every value within ± ``half_width`` of the mean as likely.

    Parameters
    ----------
    mean, half_width : float
        Middle and limit of error [any unit].
    """

    mean: float
    half_width: float


@dataclass(frozen=True, slots=True)
class Triangular:
    """Values near the mean more likely, none beyond ± ``half_width``.

    Parameters
    ----------
    mean, half_width : float
        Middle and limit of error [any unit].
    """

    mean: float
    half_width: float


@dataclass(frozen=True, slots=True)
class Student:
    """Scaled and shifted t distribution: the mean of a few readings.

    Parameters
    ----------
    mean, standard : float
        Mean of the readings and s/√n [any unit]. The distribution is wider than that: its own
        standard deviation is √(ν/(ν - 2)) times as large, and does not exist up to ν = 2.
    degrees_of_freedom : float
        ν = n - 1, positive [1].
    """

    mean: float
    standard: float
    degrees_of_freedom: float


Distribution = Normal | Rectangular | Triangular | Student
Progress = Callable[[int, int], bool | None]


@dataclass(frozen=True, slots=True)
class MonteCarloResult:
    """What the draws say of the result.

    Parameters
    ----------
    draws : int
        How many were drawn.
    mean : float or None
        Mean [result's unit]; None where an input has a t distribution with ν <= 1, which has none.
    standard_uncertainty : float or None
        Standard deviation [result's unit]; None where an input has a t distribution with ν <= 2.
    low, high : float
        Ends of the probabilistically symmetric interval.
    shortest_low, shortest_high : float
        Ends of the shortest interval.
    coverage : float
        Probability of both intervals [1].
    seed : int
        With which the same draws come again.
    stopped : bool
        True where ``progress`` stopped it before all that were asked for were drawn.
    """

    draws: int
    mean: float | None
    standard_uncertainty: float | None
    low: float
    high: float
    shortest_low: float
    shortest_high: float
    coverage: float
    seed: int
    stopped: bool = False


def monte_carlo(
    model: Callable[..., Any],
    inputs: Sequence[Distribution],
    *,
    draws: int = 1_000_000,
    seed: int = 0,
    coverage: float = 0.95,
    progress: Progress | None = None,
) -> MonteCarloResult:
    """Propagate distributions through a model by drawing from them.

    Parameters
    ----------
    model : callable
        Takes one array for each input, all of one length, and returns an array of that length.
    inputs : sequence of Normal, Rectangular, Triangular or Student
        Independent of each other, at least one.
    draws : int
        How many [1]; at least ten must be expected beyond the interval.
    seed : int
        The same seed gives the same result, to the last digit, on the same version of NumPy.
    coverage : float
        Probability of the intervals, 0 < p < 1 [1].
    progress : callable, optional
        Called with (done, total) after each chunk; returns False to stop there.

    Returns
    -------
    MonteCarloResult
        Mean, standard uncertainty, both intervals.

    Raises
    ------
    InputRefused
        For a distribution that cannot be, too few draws, and a model that gives no finite numbers.

    Notes
    -----
    JCGM 101:2008 clause 7 (7.2 number of draws, 7.5 sorting, 7.6 mean and standard deviation, 7.7
    intervals; clause numbers from memory). The draws are evaluated in chunks, so that a model's own
    arrays stay small; the results take eight bytes a draw.

    Examples
    --------
    >>> from hingeline.uncertainty import Normal, monte_carlo
    >>> result = monte_carlo(lambda x, y: x + y, [Normal(0.0, 3.0), Normal(0.0, 4.0)], draws=100_000)
    >>> round(result.standard_uncertainty, 1)
    5.0
    """
    import numpy as np

    _check(inputs, draws, coverage, seed)
    results = np.empty(draws)
    with np.errstate(all="ignore"):  # what is not finite is refused by name below
        done = _fill(results, model, inputs, np.random.default_rng(seed), progress)
        return _summary(results[:done], inputs, coverage, seed, stopped=done < draws)


def _fill(
    results: Array,
    model: Callable[..., Any],
    inputs: Sequence[Distribution],
    generator: np.random.Generator,
    progress: Progress | None,
) -> int:
    """Draw and evaluate a chunk at a time; give how many are done."""
    total = len(results)
    for start in range(0, total, _CHUNK):
        end = min(start + _CHUNK, total)
        drawn = [_draw(one, generator, end - start) for one in inputs]
        _store(results[start:end], model(*drawn))
        if progress is not None and progress(end, total) is False:
            return end
    return total


def _store(place: Array, outcome: Any) -> None:
    import numpy as np

    try:
        if np.iscomplexobj(outcome):
            raise TypeError
        place[:] = outcome
    except (TypeError, ValueError):
        raise InputRefused.of(
            "model", type(outcome).__name__, f"an array of {len(place)} real numbers",
            "Write the model so that it works on whole arrays.",
        ) from None  # fmt: skip


def _draw(one: Distribution, generator: np.random.Generator, count: int) -> Array:
    """Scale in place: one array for one input."""
    if isinstance(one, Normal):
        drawn, width = generator.standard_normal(count), one.standard
    elif isinstance(one, Rectangular):
        drawn, width = generator.uniform(-1.0, 1.0, count), one.half_width
    elif isinstance(one, Triangular):
        drawn, width = generator.triangular(-1.0, 0.0, 1.0, count), one.half_width
    else:
        drawn, width = generator.standard_t(one.degrees_of_freedom, count), one.standard
    drawn *= width
    drawn += one.mean
    return drawn


def _summary(
    results: Array, inputs: Sequence[Distribution], coverage: float, seed: int, *, stopped: bool
) -> MonteCarloResult:
    results.sort()
    for end in (results[0], results[-1]):  # sorting puts infinities and NaN at the ends
        require_finite("model", float(end))
    low, high = _symmetric(results, coverage)
    shortest_low, shortest_high = _shortest(results, coverage)
    fewest = min((one.degrees_of_freedom for one in inputs if isinstance(one, Student)), default=math.inf)
    return MonteCarloResult(
        draws=len(results),
        mean=require_finite("model", float(results.mean())) if fewest > 1 else None,
        standard_uncertainty=require_finite("model", float(results.std(ddof=1))) if fewest > 2 else None,
        low=low,
        high=high,
        shortest_low=shortest_low,
        shortest_high=shortest_high,
        coverage=coverage,
        seed=seed,
        stopped=stopped,
    )


def _span(count: int, coverage: float) -> int:
    """Count the steps from one end of the interval to the other, q: JCGM 101 7.7.1."""
    return min(math.floor(coverage * count + 0.5), count - 1)


def _symmetric(results: Array, coverage: float) -> tuple[float, float]:
    """As much beyond each end: JCGM 101 7.7.2."""
    span = _span(len(results), coverage)
    first = max((len(results) - span + 1) // 2 - 1, 0)
    return float(results[first]), float(results[first + span])


def _shortest(results: Array, coverage: float) -> tuple[float, float]:
    """Give the first of the shortest intervals that hold enough draws: JCGM 101 7.7.4."""
    span = _span(len(results), coverage)
    first = int((results[span:] - results[: len(results) - span]).argmin())
    return float(results[first]), float(results[first + span])


def _check(inputs: Sequence[Distribution], draws: int, coverage: float, seed: int) -> None:
    require_fraction("coverage", coverage)
    if not inputs:
        raise InputRefused.of("inputs", "", "at least one distribution", "Give what varies.")
    for index, one in enumerate(inputs):
        _check_distribution(f"inputs[{index}]", one)
    fewest = math.ceil(_FEWEST_BEYOND / (1 - coverage))
    if draws < fewest:
        raise InputRefused.of("draws", draws, f"at least {fewest}", "Fewer say nothing of the interval's ends.")
    if seed < 0:
        raise InputRefused.of("seed", seed, "zero or a positive whole number", "Any will do; keep it.")


def _check_distribution(field: str, one: Distribution) -> None:
    require_finite(f"{field}.mean", one.mean)
    if isinstance(one, Rectangular | Triangular):
        require_not_negative(f"{field}.half_width", one.half_width)
        return
    require_not_negative(f"{field}.standard", one.standard)
    if isinstance(one, Student) and not 0 < one.degrees_of_freedom < math.inf:
        raise InputRefused.of(
            f"{field}.degrees_of_freedom", one.degrees_of_freedom, "a positive, finite number",
            "Without a limit, use Normal.",
        )  # fmt: skip
