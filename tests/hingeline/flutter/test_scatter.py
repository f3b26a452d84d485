"""Scatter and sweeps: the same draws everywhere, nothing left out of the fractions."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import astuple, replace
from multiprocessing import get_context
from typing import Any

import numpy as np
import pytest

from hingeline.errors import InputRefused, RoutesDisagree
from hingeline.flutter import onsets as onsets_room
from hingeline.flutter import scatter as room
from hingeline.flutter.model import FlutterTask, ScatteredField
from hingeline.flutter.onsets import Onsets, begin_again, onsets_of
from hingeline.flutter.scatter import Chunk, ChunkOutcome, chunks_of, draws, scatter_chunk, scatter_onsets
from hingeline.flutter.solve import analyse
from hingeline.flutter.sweeps import sweep, two_way_map
from tests.hingeline.flutter.models import RIG, STRIP, WITH_TAB, task

FIELDS = ("pitch_inertia", "pitch_stiffness", "surface_static_moment")
SCATTERED = task(RIG, (0.5, 40.0), scatter=tuple(ScatteredField(f"section.{name}", 0.05) for name in FIELDS))


def test_one_seed_gives_one_answer() -> None:
    """The same seed gives the same distribution to the last digit, another seed another one."""
    first, second, other = (scatter_onsets(SCATTERED, 300, seed=seed) for seed in (4, 4, 5))

    assert first == second
    assert first is not None
    assert other is not None
    assert first.quantiles != other.quantiles


def test_an_altitude_scatters_to_both_sides_of_sea_level() -> None:
    """At 0 m with 100 m of uncertainty half the draws lie below, and none is drawn again for it."""
    given = replace(
        SCATTERED,
        air=replace(SCATTERED.air, density=None, altitude=0.0),
        scatter=(ScatteredField("air.altitude", standard_uncertainty=100.0),),
    )
    drawn, again = draws(given, Chunk(0, 1000, 1))

    assert again == 0
    assert abs(drawn.mean()) < 4.0 * 100.0 / np.sqrt(1000)


def test_chunks_may_be_worked_anywhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """Chunks shared among workers give what one worker gives, and each chunk can be had alone."""
    monkeypatch.setattr(room, "CHUNK", 60)
    alone = scatter_onsets(SCATTERED, 200, seed=9)
    with ThreadPoolExecutor(2) as pool:
        shared = scatter_onsets(SCATTERED, 200, seed=9, run=pool.map)

    assert shared == alone
    assert scatter_chunk(SCATTERED, Chunk(3, 20, 9)).samples == 20
    assert draws(SCATTERED, Chunk(0, 60, 9))[0][0].tolist() != draws(SCATTERED, Chunk(1, 60, 9))[0][0].tolist()


@pytest.mark.slow
def test_processes_give_what_one_core_gives() -> None:
    """Two chunks in two processes, compiled loops and NumPy, give to the last digit what one core gives."""
    given = replace(SCATTERED, wake="two-lag")
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        for compiled in (False, True):
            shared = scatter_onsets(given, 1200, seed=9, run=pool.map, compiled=compiled)
            assert shared == scatter_onsets(given, 1200, seed=9, compiled=compiled)


TWO_RANGES = replace(
    RIG, surface_static_moment=0.00225, surface_stiffness=1.1, pitch_static_moment=0.0629, pitch_stiffness=38.1
)


def test_growth_that_ends_and_begins_again_is_counted() -> None:
    """A hump of the control below the onset of bending and twist: two ranges in every draw, told beside the quantiles.

    The quantiles are of the lower one, so that without it they would say nothing of the upper.
    """
    hump = task(TWO_RANGES, (2.0, 120.0), scatter=(ScatteredField("section.pitch_inertia", 0.002),))
    crossings = [one.direction for one in analyse(replace(hump, scatter=())).crossings]
    found = scatter_onsets(hump, 40)
    assert crossings == ["into", "out of", "into"]
    assert found is not None
    assert (found.flutter_fraction, found.begins_again_fraction) == (1.0, 1.0)
    one_range = scatter_onsets(replace(hump, section=RIG), 20)
    assert one_range is not None
    assert one_range.begins_again_fraction == 0.0


@pytest.mark.slow
def test_growth_that_begins_again_is_found_by_both_ways() -> None:
    """Twenty-five rigs of widely drawn springs and moments: the scan and the search one by one name the same."""
    given = task(RIG, (2.0, 120.0), scatter=(ScatteredField("section.surface_stiffness", 0.1),))
    names = [f"section.{name}" for name in ("surface_static_moment", "surface_stiffness", "pitch_static_moment")]
    centres = np.array([0.00225, 1.1, 0.0629])
    values = centres * np.exp(np.random.default_rng(2).normal(size=(25, 3)) * np.array([0.3, 0.6, 0.2]))
    fast, slow = (onsets_of(given, names, values, thorough=thorough) for thorough in (False, True))
    assert fast.begins_again is not None
    assert slow.begins_again is not None
    assert fast.begins_again.tolist() == slow.begins_again.tolist()
    assert 0 < fast.begins_again.sum() < 25


@pytest.mark.parametrize(
    ("directions", "growing", "again"),
    [
        ((), 0, False), ((), 2, False), (("into",), 0, False), (("into", "out of"), 0, False),
        (("into", "out of", "into"), 0, True), (("into", "into", "out of"), 0, False),
        (("into", "into", "out of", "into"), 0, False), (("out of",), 1, False), (("out of", "into"), 1, True),
        (("out of", "into"), 2, False), (("out of", "out of", "into"), 2, True),
    ],
)  # fmt: skip
def test_growth_begins_again_only_where_nothing_grew_between(
    directions: tuple[str, ...], growing: int, again: bool
) -> None:
    """Counted by hand: motions that grow at the lowest speed, then one more or one less at each crossing."""
    into = np.array([one == "into" for one in directions], dtype=bool)
    # Beside a sample that has one crossing of its own: nothing is carried over from one to the other.
    sample = np.array([0] + [1] * len(into))
    found = begin_again(sample, np.append(True, into), np.array([0, growing]))
    assert found.tolist() == [False, again]


def test_a_chunk_kept_from_before_it_was_counted_leaves_the_part_unsaid() -> None:
    """A study stopped by an earlier version and taken up again would count too few."""
    kept = ChunkOutcome((20.0,), 1, 0, 0)
    counted = ChunkOutcome((20.0,), 1, 0, 0, 1)
    assert room._distribution([kept, counted], 0, None).begins_again_fraction is None
    assert room._distribution([counted, counted], 0, None).begins_again_fraction == 1.0


def test_slow_models_come_in_small_chunks() -> None:
    """What is found one by one is divided finely, so that stopping is quick and sharing even; nothing is left out."""
    slow = replace(SCATTERED, damping_ratios=(0.01, 0.01, 0.01))
    for given, size in ((SCATTERED, 1000), (slow, 25)):
        chunks = chunks_of(given, 1030, 3)
        assert [chunk.number for chunk in chunks] == list(range(len(chunks)))
        assert sum(chunk.samples for chunk in chunks) == 1030
        assert max(chunk.samples for chunk in chunks) == size


def test_distribution_without_spread_is_the_onset() -> None:
    """With deviations of a billionth every quantile is the onset that the full analysis gives."""
    tiny = replace(SCATTERED, scatter=(ScatteredField("section.pitch_inertia", 1e-9),))
    found, exact = scatter_onsets(tiny, 50), analyse(replace(tiny, scatter=())).flutter
    assert found is not None
    assert exact is not None
    assert astuple(found.quantiles) == pytest.approx([exact.speed] * 3, rel=1e-7)


def test_draws_have_the_spread_that_was_asked_for() -> None:
    """A relative deviation and a stated standard uncertainty come out of 1,000 draws within four standard errors."""
    given = replace(
        SCATTERED,
        scatter=(
            ScatteredField("section.pitch_inertia", 0.02),
            ScatteredField("section.hinge_line", standard_uncertainty=0.01),
        ),
    )
    values, again = draws(given, Chunk(0, 1000, 1))
    for column, centre, spread in ((0, RIG.pitch_inertia, 0.02 * RIG.pitch_inertia), (1, 0.5, 0.01)):
        assert abs(values[:, column].mean() - centre) < 4 * spread / np.sqrt(1000)
        assert abs(values[:, column].std() / spread - 1) < 4 / np.sqrt(2000)
    assert again == 0


def test_what_cannot_be_is_drawn_again_and_counted() -> None:
    """A stiffness is never drawn at or below zero, a static moment may be; both ways of drawing again count."""
    wild = (ScatteredField("section.surface_stiffness", 0.6), ScatteredField("section.surface_static_moment", 0.6))
    values, again = draws(replace(SCATTERED, scatter=wild), Chunk(0, 1000, 2))

    assert values[:, 0].min() > 0.0
    assert values[:, 1].min() < 0.0
    # Of a Gaussian 4.8 % lie below zero at 1/0.6 standard deviations.
    assert 20 < again < 120
    # A static moment of 0.2 ± 0.2 kg would need more than the rig's inertias can carry in most draws.
    impossible = (ScatteredField("section.pitch_static_moment", standard_uncertainty=0.2),)
    moments, more = draws(replace(SCATTERED, scatter=impossible), Chunk(0, 200, 2))
    assert more > 20
    assert np.all(moments**2 < RIG.pitch_inertia * 3.3843)


def test_hopeless_deviations_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where hardly a draw can be, the refusal says so instead of drawing for ever."""
    monkeypatch.setattr(room, "MOST_DRAWS", 3)
    hopeless = (ScatteredField("section.pitch_static_moment", standard_uncertainty=50.0),)
    with pytest.raises(InputRefused, match="deviations small enough"):
        draws(replace(SCATTERED, scatter=hopeless), Chunk(0, 50, 2))


