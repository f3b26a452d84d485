"""Onset speeds of many draws of uncertain inputs, in chunks that anybody may run anywhere.

Each chunk has its own seed, made from the one seed and its number. So the same draws come whether one
core works through the chunks, or many machines share them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from hingeline.errors import InputRefused, RoutesDisagree
from hingeline.flutter.build import build_system
from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.coalescence import is_undamped
from hingeline.flutter.dotted import must_be_positive, value_of
from hingeline.flutter.model import FlutterTask, Quantiles, SpeedDistribution
from hingeline.flutter.onsets import Flags, Onsets, onsets_of
from hingeline.flutter.stacks import masses_of, stackable
from hingeline.flutter.system import Array
from hingeline.flutter.wake import wake_named
from hingeline.flutter.which_way import loops_for

CHUNK, SLOW_CHUNK = 1000, 25
"""Draws at once: of models that the fast scan takes, and of those found one by one."""
LARGEST = 10_000_000
PROBABILITIES = (0.025, 0.5, 0.975)
SAME = 1e-8
MOST_DRAWS = 1000

Progress = Callable[[int, int], bool | None]


@dataclass(frozen=True, slots=True)
class Chunk:
    """Which draws to make.

    Parameters
    ----------
    number, samples, seed : int
        Of this chunk, how many, and the seed of all.
    compiled : bool
        By compiled loops, where there is a compiler: the same answer, sooner.
    """

    number: int
    samples: int
    seed: int
    compiled: bool = False


@dataclass(frozen=True, slots=True)
class ChunkOutcome:
    """What a chunk's draws do.

    Parameters
    ----------
    speeds : tuple of float
        Onsets of those that have one [m/s].
    samples, growing, drawn_again : int
    begins_again : int, optional
        Of how many growth ends within the range and begins again; None in a chunk kept from before it was counted.
    """

    speeds: tuple[float, ...]
    samples: int
    growing: int
    drawn_again: int
    begins_again: int | None = None


Runner = Callable[[Callable[[tuple[FlutterTask, Chunk]], ChunkOutcome], list[tuple[FlutterTask, Chunk]]],
                  Iterable[ChunkOutcome]]  # fmt: skip


def scatter_onsets(
    task: FlutterTask, samples: int, *, seed: int = 0, below: float | None = None,
    progress: Progress | None = None, run: Runner = map, compiled: bool | None = None,
) -> SpeedDistribution | None:  # fmt: skip
    """Find how the onset speed scatters with the uncertain inputs of a task.

    Parameters
    ----------
    task : FlutterTask
        With ``scatter``: Gaussian, independent; a draw that turns a positive field to zero or below, or makes a
        body that cannot be, is drawn again and counted.
    samples : int
    seed : int
        From 0 on.
    below : float, optional
        Speed of which the part of all samples below is wanted [m/s]; those that grow at the lowest speed count.
    progress : callable, optional
        Called with samples done and samples in all after each chunk; answers False to stop.
    run : callable
        As ``map``: takes a function and a list of arguments, and gives the results in order. A pool of threads, of
        processes, or a cluster has one; the chunks and their seeds are the same for all, and so is the answer.
    compiled : bool, optional
        Whether by compiled loops, if there is a compiler; left out, where there are enough samples to pay for its
        start. Both ways agree to a part in 10^12.

    Returns
    -------
    SpeedDistribution or None
        Of the samples done; None where it was stopped before any.

    Raises
    ------
    InputRefused
        The task cannot be computed, or nothing in it scatters.
    RoutesDisagree
        The first sample of a chunk, found again thoroughly, has another onset.

    Examples
    --------
    >>> from hingeline.flutter import Air, FlutterTask, ScatteredField, Section, scatter_onsets
    >>> strip = Section(("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_static_moment=0.55, pitch_inertia=0.33,
    ...                 plunge_stiffness=12800.0, pitch_stiffness=1300.0)
    >>> given = FlutterTask(Air(density=1.225), (2.0, 100.0), section=strip,
    ...                     scatter=(ScatteredField("section.pitch_inertia", relative=0.02),))
    >>> found = scatter_onsets(given, 50, seed=1)
    >>> found.samples, found.flutter_fraction
    (50, 1.0)
    """
    refuse_unusable(task)
    _refuse_samples(task, samples, seed)
    if below is not None and not 0.0 < below < np.inf:
        raise InputRefused.of("below", below, "a true airspeed above 0 m/s", "Leave it out to ask for no part.")
    done: list[ChunkOutcome] = []
    for outcome in run(_outcome, [(task, chunk) for chunk in chunks_of(task, samples, seed, compiled)]):
        done.append(outcome)
        if progress is not None and progress(sum(one.samples for one in done), samples) is False:
            break
    return _distribution(done, seed, below) if done else None


def chunks_of(task: FlutterTask, samples: int, seed: int, compiled: bool | None = None) -> list[Chunk]:
    """Divide the draws: the same for every way to run them, smaller ones where each onset takes long.

    Parameters
    ----------
    task : FlutterTask
    samples, seed : int
    compiled : bool, optional
        As of :func:`scatter_onsets`.

    Returns
    -------
    list of Chunk
    """
    system = build_system(task)
    size = CHUNK if stackable(system) and not is_undamped(system, wake_named(task.wake)) else SLOW_CHUNK
    by_loops = loops_for(samples, compiled) is not None
    counts = [min(size, samples - begin) for begin in range(0, samples, size)]
    return [Chunk(number, count, seed, by_loops) for number, count in enumerate(counts)]


def _refuse_samples(task: FlutterTask, samples: int, seed: int) -> None:
    if not 0 < samples <= LARGEST:
        raise InputRefused.of("samples", samples, f"from 1 to {LARGEST:,}", "10000 is usual.")
    if seed < 0:
        raise InputRefused.of("seed", seed, "a whole number from 0 on", "Leave it out for 0.")
    if not task.scatter:
        raise InputRefused.of("scatter", "nothing", "at least one field that scatters", "Write a table [scatter].")


def _outcome(given: tuple[FlutterTask, Chunk]) -> ChunkOutcome:
    return scatter_chunk(*given)


def scatter_chunk(task: FlutterTask, chunk: Chunk) -> ChunkOutcome:
    """Work one chunk.

    Parameters
    ----------
    task : FlutterTask
    chunk : Chunk

    Returns
    -------
    ChunkOutcome

    Raises
    ------
    RoutesDisagree
        The first sample, found again by the k-method and by counting, has another onset.
    """
    names = [one.field for one in task.scatter]
    values, again = draws(task, chunk)
    found = onsets_of(task, names, values, loops=loops_for(chunk.samples, chunk.compiled))
    _confirm(found, onsets_of(task, names, values[:1], thorough=True))
    speeds = found.speeds[np.isfinite(found.speeds)]
    twice = None if found.begins_again is None else int(found.begins_again.sum())
    return ChunkOutcome(tuple(speeds.tolist()), chunk.samples, int(found.growing.sum()), again, twice)


def _confirm(found: Onsets, second: Onsets) -> None:
    first, again = float(found.speeds[0]), float(second.speeds[0])
    same = first == again or abs(first - again) <= SAME * again
    if not same or found.growing[0] != second.growing[0]:
        raise RoutesDisagree("onset speed of a sample", repr(first), repr(again), f"{SAME} of it")


def draws(task: FlutterTask, chunk: Chunk) -> tuple[Array, int]:
    """Draw the fields of a chunk.

    Parameters
    ----------
    task : FlutterTask
    chunk : Chunk

    Returns
    -------
    array (s, f)
        [SI]
    int
        How many samples were drawn again.
    """
    generator = np.random.default_rng(np.random.SeedSequence(chunk.seed, spawn_key=(chunk.number,)))
    centres = np.array([value_of(task, one.field) for one in task.scatter])
    spreads = np.array([one.deviation(centre) for one, centre in zip(task.scatter, centres.tolist(), strict=True)])
    positive = np.array([must_be_positive(task, one.field) for one in task.scatter])
    # A field that is zero on purpose, such as a free control's stiffness, stays zero under a relative deviation.
    positive &= spreads > 0
    values = centres + spreads * generator.standard_normal((chunk.samples, len(centres)))
    again = 0
    for _ in range(MOST_DRAWS):
        usable = ~((values <= 0) & positive).any(axis=1)
        usable[usable] = _bodies(task, values[usable])
        (bad,) = np.nonzero(~usable)
        if not len(bad):
            return values, again
        again += len(bad)
        values[bad] = centres + spreads * generator.standard_normal((len(bad), len(centres)))
    raise InputRefused.of(
        "scatter", f"{chunk.samples} samples", "deviations small enough that a draw is a body that can be",
        "Hardly a draw had all masses, inertias and stiffnesses above zero.",
    )  # fmt: skip


def _bodies(task: FlutterTask, values: Array) -> Flags:
    """Say which draws are bodies that can be: no motion without kinetic energy."""
    masses = masses_of(task, [one.field for one in task.scatter], values)
    unit = 1 / np.sqrt(np.abs(np.einsum("sii->si", masses)) + np.finfo(float).tiny)
    return np.asarray(np.linalg.eigvalsh(masses * unit[:, :, None] * unit[:, None, :]).min(axis=1) > 0)


def _distribution(done: list[ChunkOutcome], seed: int, below: float | None) -> SpeedDistribution:
    speeds = np.array([speed for one in done for speed in one.speeds])
    samples, growing = sum(one.samples for one in done), sum(one.growing for one in done)
    part = None if below is None else float((np.sum(speeds < below) + growing) / samples)
    return SpeedDistribution(
        samples=samples,
        drawn_again=sum(one.drawn_again for one in done),
        flutter_fraction=len(speeds) / samples,
        growing_at_lowest_fraction=growing / samples,
        quantiles=Quantiles(
            *(float(np.quantile(speeds, probability)) if len(speeds) else None for probability in PROBABILITIES)
        ),
        below=below,
        fraction_below=part,
        seed=seed,
        begins_again_fraction=_part_again(done, samples),
    )


def _part_again(done: list[ChunkOutcome], samples: int) -> float | None:
    counts = [one.begins_again for one in done if one.begins_again is not None]
    return sum(counts) / samples if len(counts) == len(done) else None
