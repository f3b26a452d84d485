"""Laws that every arm obeys, whatever its numbers."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hingeline.arm import (
    ArmTask,
    ArmWeight,
    Bar,
    Crack,
    Detection,
    LoadFactors,
    Loss,
    Material,
    Root,
    Tube,
    examine,
    vibration,
)
from hingeline.arm.crack_geometry import surface_crack_factors
from hingeline.arm.crack_life import not_longer
from hingeline.arm.growth import PARTS, closed_form_cycles, cycles_along, integrated_cycles
from hingeline.arm.section import bar_section, locally_thinned_tube, tube_section, with_bolt_hole
from hingeline.arm.surface_crack import SurfaceCrack, through_the_wall, through_the_wall_again
from hingeline.uncertainty.stated import Stated

STEEL = Material(200e9, 7833.0, 517.1e6, 655e6)
ARM = ArmTask(STEEL, Root(0.260), ArmWeight(1.4), Tube(19.05e-3, 0.889e-3))

radii = st.tuples(st.floats(2e-3, 30e-3), st.floats(0.03, 0.9)).map(lambda one: (one[0], one[0] * (1.0 - one[1])))
parts = st.floats(0.01, 0.95)
lengths = st.floats(0.05, 1.0)
masses = st.floats(0.05, 5.0)
tubes = st.builds(
    lambda outer, part, length, mass: ArmTask(STEEL, Root(length), ArmWeight(mass), Tube(2.0 * outer, part * outer)),
    st.floats(4e-3, 20e-3), st.floats(0.04, 0.6), lengths, masses,
)  # fmt: skip


# ------------------------------------------------------------------ section


@given(radii, parts)
def test_less_metal_is_never_stronger(ring: tuple[float, float], part: float) -> None:
    """Metal gone from outside or inside all round always costs area, second moment and modulus."""
    outer, inner = ring
    depth = part * (outer - inner)
    sound = tube_section(outer, inner)
    for thinned in (tube_section(outer - depth, inner), tube_section(outer, inner + depth)):
        assert thinned.area < sound.area
        assert thinned.second_moment < sound.second_moment
        assert thinned.section_modulus < sound.section_modulus


@given(radii, parts)
def test_the_same_depth_costs_more_outside(ring: tuple[float, float], part: float) -> None:
    """Outside the metal carries more: the modulus falls further."""
    outer, inner = ring
    depth = part * (outer - inner)
    outside, inside = tube_section(outer - depth, inner), tube_section(outer, inner + depth)
    assert outside.second_moment < inside.second_moment


@given(radii, parts, st.floats(0.01, math.radians(150.0)))
def test_a_local_loss_lies_between_none_and_all_round(ring: tuple[float, float], part: float, angle: float) -> None:
    """It costs area, second moment and modulus, and never more of them than the same depth all round."""
    outer, inner = ring
    depth = part * (outer - inner)
    local = locally_thinned_tube(outer, inner, depth, angle)
    round_about, sound = tube_section(outer - depth, inner), tube_section(outer, inner)
    assert round_about.area < local.area < sound.area
    assert round_about.second_moment * (1.0 - 1e-12) <= local.second_moment < sound.second_moment
    assert round_about.section_modulus < local.section_modulus < sound.section_modulus


@given(radii, parts)
def test_a_local_loss_all_round_is_the_loss_all_round(ring: tuple[float, float], part: float) -> None:
    """Over ± 180 degrees the formula of sectors becomes that of the ring."""
    outer, inner = ring
    depth = part * (outer - inner)
    local, whole = locally_thinned_tube(outer, inner, depth, math.pi), tube_section(outer - depth, inner)
    assert local.area == pytest.approx(whole.area, rel=1e-9)
    assert local.second_moment == pytest.approx(whole.second_moment, rel=1e-9)
    assert local.section_modulus == pytest.approx(whole.section_modulus, rel=1e-6)


@given(radii, st.floats(0.1, 10.0))
def test_sections_scale_with_their_size(ring: tuple[float, float], factor: float) -> None:
    """Area by the square, second moment by the fourth power, modulus by the cube; tube, bar and hole alike."""
    outer, inner = ring
    hole = inner if inner < outer else 0.0
    pairs = (
        (tube_section(outer, inner), tube_section(factor * outer, factor * inner)),
        (bar_section(outer, inner), bar_section(factor * outer, factor * inner)),
        (with_bolt_hole(outer, inner, hole), with_bolt_hole(factor * outer, factor * inner, factor * hole)),
    )
    for one, other in pairs:
        assert other.area == pytest.approx(one.area * factor**2)
        assert other.second_moment == pytest.approx(one.second_moment * factor**4)
        assert other.section_modulus == pytest.approx(one.section_modulus * factor**3)


@settings(max_examples=25, deadline=None)
@given(radii, parts, st.floats(0.05, 3.0))
def test_the_local_loss_is_what_adding_up_gives(ring: tuple[float, float], part: float, angle: float) -> None:
    """Four hundred rings of sectors added up give the area to 6 and the second moment to 20 in a thousand."""
    outer, inner = ring
    ground = outer - part * (outer - inner)
    steps, area, first, second = 400, 0.0, 0.0, 0.0
    for number in range(steps):
        radius = inner + (outer - inner) * (number + 0.5) / steps
        gone = angle if radius > ground else 0.0
        ringed = radius * (outer - inner) / steps
        area += ringed * 2.0 * (math.pi - gone)
        first -= ringed * radius * 2.0 * math.sin(gone)
        second += ringed * radius**2 * (math.pi - gone - math.sin(gone) * math.cos(gone))
    found = locally_thinned_tube(outer, inner, outer - ground, angle)
    assert found.area == pytest.approx(area, rel=6e-3)
    assert found.second_moment == pytest.approx(second - first**2 / area, rel=2e-2)


# ------------------------------------------------------------------ stress


@pytest.mark.slow
@settings(deadline=None)
@given(tubes, st.floats(0.5, 2.0))
def test_stress_goes_with_the_load_factor(task: ArmTask, factor: float) -> None:
    """Twice the g, twice the stress; the margins follow: (margin + 1) falls as much."""
    one = examine(task).loads[0]
    other = examine(replace(task, loads=LoadFactors(24.0 * factor, 12.0, 12.0))).loads[0]
    assert other.stress.value == pytest.approx(factor * one.stress.value)
    assert one.margin_yield is not None
    assert other.margin_yield is not None
    assert factor * (other.margin_yield + 1.0) == pytest.approx(one.margin_yield + 1.0)


@pytest.mark.slow
@settings(deadline=None)
@given(tubes)
def test_ultimate_loads_are_one_and_a_half_limit_loads(task: ArmTask) -> None:
    """1.5 times the factors, said to be ultimate, leave the same margins."""
    limit = examine(task).loads
    ultimate = examine(replace(task, loads=LoadFactors(36.0, 18.0, 18.0, "ultimate"))).loads
    for one, other in zip(limit, ultimate, strict=True):
        assert other.margin_yield == pytest.approx(one.margin_yield)
        assert other.margin_ultimate == pytest.approx(one.margin_ultimate)


@pytest.mark.slow
@settings(deadline=None)
@given(tubes, parts, st.sampled_from(["outside", "inside"]))
def test_loss_raises_the_stress_of_a_moment_and_lowers_the_frequency(task: ArmTask, part: float, where: str) -> None:
    """The same moment stresses more whatever is lost all round; a loss from outside makes the arm slower.

    The stress itself can fall on a heavy tube with a light weight: what is gone is carried no more.
    """
    assert task.tube is not None
    sound = examine(task)
    lost = examine(replace(task, loss=Loss(where, part * task.tube.wall)))  # type: ignore[arg-type]
    for now, then in zip(lost.loads[::2], sound.loads[::2], strict=True):
        assert now.stress.value / now.moment.value > then.stress.value / then.moment.value
        assert now.sound_stress == then.stress.value
    assert lost.section.ratio_to_sound < 1.0
    if where == "outside":
        assert lost.natural_frequency.ratio_to_sound < 1.0


@settings(deadline=None, max_examples=30)
@given(st.floats(5e-3, 30e-3), st.floats(5e-3, 30e-3), lengths, masses)
def test_a_bar_turned_on_its_side_swaps_its_cases(width: float, height: float, length: float, mass: float) -> None:
    """Twice the 12 g along the hinge line is the 24 g of the bar turned by a right angle."""
    one = examine(ArmTask(STEEL, Root(length), ArmWeight(mass), bar=Bar(width, height))).loads
    other = examine(ArmTask(STEEL, Root(length), ArmWeight(mass), bar=Bar(height, width))).loads
    assert 2.0 * one[2].stress.value == pytest.approx(other[0].stress.value)


@settings(deadline=None, max_examples=30)
@given(tubes, st.floats(1e-4, 5e-3))
def test_uncertainty_of_the_mass_is_carried_straight(task: ArmTask, relative: float) -> None:
    """The stress rises with the mass in a straight line, so its relative u is u(m)/m of the weight's share."""
    uncertain = replace(task.weight, mass_uncertainty=Stated(relative, "1", "standard"))
    found = examine(replace(task, weight=uncertain)).loads[0]
    without = examine(replace(task, weight=replace(task.weight, mass=1e-9))).loads[0].stress.value
    assert found.stress.standard_uncertainty == pytest.approx(relative * (found.stress.value - without), rel=1e-5)