def test_a_free_control_stays_free() -> None:
    """A stiffness of zero under a relative deviation stays zero and is not drawn again for ever."""
    free = task(
        replace(RIG, surface_stiffness=0.0), (0.5, 40.0), scatter=(ScatteredField("section.surface_stiffness", 0.1),)
    )
    values, again = draws(free, Chunk(0, 20, 0))

    assert not values.any()
    assert again == 0


def test_growing_at_the_lowest_speed_counts_as_below() -> None:
    """A tab and control both free grow at every speed: no crossing, no quantile, and all of them lie below."""
    both_free = task(
        replace(WITH_TAB, surface_stiffness=0.0, tab_stiffness=0.0), (2.0, 60.0),
        scatter=(ScatteredField("section.pitch_inertia", 0.01),), structural_damping=(0.02,),
    )  # fmt: skip
    found = scatter_onsets(both_free, 4, below=10.0)
    assert found is not None

    assert (found.flutter_fraction, found.growing_at_lowest_fraction, found.fraction_below) == (0.0, 1.0, 1.0)
    assert astuple(found.quantiles) == (None, None, None)


def test_fraction_below_is_counted_from_the_draws() -> None:
    """The part below a speed is what the chunk's own onsets say."""
    found = scatter_onsets(SCATTERED, 400, seed=3, below=23.5)
    speeds = np.array(scatter_chunk(SCATTERED, Chunk(0, 400, 3)).speeds)
    assert found is not None
    assert found.fraction_below == np.mean(speeds < 23.5)
    assert 0.1 < found.fraction_below < 0.9
    assert found.quantiles.middle == np.median(speeds)


