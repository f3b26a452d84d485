"""Compiled loops and NumPy give one answer, to a part in 10^12; where there is no compiler NumPy does it all."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import astuple, replace
from typing import Any

import numpy as np
import pytest

from hingeline.flutter import which_way
from hingeline.flutter.build import build_system
from hingeline.flutter.counting import count_growing
from hingeline.flutter.counting_many import count_growing_many
from hingeline.flutter.determinants import expand
from hingeline.flutter.fast_scan import Crossings, scan
from hingeline.flutter.model import Air, ScatteredField, SpeedDistribution
from hingeline.flutter.onsets import growing_at
from hingeline.flutter.roots import roots_by_speed
from hingeline.flutter.scatter import Chunk, scatter_chunk, scatter_onsets
from hingeline.flutter.stacks import stacked
from hingeline.flutter.system import AeroelasticSystem, Wake
from hingeline.flutter.wake import no_lag, slope_of, theodorsen, two_lag
from hingeline.flutter.which_way import CompiledLoops, compiled_loops, loops_for
from tests.doors.checkouts import ROOT
from tests.hingeline.flutter.models import RIG, STRIP, WITH_TAB, task
from tests.hingeline.flutter.test_fast_scan import strips, wings
from tests.laws.test_flutter_search import RANGE, random_task

AGREE = 1e-12
SCATTERED = task(
    RIG, (0.5, 40.0),
    scatter=tuple(ScatteredField(f"section.{name}", 0.05) for name in ("pitch_inertia", "surface_static_moment")),
)  # fmt: skip


@pytest.fixture(scope="module")
def loops() -> CompiledLoops:
    """Give the compiled loops; the tests' environment has a compiler."""
    found = compiled_loops()
    assert found is not None
    return found


def both_ways(systems: list[AeroelasticSystem], loops: CompiledLoops, wake: Wake = theodorsen) -> list[Crossings]:
    """Scan by NumPy, then by compiled loops."""
    stack = stacked(systems)
    return [scan(expand(stack), RANGE, wake), scan(expand(stack, loops.expanded), RANGE, wake, loops)]


def check_same(one: Crossings, other: Crossings) -> None:
    """Claim that both found the same points, to a part in 10^12."""
    assert one.sample.tolist() == other.sample.tolist()
    assert one.into.tolist() == other.into.tolist()
    assert other.speed == pytest.approx(one.speed, rel=AGREE)
    assert other.angular_frequency == pytest.approx(one.angular_frequency, rel=AGREE)


@pytest.mark.slow
def test_both_ways_agree_on_two_thousand_random_strips(loops: CompiledLoops) -> None:
    """On 2,000 wide random strips compiled loops and NumPy find the same crossings, to a part in 10^12."""
    one, other = both_ways(strips(range(2000)), loops)

    assert len(one.sample) > 1800
    check_same(one, other)


@pytest.mark.campaign
@pytest.mark.parametrize("first", range(2000, 22_000, 4000))
def test_both_ways_agree_on_twenty_thousand_random_strips(first: int, loops: CompiledLoops) -> None:
    """On 20,000 more random strips compiled loops and NumPy find the same crossings, to a part in 10^12."""
    check_same(*both_ways(strips(range(first, first + 4000)), loops))


@pytest.mark.slow
@pytest.mark.parametrize("wake", [theodorsen, two_lag, no_lag])
def test_both_ways_agree_for_every_wake_and_number_of_freedoms(wake: Wake, loops: CompiledLoops) -> None:
    """Without damping, for two freedoms, and for each wake function, both ways find the same crossings."""
    for freedoms in (("plunge", "pitch"), ("pitch", "surface"), ("plunge", "pitch", "surface")):
        for section in (STRIP, replace(STRIP, surface_stiffness=0.0, surface_static_moment=0.05)):
            system = build_system(task(replace(section, freedoms=freedoms), RANGE))
            check_same(*both_ways([system], loops, wake))


@pytest.mark.slow
def test_both_ways_say_the_same_samples_grow(loops: CompiledLoops) -> None:
    """At three speeds both ways say of the same random strips that something grows."""
    stack = stacked(strips(range(400, 600)))
    whole = expand(stack)
    for speed in (1.0, 12.0, 60.0):
        one, other = (growing_at(stack, whole, speed, theodorsen, way) for way in (None, loops))
        assert one.tolist() == other.tolist()
        assert 0 < one.sum() < 200


@pytest.mark.slow
@pytest.mark.parametrize("sections", [20, pytest.param(60, marks=pytest.mark.campaign)])
def test_both_ways_follow_the_same_roots(loops: CompiledLoops, sections: int) -> None:
    """Over a sweep of speeds, viscous damping included, both ways give every root under one number, to 1e-12 of it."""
    speeds, followed = np.linspace(2.0, 60.0, 12).tolist(), 0
    for seed in range(sections):
        system = build_system(random_task(seed))
        one, other = (roots_by_speed(system, speeds, theodorsen, way) for way in (None, loops))
        followed += loops.follow_roots(system, speeds, theodorsen) is not None
        assert [list(row) for row in one] == [list(row) for row in other], f"seed {seed}"
        apart = [
            abs(row[mode] - twin[mode]) / abs(row[mode]) for row, twin in zip(one, other, strict=True) for mode in row
        ]
        assert max(apart, default=0.0) < AGREE, f"seed {seed}"
    assert followed > sections // 3