# ------------------------------------------------------------------ frequency


@settings(deadline=None)
@given(
    st.floats(1e-4, 1e4), st.floats(0.0, 0.5), st.floats(0.0, 0.3), st.sampled_from([0.0, 0.01, 0.3]),
)  # fmt: skip
def test_the_root_fulfils_its_equation(ratio: float, offset: float, gyration: float, soft: float) -> None:
    """Put back, the first root leaves nothing; no smaller one does; Rayleigh's frequency is never below it."""
    beam = vibration.Beam(1.0, 1.0, 1.0, ratio, offset, ratio * gyration**2, soft)
    root = vibration.first_root(beam)
    size = abs(vibration.frequency_equation(1.01 * root, beam)) + abs(vibration.frequency_equation(0.99 * root, beam))
    assert abs(vibration.frequency_equation(root, beam)) <= 1e-9 * size
    signs = {vibration.frequency_equation(root * part / 50.0, beam) > 0.0 for part in range(15, 50)}
    assert len(signs) == 1
    assert vibration.rayleigh_frequency(beam) >= vibration.exact_frequency(beam) * (1.0 - 1e-12)


@pytest.mark.parametrize("wrong", [0, 1, 300, 600])
def test_the_root_does_not_hang_on_where_the_glance_falls(wrong: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """A glance that finds nothing, or the wrong place, is not believed: the root is the same to its last digit."""
    beam = vibration.Beam(0.26, 419.2, 0.1033, 1.4, 0.02, 0.001, 1e-4)
    root = vibration.first_root(beam)
    monkeypatch.setattr(vibration, "_first_turn_at_a_glance", lambda highest, beam: wrong)
    assert vibration.first_root(beam) == root


@settings(deadline=None)
@given(st.floats(1e4, 1e7))
def test_a_heavy_weight_makes_the_exact_the_simple_one(ratio: float) -> None:
    """For a weight far heavier than its arm the frequency is √(3 E I/(m L³))/2π."""
    beam = vibration.Beam(1.0, 1.0, 1.0, ratio)
    assert vibration.exact_frequency(beam) == pytest.approx(math.sqrt(3.0 / ratio) / (2.0 * math.pi), rel=0.2 / ratio)


def test_rayleigh_is_one_and_a_half_per_cent_high_without_a_weight() -> None:
    """The known error of its shape: 3.5675 against 3.5160, from 33/140 and 1.875104²."""
    beam = vibration.Beam(1.0, 1.0, 1.0, 1e-12)
    assert 2.0 * math.pi * vibration.rayleigh_frequency(beam) == pytest.approx(math.sqrt(3.0 * 140.0 / 33.0), rel=1e-9)
    assert 2.0 * math.pi * vibration.exact_frequency(beam) == pytest.approx(1.875104068711961**2, rel=1e-9)


@settings(deadline=None)
@given(st.floats(0.05, 3.0), st.floats(0.0, 0.5))
def test_the_apparent_mass_is_that_of_a_driven_spring(ratio: float, damping: float) -> None:
    """From the equation of motion in numbers: m x'' = -(k + i ω c)(x - h), force over m ω² h."""
    assume(abs(ratio - 1.0) > 1e-3 or damping > 1e-3)
    stiffness = complex(1.0, 2.0 * damping * ratio)
    moved = stiffness / (stiffness - ratio**2)
    assert vibration.apparent_mass(ratio, damping) == pytest.approx(moved)


# ------------------------------------------------------------------ growth

growths = st.fixed_dictionaries(
    {
        "constant": st.floats(1e-13, 1e-9),
        "exponent": st.floats(1.5, 5.0),
        "factor": st.floats(0.5, 3.0),
        "stress_range": st.floats(1e7, 5e8),
    }
)
sizes = st.tuples(st.floats(1e-4, 5e-3), st.floats(1.05, 20.0)).map(lambda one: (one[0], one[0] * one[1]))


@settings(deadline=None)
@given(growths, sizes)
def test_closed_form_and_both_integrations_agree(growth: dict[str, float], ends: tuple[float, float]) -> None:
    """The closed form, our own sum and another author's integration give one number, to nine digits."""
    root = growth["factor"] * growth["stress_range"] / 1e6 * math.sqrt(math.pi)

    def rate(size: float) -> float:
        return float(growth["constant"] * (root * math.sqrt(size)) ** growth["exponent"])

    closed = closed_form_cycles(*ends, **growth)
    assert cycles_along(rate, *ends)[-1][1] == pytest.approx(closed, rel=1e-9)
    assert integrated_cycles(rate, *ends) == pytest.approx(closed, rel=1e-9)


@given(growths, sizes, st.floats(0.5, 2.0))
def test_life_goes_with_the_power_of_the_stress(
    growth: dict[str, float], ends: tuple[float, float], factor: float
) -> None:
    """N ΔS^m and N C stay the same."""
    one = closed_form_cycles(*ends, **growth)
    stressed = closed_form_cycles(*ends, **{**growth, "stress_range": factor * growth["stress_range"]})
    assert stressed * factor ** growth["exponent"] == pytest.approx(one, rel=1e-9)
    assert closed_form_cycles(*ends, **{**growth, "constant": factor * growth["constant"]}) * factor == pytest.approx(
        one
    )


@given(growths, sizes, st.floats(0.1, 0.9))
def test_stretches_of_growth_add_up(growth: dict[str, float], ends: tuple[float, float], part: float) -> None:
    """From start to a middle, and from there to the end, is the whole."""
    start, end = ends
    middle = start + part * (end - start)
    whole = closed_form_cycles(start, end, **growth)
    there, on = closed_form_cycles(start, middle, **growth), closed_form_cycles(middle, end, **growth)
    assert there + on == pytest.approx(whole, rel=1e-6)


def test_the_sum_integrates_every_power_it_should() -> None:
    """One part of our sum is exact for powers up to the fifteenth of the logarithm of the size."""
    ends = (1.0, math.exp(float(PARTS)))  # each part is 1 wide in the logarithm
    for power in range(16):
        (_, first) = cycles_along(lambda size, power=power: size / max(math.log(size), 1e-300) ** power, *ends)[1]
        assert first == pytest.approx(1.0 / (power + 1), rel=1e-12)


@settings(deadline=None, max_examples=25)
@given(st.floats(0.05, 0.9), st.floats(0.2, 1.0), st.floats(2.0, 4.0))
def test_two_routines_follow_a_surface_crack_alike(part: float, aspect: float, exponent: float) -> None:
    """Runge and Kutta by even steps of the logarithm, and an adaptive routine: cycles and length to a millionth."""
    crack = SurfaceCrack(part * 1e-3, part * 1e-3 / aspect, 1e-3, 1e-11, exponent, 80e6)
    last = through_the_wall(crack, lambda stage: False)[-1]
    again = through_the_wall_again(crack, last.depth)
    assert last.depth == pytest.approx(1e-3)
    assert again.cycles == pytest.approx(last.cycles, rel=1e-6)
    assert again.half_length == pytest.approx(last.half_length, rel=1e-6)


@given(st.floats(0.0, 1.0))
def test_a_half_circle_is_driven_hardest_at_the_surface(part: float) -> None:
    """So a crack that is no deeper than half its length stays so as it grows."""
    deep, surface = (surface_crack_factors(1.0, 1.0, 1.0 / max(part, 1e-9), place)[0] for place in (math.pi / 2, 0.0))
    assert surface > deep


# ------------------------------------------------------------------ interval


@given(st.floats(1.0, 1e6), st.lists(st.one_of(st.none(), st.floats(0.0, 1e9)), max_size=3))
def test_no_interval_is_ever_longer_than_the_approved_one(approved: float, computed: list[float | None]) -> None:
    """Whatever is computed beside it; and without an approved one there is none."""
    shown = not_longer(approved, *computed)
    assert shown is not None
    assert shown <= approved
    assert not_longer(None, *computed) is None


@pytest.mark.slow
@settings(deadline=None, max_examples=60)
@given(
    st.sampled_from(["constant", "tube through", "surface"]), st.floats(5e6, 4e8), st.floats(20e6, 120e6),
    st.floats(1e-12, 1e-10), st.floats(1.0, 1e5), st.floats(3600.0, 3.6e7), st.booleans(),
)  # fmt: skip
def test_an_arm_s_interval_is_never_longer(
    geometry: str, stress: float, toughness: float, constant: float, rate: float, approved: float, looked: bool
) -> None:
    """For every geometry, with and without a method of detection: at most approved, and both ways agree."""
    start = {
        "constant": {"geometry_factor": 1.12, "initial": 1e-3},
        "tube through": {"half_angle": math.radians(6.0)},
        "surface": {"depth": 0.3e-3, "half_length": 0.6e-3},
    }[geometry]
    crack = Crack(geometry, stress, toughness, constant, 3.0, rate, approved_interval=approved, **start)  # type: ignore[arg-type]
    how = Detection("penetrant", 1.2e-3, 0.45) if looked else None
    found = examine(replace(ARM, crack=crack, detection=how)).crack
    assert found is not None
    assert found.interval_shown is not None
    assert found.interval_shown <= approved
    assert found.shorter_than_approved is (found.interval_shown < approved)
    assert found.cycles_second_way == pytest.approx(found.cycles, rel=1e-6)
    assert found.critical_size > 0.0 or found.cycles == 0.0


def test_the_same_seed_gives_the_same_draws_and_another_does_not() -> None:
    """Draws come again by their seed; their middle lies at the life without scatter."""
    crack = Crack("tube through", 60e6, 75e6, 6.9e-12, 3.0, 3000.0, half_angle=0.16, approved_interval=1e6)
    task = replace(ARM, crack=crack)
    first, again, other = (examine(task, samples=4000, seed=seed).crack for seed in (7, 7, 8))
    assert first == again
    assert first != other
    assert first is not None
    assert first.distribution is not None
    middle = first.distribution.quantiles[2].cycles
    assert middle == pytest.approx(first.cycles, rel=4.0 * 0.35 * 1.2533 / math.sqrt(4000))


@pytest.mark.slow
@settings(deadline=None, max_examples=15)
@given(st.sampled_from(["constant", "tube through"]), st.floats(0.02, 0.2))
def test_draws_of_every_quantity_follow_the_model(geometry: str, relative: float) -> None:
    """Each draw is what the model gives for those numbers: with all but one fixed, the quantiles are its lives."""
    stated = Stated(relative, "1", "standard")
    start = {"geometry_factor": 1.12, "initial": 1e-3} if geometry == "constant" else {"half_angle": 0.1}
    crack = Crack(geometry, 60e6, 75e6, 6.9e-12, 3.0, 3000.0, growth_log_deviation=0.0, **start)  # type: ignore[arg-type]
    for name, way in (("stress_range", -1.0), ("toughness", 1.0), ("largest_stress", -1.0)):
        base = replace(crack, largest_stress=300e6)
        uncertain = replace(base, **{f"{name}_uncertainty": stated})
        found = examine(replace(ARM, crack=uncertain), samples=20_000, seed=3).crack
        assert found is not None
        assert found.distribution is not None
        low = found.distribution.quantiles[1].cycles
        moved = replace(base, **{name: getattr(base, name) * (1.0 - way * 1.6449 * relative)})
        expected = examine(replace(ARM, crack=moved)).crack
        assert expected is not None
        spread = abs(found.cycles - expected.cycles)
        assert abs(low - expected.cycles) <= 0.08 * spread + 1e-3 * expected.cycles, name