def test_scatter_stops_when_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer of False ends it after that chunk, and the distribution says how many samples it has."""
    monkeypatch.setattr(room, "CHUNK", 50)
    seen: list[tuple[int, int]] = []

    def progress(done: int, total: int) -> bool:
        seen.append((done, total))
        return done < 100

    found = scatter_onsets(SCATTERED, 400, progress=progress)
    assert found is not None
    assert found.samples == 100
    assert seen == [(50, 400), (100, 400)]


def test_a_wrong_onset_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the scan and the thorough way differ on a chunk's first sample, nothing is given out."""
    scan = onsets_room.scan

    def wrong(*given: object) -> object:
        found = scan(*given)  # type: ignore[arg-type]
        return replace(found, speed=found.speed * (1 + 1e-6))

    monkeypatch.setattr(onsets_room, "scan", wrong)
    with pytest.raises(RoutesDisagree, match="onset speed of a sample"):
        scatter_onsets(SCATTERED, 20)


@pytest.mark.parametrize(
    ("given", "samples", "seed", "sentence"),
    [
        (SCATTERED, 0, 0, "10000 is usual"),
        (SCATTERED, 10, -1, "a whole number from 0 on"),
        (replace(SCATTERED, scatter=()), 10, 0, r"Write a table \[scatter\]"),
    ],
)
def test_what_cannot_scatter_is_refused(given: FlutterTask, samples: int, seed: int, sentence: str) -> None:
    """No samples, a seed below zero, and nothing uncertain are each refused with a remedy."""
    with pytest.raises(InputRefused, match=sentence):
        scatter_onsets(given, samples, seed=seed)