@pytest.mark.slow
def test_scatter_is_the_same_both_ways() -> None:
    """A whole distribution of onsets, fractions and draws included, is the same with a compiler and without."""
    one, other = (scatter_onsets(SCATTERED, 2500, seed=7, below=23.5, compiled=way) for way in (False, True))
    assert isinstance(one, SpeedDistribution)
    assert isinstance(other, SpeedDistribution)
    assert replace(one, quantiles=other.quantiles) == other
    assert astuple(other.quantiles) == pytest.approx(astuple(one.quantiles), rel=AGREE)


@pytest.mark.slow
def test_wake_inside_the_loops_is_the_wake() -> None:
    """C of steady, growing and dying motion is that of ``wake`` to 1e-14, and its slope to 1e-10."""
    from hingeline.flutter import compiled_wake as loop

    generator = np.random.default_rng(5)
    logs = generator.uniform(np.log(1e-5), np.log(1e5), 400)
    for wake in (theodorsen, two_lag, no_lag):
        table, kind = loop.table_of(wake), loop.kind_of(wake)
        steady = np.array([loop.on_the_line(table, log) for log in logs])
        assert steady[:, 0] == pytest.approx(wake(1j * np.exp(logs)), abs=2e-15)
        assert steady[:, 1] == pytest.approx(slope_of(wake)(1j * np.exp(logs)) * 1j * np.exp(logs), abs=1e-10)
        assert [loop.value_on_the_line(table, log) for log in logs] == pytest.approx(steady[:, 0], abs=1e-15)
        for window in (np.linspace(-0.3, -0.1, 19), np.linspace(-3.0, 2.0, 9)):
            found = np.zeros((3, len(window)))
            loop.along_the_line(table, window, found)
            assert found[1] + 1j * found[2] == pytest.approx(wake(1j * np.exp(window)), abs=2e-15)
            assert found[0] == pytest.approx(np.exp(-window), rel=1e-15)
        places = np.exp(logs + 1j * generator.uniform(-2.6, 2.6, 400))
        any_motion = np.array([loop.beside_the_line(table, kind, s) for s in places])
        assert any_motion[:, 0] == pytest.approx(wake(places), abs=1e-14)
        assert any_motion[:, 1] * places == pytest.approx(slope_of(wake)(places) * places, abs=1e-10)


@pytest.mark.parametrize("damping", [0.0, 0.02])
def test_determinants_are_those_of_numpy_to_the_last_bit(damping: float, loops: CompiledLoops) -> None:
    """Every coefficient of two and three freedoms is NumPy's own; with structural damping to the last digit."""
    for freedoms in (("plunge", "pitch"), ("plunge", "pitch", "surface")):
        tasks = [
            task(replace(STRIP, freedoms=freedoms, mass=mass), structural_damping=(damping,)) for mass in (9.0, 16)
        ]
        stack = stacked([build_system(one) for one in tasks])
        one, other = expand(stack).values, expand(stack, loops.expanded).values
        assert one.shape == other.shape
        assert np.abs(one - other).max() <= (4e-16 * np.abs(one).max() if damping else 0.0)


def test_a_whole_number_is_divided_as_one() -> None:
    """Inside a loop 1/(2 + 3i) is that, and anything over nought is infinite."""
    from hingeline.flutter.compiled_polynomial import divided

    assert divided(1, 2 + 3j) == pytest.approx(1 / (2 + 3j), rel=1e-15)
    assert divided(1 + 2j, 0j).real == np.inf


def test_what_the_loops_hand_back_is_done_by_numpy() -> None:
    """Where loops hand back every sample, or every second one, the answer is NumPy's to the last digit."""
    systems = strips(range(40))
    whole = expand(stacked(systems))
    plain = scan(whole, RANGE, theodorsen)

    def nothing(part: Any, *_: object) -> tuple[Any, Any, Any]:
        size = len(part.semichord)
        return np.full(size, -1), np.zeros((size, 16, 2)), np.zeros((size, 16), dtype=bool)

    handed = scan(whole, RANGE, theodorsen, fake(scan_samples=nothing))
    unknown = scan(whole, RANGE, theodorsen, fake(take=lambda *_: False))
    for found in (handed, unknown):
        assert found.speed.tolist() == plain.speed.tolist()
        assert found.sample.tolist() == plain.sample.tolist()


