"""The fast scan misses nothing and invents nothing on wide random strips; its parts are what they say."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hingeline.flutter.build import build_system
from hingeline.flutter.counting import count_growing
from hingeline.flutter.counting_many import count_growing_many
from hingeline.flutter.determinants import expand
from hingeline.flutter.dotted import value_of
from hingeline.flutter.fast_scan import Crossings, scan
from hingeline.flutter.model import Aileron, AileronWeight, Air, FlutterTask, Section, Wing
from hingeline.flutter.neutral_points import NeutralPoint, find_neutral_points
from hingeline.flutter.onsets import growing_at, onsets_of
from hingeline.flutter.stacks import joined, stack_of, stackable, stacked
from hingeline.flutter.system import AeroelasticSystem, dynamic_matrix
from hingeline.flutter.variants import onsets_of_multiples
from hingeline.flutter.wake import slope_of, theodorsen, two_lag
from hingeline.flutter.which_way import compiled_loops
from tests.hingeline.flutter.models import RIG, STRIP, WITH_TAB, task
from tests.laws.test_flutter_search import RANGE, random_task


def strips(seeds: range) -> list[AeroelasticSystem]:
    """Give random strips without viscous damping: free surfaces, unequal g, no damping at all among them."""
    return [build_system(replace(random_task(seed), damping_ratios=())) for seed in seeds]


def missed(found: Crossings, number: int, points: tuple[NeutralPoint, ...]) -> list[tuple[float, float]]:
    """Give what one way finds and the other does not, speed and direction alike, to 1e-8."""
    mine = found.sample == number
    one = [(p.speed, p.angular_frequency, p.direction == "into") for p in points]
    other = list(zip(found.speed[mine].tolist(), found.angular_frequency[mine].tolist(), found.into[mine].tolist(),
                     strict=True))  # fmt: skip
    left = [point[:2] for point in one if not any(same(point, had) for had in other)]
    return left + [point[:2] for point in other if not any(same(point, had) for had in one)]


def same(one: tuple[float, float, bool], other: tuple[float, float, bool]) -> bool:
    """Say whether two crossings are one."""
    return bool(np.allclose(one[:2], other[:2], rtol=1e-8, atol=0.0)) and one[2] == other[2]


def check(seeds: range) -> int:
    """Compare the scan, by NumPy and by compiled loops, with the thorough way; give the number of crossings."""
    systems = strips(seeds)
    whole = expand(stacked(systems))
    both = [scan(whole, RANGE, theodorsen, loops) for loops in (None, compiled_loops())]
    for number, system in enumerate(systems):
        points = find_neutral_points(system, RANGE, theodorsen)
        for found in both:
            assert missed(found, number, points) == [], f"seed {seeds[number]}"
    return min(len(found.sample) for found in both)


@pytest.mark.slow
def test_nothing_is_missed_on_three_hundred_random_strips() -> None:
    """On 300 wide random strips the fast scan finds every crossing that the thorough way finds, and no other."""
    assert check(range(300)) > 270


@pytest.mark.campaign
@pytest.mark.parametrize("first", range(0, 10_000, 1000))
def test_nothing_is_missed_on_ten_thousand_random_strips(first: int) -> None:
    """On 10,000 wide random strips the fast scan finds every crossing that the thorough way finds, and no other."""
    assert check(range(first, first + 1000)) > 900


# Two zeros of R within one cell, beside a steep fall or another zero; or hardly any damping: each was once missed.
HARD = (2115, 2565, 2572, 4115, 4411, 5263, 5763, 6317, 6838, 22048, 24299, 27859, 27921)


@pytest.mark.parametrize("seed", HARD)
def test_two_crossings_in_one_cell_are_both_found(seed: int) -> None:
    """However the grid happens to lie, crossings at nearly one reduced frequency are all found."""
    (system,) = strips(range(seed, seed + 1))
    points = find_neutral_points(system, RANGE, theodorsen)
    for shift in (1.0, 1.01, 1.02, 1.03, 1.04, 1.05):
        whole = expand(stacked([system]))
        # A slower range reaches to higher reduced frequencies, and moves every point of the grid.
        found = scan(whole, (RANGE[0] / shift, RANGE[1]), theodorsen)
        inside = found.speed >= RANGE[0]
        kept = Crossings(found.sample[inside], found.speed[inside], found.angular_frequency[inside], found.into[inside])
        assert missed(kept, 0, points) == []


@pytest.mark.parametrize(
    "section", [STRIP, replace(STRIP, surface_stiffness=0.0), replace(STRIP, freedoms=("pitch", "surface"))]
)
@pytest.mark.parametrize("damping", [(0.0,), (0.03,), (0.01, 0.02, 0.03)])
def test_polynomial_is_the_determinant(section: Section, damping: tuple[float, ...]) -> None:
    """At complex roots the expanded polynomial is the determinant, up to one factor for all of them."""
    size = len(section.freedoms)
    system = build_system(task(section, structural_damping=damping[:size]))
    whole = expand(stacked([system]))
    ratios = []
    for p, speed in ((30j, 20.0), (-5 + 60j, 40.0), (8 + 25j, 70.0)):
        s = p * system.wakes[0].semichord / speed
        powers = (-p * p / whole.unit[0]) ** np.arange(4)
        value = powers @ whole.by_power(np.array([-1 / s]), theodorsen(s))[:, 0]
        value = value / powers[1] if size == 2 else value
        ratios.append(value / np.linalg.det(dynamic_matrix(system, p, speed, theodorsen)))
    assert ratios == pytest.approx([ratios[0]] * 3, rel=1e-11)


@pytest.mark.parametrize("wake", [theodorsen, two_lag])
def test_two_freedoms_and_other_wakes_are_scanned_too(wake: object) -> None:
    """Plunge and pitch alone, and the two-lag wake, have the crossings of the thorough way."""
    for freedoms in (("plunge", "pitch"), ("pitch", "surface"), ("plunge", "surface")):
        system = build_system(task(replace(STRIP, freedoms=freedoms), RANGE))
        whole = expand(stacked([system]))
        points = find_neutral_points(system, RANGE, wake)  # type: ignore[arg-type]
        assert missed(scan(whole, RANGE, wake), 0, points) == []  # type: ignore[arg-type]


@pytest.mark.slow
def test_growing_at_a_speed_is_what_counting_says() -> None:
    """For random strips at three speeds the roots found by Newton grow exactly where the count is not zero."""
    systems = strips(range(400, 440))
    stack = stacked(systems)
    whole = expand(stack)
    for speed in (1.0, 12.0, 60.0):
        found = growing_at(stack, whole, speed, theodorsen)
        assert found.tolist() == [count_growing(system, speed, theodorsen) > 0 for system in systems]


def test_straight_stack_is_what_is_built_one_by_one() -> None:
    """Matrices added up field by field are those of every variant built for itself."""
    names = ("section.mass", "section.surface_static_moment", "section.surface_stiffness", "section.pitch_inertia")
    rows = np.array([[1.5, 0.004, 4.1, 0.0131], [1.7, -0.001, 0.5, 0.0140]])
    given = task(RIG)
    straight = stack_of(given, names, rows)
    # One more field that is no straight line, left at its value, has them built one by one.
    slow = stack_of(given, (*names, "section.semichord"), np.column_stack([rows, [RIG.semichord] * 2]))
    assert straight is not None
    assert slow is not None
    for name in ("structure", "mass", "stiffness", "wake_damping"):
        assert getattr(straight, name) == pytest.approx(getattr(slow, name), rel=1e-13, abs=1e-16)


@pytest.mark.parametrize(
    "given",
    [
        task(RIG, (2.0, 40.0)),
        task(RIG, (2.0, 40.0), damping_ratios=(0.01, 0.01, 0.01)),
        task(RIG, (2.0, 40.0), wake="steady"),
        task(replace(RIG, surface_stiffness=0.0), (2.0, 40.0)),
        task(WITH_TAB, (2.0, 40.0), structural_damping=(0.02,)),
    ],
    ids=["scan", "viscous", "undamped", "free", "tab"],
)
def test_onsets_are_those_of_the_thorough_way(given: FlutterTask) -> None:
    """Whichever way a model takes, its variants have the onsets that the thorough way gives."""
    names, rows = ("section.pitch_inertia",), np.array([[0.012], [0.0135], [0.02]])
    if given.section is not None and "tab" in given.section.freedoms:
        rows = rows * 30
    fast, slow = (onsets_of(given, names, rows, thorough=thorough) for thorough in (False, True))
    assert fast.growing.tolist() == slow.growing.tolist()
    assert fast.speeds == pytest.approx(slow.speeds, rel=1e-9)


def test_what_the_scan_cannot_take_is_said() -> None:
    """Four freedoms, viscous damping and no variants at all are left to the thorough way."""
    assert not stackable(build_system(task(WITH_TAB)))
    assert not stackable(build_system(task(STRIP, damping_ratios=(0.01, 0.01, 0.01))))
    assert stack_of(task(WITH_TAB), ("section.mass",), np.array([[9.0]])) is None
    assert len(onsets_of(task(STRIP), ("section.mass",), np.zeros((0, 1))).speeds) == 0


def wings(seeds: range) -> list[AeroelasticSystem]:
    """Give random wings with an aileron, of one bending and one twisting shape: C acts on each of them apart."""
    systems = []
    for seed in seeds:
        rng = np.random.default_rng(seed)
        weights = (AileronWeight(rng.uniform(0.5, 6.0), rng.uniform(0.15, 0.35), rng.uniform(4.6, 5.95)),)
        held = float(rng.choice([0.0, 300.0, 2000.0]))
        aileron = Aileron(4.5, 6.0, 0.5, 8.0, rng.uniform(0.0, 1.4), 0.26, stiffness=held, weights=weights)
        wing = Wing(
            6.0, 0.9, rng.uniform(-0.5, 0.1), rng.uniform(15.0, 90.0), rng.uniform(0.0, 0.3), 7.8, 9.6e6,
            rng.uniform(1e5, 3e6), 1, 1, aileron,
        )  # fmt: skip
        given = FlutterTask(Air(density=1.225), RANGE, wing=wing, structural_damping=(rng.choice([0.005, 0.02, 0.05]),))
        systems.append(build_system(given))
    return [system for system in systems if np.linalg.eigvalsh(system.mass).min() > 0.0]


@pytest.mark.slow
def test_nothing_is_missed_on_random_wings() -> None:
    """Where C² and C³ come in too, both ways find every crossing that the thorough way finds, and no other."""
    systems = wings(range(40))
    whole = expand(stacked(systems))
    assert whole.values.shape[1] == 4
    both = [scan(whole, RANGE, theodorsen, loops) for loops in (None, compiled_loops())]
    for number, system in enumerate(systems):
        points = find_neutral_points(system, RANGE, theodorsen)
        assert [missed(found, number, points) for found in both] == [[], []], f"wing {number}"
    assert len(both[0].sample) > 15
    assert both[1].speed == pytest.approx(both[0].speed, rel=1e-12)


@pytest.mark.slow
def test_many_are_counted_as_one_by_one() -> None:
    """Along one path for all, random strips and wings have as many growing roots as counted one by one."""
    for systems in (strips(range(400, 430)), wings(range(20))):
        stack = stacked(systems)
        for speed in (1.0, 12.0, 60.0):
            counts = count_growing_many(stack, expand(stack), speed, theodorsen)
            assert counts.tolist() == [count_growing(system, speed, theodorsen) for system in systems]


def test_fields_multiplied_are_fields_changed() -> None:
    """The short way over multiplied fields gives the onsets that the models have when each is built by itself."""
    given, names = task(RIG, (2.0, 40.0)), ("section.pitch_inertia", "section.surface_static_moment")
    factors = np.array([[1.0, 1.0], [1.1, 0.7], [1.5, 1.3]])
    short = onsets_of_multiples([given, given], names, factors)
    changed = [[value_of(given, name) * factor for name, factor in zip(names, row, strict=True)] for row in factors]
    slow = onsets_of(given, names, np.array(changed), thorough=True)
    assert short is not None
    assert short.speeds == pytest.approx(np.tile(slow.speeds, 2), rel=1e-9)
    assert onsets_of_multiples([given], ("section.semichord",), factors[:, :1]) is None


def test_circulations_are_expanded_as_far_as_they_act() -> None:
    """One force of the circulation leaves C alone; where it acts through two its square comes in, and is kept."""
    one = stacked([build_system(task(STRIP))])
    other = replace(one, wake_stiffness=one.wake_stiffness + np.diag([0.0, 50.0, 3.0]))
    assert expand(joined([one, one])).values.shape[1] == 2
    assert expand(other).values.shape[1] > 2


@pytest.mark.parametrize("wake", [theodorsen, two_lag])
def test_slope_of_a_known_wake_is_that_of_any(wake: object) -> None:
    """The formula's slope is the one that C's values on a small circle give."""
    s = np.array([0.1j, 0.02 + 0.4j, -0.1 + 2j, 30j])

    assert slope_of(wake)(s) == pytest.approx(slope_of(lambda z: wake(z))(s), rel=1e-9)  # type: ignore[operator, arg-type]