@pytest.mark.parametrize("below", [float("nan"), float("inf"), 0.0, -3.0])
def test_a_part_below_no_speed_is_refused(below: float) -> None:
    """Below "nan" the part would be that of the models growing from the start alone, and read as a finding."""
    with pytest.raises(InputRefused, match=r"below.*a true airspeed above 0 m/s"):
        scatter_onsets(SCATTERED, 10, below=below)


@pytest.mark.slow
def test_a_sweep_gives_what_each_variant_gives() -> None:
    """Every point of a sweep is the onset of the task with that value, or none as it says."""
    given = task(STRIP, (2.0, 100.0), structural_damping=(0.02,))
    values = (-0.02, 0.03, 0.06)
    for value, point in zip(values, sweep(given, "section.surface_static_moment", values), strict=True):
        result = analyse(replace(given, section=replace(STRIP, surface_static_moment=value)))
        assert point.values == (value,)
        assert point.growing_at_lowest_speed == result.growing_at_lowest_speed
        assert (point.speed is None) == (result.flutter is None)
        if result.flutter is not None:
            assert point.speed == pytest.approx(result.flutter.speed, rel=1e-9)


def test_a_map_is_a_sweep_of_sweeps() -> None:
    """A two-way map has the sweeps of its second field as rows, one below the other."""
    given, fields = task(RIG, (2.0, 40.0)), ("section.surface_static_moment", "air.density")
    found = two_way_map(given, fields, (0.002, 0.004), (0.9, 1.225, 1.3))
    rows = [sweep(replace(given, section=replace(RIG, surface_static_moment=one)), "air.density", (0.9, 1.225, 1.3))
            for one in (0.002, 0.004)]  # fmt: skip

    assert [point.values for point in found[:4]] == [(0.002, 0.9), (0.002, 1.225), (0.002, 1.3), (0.004, 0.9)]
    assert [point.speed for point in found] == pytest.approx([point.speed for row in rows for point in row], rel=1e-10)


def test_a_sweep_refuses_what_cannot_be() -> None:
    """A value that no aircraft has, and one field twice, are refused."""
    with pytest.raises(InputRefused, match=r"section\.mass"):
        sweep(SCATTERED, "section.mass", [1.5, -1.0])
    with pytest.raises(InputRefused, match="two different fields"):
        two_way_map(SCATTERED, ("section.mass", "section.mass"), [1.0], [1.0])


def test_a_sweep_stops_when_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer of False ends a sweep with the points that were done."""
    monkeypatch.setattr("hingeline.flutter.sweeps.AT_ONCE", 2)
    found = sweep(SCATTERED, "section.mass", [1.5, 1.6, 1.7, 1.8], progress=lambda done, total: done < 2)

    assert len(found) == 2


@pytest.mark.slow
def test_a_sweep_may_be_worked_anywhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parts that come from threads, worked in any order, are the sweep of one core to the last bit."""
    monkeypatch.setattr("hingeline.flutter.sweeps.AT_ONCE", 2)
    values = [1.5, 1.6, 1.7, 1.8, 1.9]
    with ThreadPoolExecutor(2) as pool:
        assert sweep(SCATTERED, "section.mass", values, run=pool.map) == sweep(SCATTERED, "section.mass", values)


def test_a_wrong_onset_of_a_variant_is_no_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    """A sweep whose first onset differs from the one found three ways gives nothing out."""

    def off(*given: Any, **more: Any) -> Onsets:
        found = onsets_of(*given, **more)
        return Onsets(found.speeds * (1 + 1e-7), found.growing)

    monkeypatch.setattr("hingeline.flutter.sweeps.onsets_of", off)
    with pytest.raises(RoutesDisagree, match="onset speed of a variant"):
        sweep(SCATTERED, "section.mass", [1.5, 1.6])