def in_air_of_the_first(systems: list[AeroelasticSystem]) -> list[AeroelasticSystem]:
    """Give systems with masses, stiffnesses and dampings of their own in one air."""
    return [
        replace(systems[0], mass=one.mass, stiffness=one.stiffness, structural_damping=one.structural_damping)
        for one in systems
    ]


def two_freedoms(number: int) -> list[AeroelasticSystem]:
    """Give strips that plunge and pitch, with the axis of gravity ahead of the twist's or behind it."""
    plain = replace(STRIP, freedoms=("plunge", "pitch"), hinge_line=0.0, surface_static_moment=0.0, surface_inertia=0.0,
                    surface_stiffness=0.0)  # fmt: skip
    places = np.linspace(-0.5, 1.1, number)
    return [build_system(task(replace(plain, pitch_static_moment=float(place)))) for place in places]


@pytest.mark.slow
def test_what_grows_in_one_air_is_counted_as_one_by_one(loops: CompiledLoops) -> None:
    """Random strips and wings, two freedoms and free surfaces among them: compiled loops count what counting one does.

    Nothing grows in some of them and one motion in others; a system whose root lies nearer to the path than
    the loops look is handed back and counted all the same.
    """
    found = set()
    for systems in (strips(range(400, 430)), wings(range(12)), two_freedoms(10)):
        alike = in_air_of_the_first(systems)
        stack = stacked(alike)
        for speed in (1.0, 12.0, 60.0):
            counts = count_growing_many(stack, expand(stack), speed, theodorsen, loops)
            assert counts.tolist() == [count_growing(system, speed, theodorsen) for system in alike]
            found |= set(counts.tolist())
    assert found == {0, 1}


def test_a_root_beside_the_path_is_handed_back(loops: CompiledLoops) -> None:
    """With next to no damping and no air to speak of a root lies 1e-7 beside the path: the loops do not guess."""
    given = replace(task(STRIP), structural_damping=(2e-7,), air=Air(density=1e-5))
    stack = stacked([build_system(given)])
    radii = (1e-4, 1e4)
    assert loops.count_in_one_air(stack, radii, 1.0, theodorsen).tolist() == [-1]
    assert count_growing_many(stack, expand(stack), 1.0, theodorsen, loops).tolist() == [0]


def fake(**changed: Any) -> CompiledLoops:
    """Give loops that do nothing but what is asked."""
    none = CompiledLoops(True, lambda *_: True, None, None, None, None, None)  # type: ignore[arg-type]
    return none._replace(**changed)


def test_a_sweep_that_the_loops_cannot_follow_is_numpys() -> None:
    """Where loops lose a root, and for four freedoms that they do not take, the roots are NumPy's to the last digit."""
    lost = fake(follow_roots=lambda *_: None)
    for given in (task(STRIP), task(WITH_TAB)):
        system = build_system(given)
        assert roots_by_speed(system, [5.0, 6.0], theodorsen, lost) == roots_by_speed(system, [5.0, 6.0], theodorsen)


def test_compiler_is_used_where_it_pays(monkeypatch: pytest.MonkeyPatch) -> None:
    """Few samples go without; many with, if loops are kept; very many always; and the caller may decide."""
    for kept, expected in ((True, [False, True, True]), (False, [False, False, True])):
        monkeypatch.setattr(which_way, "compiled_loops", lambda kept=kept: fake(kept=kept))
        assert [loops_for(samples) is not None for samples in (9_999, 10_000, 200_000)] == expected
        assert loops_for(1, True) is not None
        assert loops_for(1_000_000, False) is None


WITHOUT = """
import sys
sys.modules["numba"] = None
from tests.hingeline.flutter.test_compiled_loops import SCATTERED
from hingeline.flutter.scatter import Chunk, scatter_chunk
from hingeline.flutter.which_way import compiled_loops
print(compiled_loops())
print(scatter_chunk(SCATTERED, Chunk(0, 20, 1, compiled=True)))
"""


def test_without_a_compiler_nothing_is_missing_and_nothing_said() -> None:
    """With the compiler blocked the library starts, and a chunk that asked for it is NumPy's to the last digit."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", WITHOUT], cwd=ROOT, capture_output=True, text=True, check=False,
        env={"PYTHONPATH": f"{ROOT / 'src'}:{ROOT}"},
    )  # fmt: skip
    assert done.stderr == ""
    assert done.stdout == f"None\n{scatter_chunk(SCATTERED, Chunk(0, 20, 1))}\n"


@pytest.mark.slow
def test_flutter_starts_without_the_compiler() -> None:
    """An analysis and a small scatter leave the compiler alone: its import costs more than they do."""
    code = (
        "import sys; from tests.hingeline.flutter.test_compiled_loops import SCATTERED\n"
        "from hingeline.flutter import analyse, scatter_onsets\n"
        "analyse(SCATTERED); scatter_onsets(SCATTERED, 20); print('numba' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False,
        env={"PYTHONPATH": f"{ROOT / 'src'}:{ROOT}"},
    )  # fmt: skip
    assert (done.stdout, done.stderr) == ("False\n", "")
