"""What must hold for every spread of mass, whatever the numbers."""

from __future__ import annotations

import json
import math
import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline.balance.spread import (
    DynamicResult,
    DynamicTask,
    MassPoint,
    Plate,
    Spread,
    TrialPlace,
    TrialWeight,
    dynamic_balance,
    spread_of,
)
from hingeline.balance.spread.equations import inertia_about
from hingeline.document import from_document, to_document

POINTS = st.builds(
    MassPoint, st.just("point"), st.floats(0.01, 5.0), st.floats(0.0, 0.5), st.sampled_from(["aft", "forward"]),
    st.floats(0.0, 6.0),
)  # fmt: skip


@st.composite
def plates(draw: st.DrawFn) -> Plate:
    """A plate of any size about the hinge line."""
    front, inner = draw(st.floats(-0.3, 0.3)), draw(st.floats(0.0, 5.0))
    back, outer = front + draw(st.floats(0.01, 0.6)), inner + draw(st.floats(0.05, 2.0))
    return Plate("plate", front, back, inner, outer, mass=draw(st.floats(0.05, 5.0)))


TASKS = st.builds(
    DynamicTask, st.just("surface"), st.lists(POINTS, min_size=1, max_size=4).map(tuple),
    st.lists(plates(), max_size=3).map(tuple),
)  # fmt: skip
MOMENTS = ("mass", "mass_moment", "inertia", "product_of_inertia")


def close(one: Spread, other: Spread, scale: float = 1e-12) -> None:
    """Compare all moments of mass, against the size of what was added up."""
    for name in MOMENTS:
        assert getattr(one, name) == pytest.approx(getattr(other, name), abs=scale * one.mass * 40.0), name


def points_of(plate: Plate, count: int) -> list[MassPoint]:
    """Cut a plate into count × count equal pieces, each a point at its own middle."""
    mass = (plate.mass or 0.0) / count**2
    deep, wide = plate.chordwise_to - plate.chordwise_from, plate.spanwise_to - plate.spanwise_from
    found = []
    for i in range(count):
        x = plate.chordwise_from + deep * (i + 0.5) / count
        side = "aft" if x >= 0.0 else "forward"
        for j in range(count):
            y = plate.spanwise_from + wide * (j + 0.5) / count
            found.append(MassPoint("piece", mass, abs(x), side, y))  # type: ignore[arg-type]
    return found


@given(plates())
def test_points_converge_to_the_plate_at_second_order(plate: Plate) -> None:
    """Twice as many points each way: S and K stand, and I is wrong by a quarter as much."""
    exact, four, eight = spread_of([], [plate]), spread_of(points_of(plate, 4)), spread_of(points_of(plate, 8))
    for coarse in (four, eight):
        assert coarse.mass_moment == pytest.approx(exact.mass_moment, abs=1e-12 * exact.mass)
        assert coarse.product_of_inertia == pytest.approx(exact.product_of_inertia, abs=1e-11 * exact.mass)
    deep = plate.chordwise_to - plate.chordwise_from
    assert exact.inertia - four.inertia == pytest.approx(exact.mass * deep**2 / 12.0 / 16.0, rel=1e-5)
    assert (exact.inertia - four.inertia) / (exact.inertia - eight.inertia) == pytest.approx(4.0, rel=1e-4)


@given(st.floats(0.1, 0.5), st.floats(0.05, 0.3), st.floats(0.2, 2.0))
def test_strips_converge_to_a_taper_at_second_order(root: float, tip: float, span: float) -> None:
    """K of a tapered plate by strips: twice as many, a quarter of the error of its closed form."""
    taper = tip - root

    def by_strips(count: int) -> float:
        strips = [
            Plate("strip", 0.0, root + taper * (at + 0.5) / count, 1.0 + span * at / count,
                  1.0 + span * (at + 1) / count, mass_per_area=5.0)
            for at in range(count)
        ]  # fmt: skip
        return spread_of([], strips).product_of_inertia

    # K = σ ∫ y c²/2 dy with c = root + taper s, y = 1 + span s, dy = span ds, s from 0 to 1.
    c2 = [root**2, 2 * root * taper, taper**2]
    whole = sum(c * (1.0 / (power + 1) + span / (power + 2)) for power, c in enumerate(c2))
    exact = 5.0 * span * whole / 2.0
    coarse, fine = exact - by_strips(8), exact - by_strips(16)
    if abs(fine) > 1e-9 * exact:
        assert coarse / fine == pytest.approx(4.0, rel=0.05)
    assert abs(fine) <= 1e-2 * exact


@given(TASKS, st.integers(0, 1000))
def test_the_order_does_not_matter(task: DynamicTask, seed: int) -> None:
    """Points and plates in another order give the same, to the last digit."""
    points, several = list(task.points), list(task.plates)
    random.Random(seed).shuffle(points)
    random.Random(seed).shuffle(several)
    assert spread_of(points, several) == spread_of(task.points, task.plates)


@given(TASKS, TASKS)
def test_bodies_add(one: DynamicTask, other: DynamicTask) -> None:
    """The moments of two bodies together are the sums."""
    both = spread_of((*one.points, *other.points), (*one.plates, *other.plates))
    parts = [spread_of(task.points, task.plates) for task in (one, other)]
    for name in MOMENTS:
        total = math.fsum(getattr(part, name) for part in parts)
        assert getattr(both, name) == pytest.approx(total, abs=1e-12 * both.mass * 40.0)


@given(TASKS)
def test_a_mirrored_surface_has_the_mirrored_moments(task: DynamicTask) -> None:
    """Aft and forward exchanged: S and K change their sign, mass and I do not."""
    points = [replace(one, side="forward" if one.side == "aft" else "aft") for one in task.points]
    several = [replace(one, chordwise_from=-one.chordwise_to, chordwise_to=-one.chordwise_from) for one in task.plates]
    one, other = spread_of(task.points, task.plates), spread_of(points, several)
    assert (other.mass, other.mass_moment, other.product_of_inertia) == (
        one.mass, -one.mass_moment, -one.product_of_inertia,
    )  # fmt: skip
    assert other.inertia == pytest.approx(one.inertia, rel=1e-14)


@given(TASKS, st.floats(-0.5, 0.5))
def test_parallel_axes(task: DynamicTask, shift: float) -> None:
    """I about an axis that lies x aft is the I of the body moved forward by x; least at the centre of gravity."""
    here = spread_of(task.points, task.plates)

    def moved(point: MassPoint) -> MassPoint:
        x = point.x - shift
        return replace(point, arm=abs(x), side="aft" if x >= 0.0 else "forward")

    several = [
        replace(one, chordwise_from=one.chordwise_from - shift, chordwise_to=one.chordwise_to - shift)
        for one in task.plates
    ]
    there = spread_of([moved(point) for point in task.points], several)
    by_axes = inertia_about(here.inertia, here.mass_moment, here.mass, shift)
    assert by_axes == pytest.approx(there.inertia, abs=1e-12 * here.mass)
    least = inertia_about(here.inertia, here.mass_moment, here.mass, here.centre_aft)
    assert least <= by_axes + 1e-12 * here.mass
    assert least >= -1e-12 * here.mass


@given(TASKS, st.floats(-2.0, 2.0))
def test_moving_the_axis_changes_k_by_s_alone(task: DynamicTask, shift: float) -> None:
    """All spanwise distances longer by y: K grows by y S; S and I stay."""
    here = spread_of(task.points, task.plates)
    there = spread_of(
        [replace(one, spanwise=one.spanwise + shift) for one in task.points],
        [replace(one, spanwise_from=one.spanwise_from + shift, spanwise_to=one.spanwise_to + shift)
         for one in task.plates],
    )  # fmt: skip
    assert there.mass_moment == here.mass_moment
    assert there.inertia == here.inertia
    grown = here.product_of_inertia + shift * here.mass_moment
    assert there.product_of_inertia == pytest.approx(grown, abs=1e-11 * here.mass)


@given(TASKS.filter(lambda task: abs(spread_of(task.points, task.plates).mass_moment) > 1e-3), st.floats(0.05, 0.5))
def test_one_weight_balances_at_every_place(task: DynamicTask, arm: float) -> None:
    """The mass that was left out makes S nothing wherever along the span it stands, and K falls along the way."""
    heavy = spread_of(task.points, task.plates).mass_moment
    weight = TrialWeight(arm, "forward" if heavy > 0.0 else "aft", places=tuple(
        TrialPlace(f"at {y} m", float(y)) for y in range(5)
    ))  # fmt: skip
    found = dynamic_balance(replace(task, weight=weight))
    assert all(abs(place.mass_moment) <= 1e-14 * found.mass for place in found.places)
    products = [place.product_of_inertia for place in found.places]
    assert products == sorted(products, reverse=heavy > 0.0)
    assert len({place.inertia for place in found.places}) == 1


@given(TASKS)
def test_a_document_is_the_record(task: DynamicTask) -> None:
    """Task and result come back from their JSON text as they were."""
    result = dynamic_balance(task)
    assert from_document(json.loads(json.dumps(to_document(task))), DynamicTask) == task
    assert from_document(json.loads(json.dumps(to_document(result), allow_nan=False)), DynamicResult) == result


def test_all_on_the_hinge_line_has_no_coefficient() -> None:
    """Where I is nothing K/I does not exist: null, and a note says why."""
    found = dynamic_balance(DynamicTask(points=(MassPoint("pin", 0.2, 0.0, "aft", 1.0),)))
    assert found.dynamic_coefficient is None
    assert any("there is no K/I" in note for note in found.notes)
