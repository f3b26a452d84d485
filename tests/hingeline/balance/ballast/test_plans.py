"""What a plan is: single places against the closed form, and each rule of the places on its own."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import hingeline
from hingeline.balance import Limits, Stated, Surface
from hingeline.balance.ballast import BallastTask, Place, inertia_loads, mass_to_add, plan_ballast
from hingeline.balance.ballast import programme as programme_module
from hingeline.document import from_document, to_document
from hingeline.errors import HingelineError, InputRefused
from hingeline.uncertainty import Measured

G = 9.80665
WEIGHED = Measured(2.106, 0.022, 0.044, 2.0)
LIMITS = Limits(0.0, 2.10, source="data sheet 7 (invented)")
ARM = Place("arm weight", 0.180, "forward", largest_mass=0.8, present_mass=0.6, smallest_step=0.005)


def task_of(*places: Place, **more: Any) -> BallastTask:
    """Make a correction of the weighed elevator."""
    return BallastTask(**{"moment": WEIGHED, "limits": LIMITS, "places": places} | more)


# -------------------------------------------------------------------- closed form


@pytest.mark.slow
@given(
    moment=st.floats(-3.0, 3.0),
    target=st.floats(-3.0, 3.0),
    arm=st.floats(0.02, 1.0),
    gravity=st.floats(9.76, 9.84),
)
@settings(max_examples=60, deadline=None)
def test_one_place_in_any_amount_is_the_closed_form(moment: float, target: float, arm: float, gravity: float) -> None:
    """The mass is (M - M_target)/(g a), forward where the tail is too heavy, aft where the nose is."""
    side = "forward" if moment > target else "aft"
    place = Place("place", arm, side)  # type: ignore[arg-type]
    limits = Limits(target - 1e-4, target + 1e-4)  # wider than a milligram at a metre
    task = BallastTask(Measured(moment, None), limits, (place,), "moment", target, local_gravity=gravity)
    result = plan_ballast(task)
    wanted = abs(mass_to_add(moment, target, arm, gravity))
    assert result.predicted_statement_simple == "inside"
    if wanted < 1e-6:
        assert result.sum_of_changes <= 1e-6
    else:
        assert result.sum_of_changes == pytest.approx(wanted, rel=1e-12)
        assert result.moment_after.value == pytest.approx(target, abs=1e-12)


def test_a_plan_of_more_than_half_the_surface_is_doubted() -> None:
    """3 kg of lead on a surface of 2 kg is told; 145 g on one of 4 kg is not; what is not looked at stands beside."""
    lead = Place("lead", 0.180, "forward")
    heavy = plan_ballast(task_of(lead, moment=Measured(7.3, 0.022, 0.044, 2.0), surface=Surface("rudder", mass=2.0)))
    assert heavy.sum_of_changes > 1.0
    assert any("more than half of it: check" in note for note in heavy.notes)
    plain = plan_ballast(task_of(ARM, surface=Surface("elevator", mass=4.1)))
    assert plain.changes
    assert not any("more than half of it" in note for note in plain.notes)
    for told in (heavy, plain):
        assert any("are not looked at in a plan" in note for note in told.notes)


def test_the_demo_correction() -> None:
    """145 g at 180 mm bring 2.106 to 1.850 N m; I grows by m x², K falls by m x y."""
    place = replace(ARM, spanwise=0.62)
    result = plan_ballast(task_of(place, target="moment", target_moment=1.85, inertia=0.0420, product_of_inertia=0.128))
    (change,) = result.changes
    assert change.mass == pytest.approx(0.145, abs=1e-15)
    assert result.moment_after.value == pytest.approx(2.106 - 0.145 * G * 0.180, abs=1e-12)
    assert result.inertia_after == pytest.approx(0.0420 + 0.145 * 0.180**2, rel=1e-12)
    assert result.product_after == pytest.approx(0.128 - 0.145 * 0.180 * 0.62, rel=1e-12)
    assert change.load is not None
    assert change.load.normal == pytest.approx(24 * 0.745 * G, rel=1e-12)


def test_loads_are_counted_in_standard_gravity() -> None:
    """The three loads stand as 24 to 12 to 12."""
    normal, fore, along = inertia_loads(1.0)
    assert (normal, fore, along) == (24 * G, 12 * G, 12 * G)


# -------------------------------------------------------------------- target and band


def test_inside_and_nearest_is_nothing_to_change() -> None:
    """A surface inside its band needs nothing where the nearest end is aimed at."""
    result = plan_ballast(task_of(ARM, moment=Measured(1.0, 0.02, 0.04, 2.0)))
    assert (result.changes, result.feasible, len(result.plans)) == ((), True, 1)
    assert result.moment_after.value == 1.0
    assert any("nothing needs to be changed" in note for note in result.notes)


def test_nearest_lands_on_the_limit_by_the_simple_rule() -> None:
    """In any amount, the nearest end is met, and on the limit is inside."""
    result = plan_ballast(task_of(replace(ARM, smallest_step=None)))
    assert result.moment_after.value == 2.10
    assert result.predicted_statement == "inside"
    assert any("nearer to a limit than U" in note for note in result.notes)


def test_nearest_lands_inside_the_drawn_in_band_by_the_guarded_rule() -> None:
    """The band is drawn in by the predicted U, which the change itself makes larger."""
    place = replace(ARM, smallest_step=None, arm_uncertainty=Stated(0.01, "m"), mass_uncertainty=Stated(0.02, "kg"))
    result = plan_ballast(task_of(place, limits=replace(LIMITS, rule="guarded")))
    expanded = result.moment_after.expanded_uncertainty
    assert expanded is not None
    assert expanded > 0.044
    assert result.predicted_statement_guarded == "inside"
    assert result.moment_after.value == pytest.approx(2.10 - expanded, abs=2e-9)


def test_the_predicted_uncertainty_is_that_of_its_causes() -> None:
    """u² = u²(M) + (g x u(m))² + (m g u(x))², with the k of the weighing."""
    place = replace(
        ARM, arm_uncertainty=Stated(0.001, "m", "standard"), mass_uncertainty=Stated(0.002, "kg", "standard")
    )
    result = plan_ballast(task_of(place, target="moment", target_moment=1.85))
    expected = (0.022**2 + (G * 0.180 * 0.002) ** 2 + (0.145 * G * 0.001) ** 2) ** 0.5
    assert result.moment_after.standard_uncertainty == pytest.approx(expected, rel=1e-12)
    assert result.moment_after.expanded_uncertainty == pytest.approx(2.0 * expected, rel=1e-12)


def test_places_that_stay_as_they_are_add_no_uncertainty() -> None:
    """A stated mass uncertainty counts where mass is changed, and nowhere else."""
    other = Place("other", 0.1, "aft", largest_mass=0.1, mass_uncertainty=Stated(0.05, "kg"))
    result = plan_ballast(task_of(ARM, other, target="moment", target_moment=2.106 - 0.145 * G * 0.180))
    assert {change.place for change in result.changes} == {"arm weight"}
    assert result.moment_after.standard_uncertainty == 0.022


def test_coverage_gives_k_where_none_is_stated() -> None:
    """The standard uncertainty alone is expanded by the factor of the coverage, 1.960 for 95 %."""
    result = plan_ballast(task_of(ARM, moment=Measured(2.106, 0.022)))
    assert result.moment_before.coverage_factor == pytest.approx(1.959964, abs=1e-6)


def test_an_uncertainty_that_is_not_known_stays_unknown() -> None:
    """A bare moment gives a plan by the simple rule and no statement by the guarded one."""
    result = plan_ballast(task_of(ARM, moment=Measured(2.106, None)))
    assert result.moment_after.expanded_uncertainty is None
    assert (result.predicted_statement_simple, result.predicted_statement_guarded) == ("inside", None)


def test_without_limits_the_target_is_all_there_is_to_meet() -> None:
    """No limits: no statement is predicted, and the plan meets the target."""
    result = plan_ballast(
        task_of(replace(ARM, smallest_step=None), limits=Limits(), target="moment", target_moment=1.9)
    )
    assert (result.predicted_statement, result.feasible) == (None, True)
    assert result.moment_after.value == pytest.approx(1.9, abs=1e-12)


# -------------------------------------------------------------------- what places allow


def test_a_bracket_counts_once_and_moves_the_moment() -> None:
    """Bracket and screws come along where there was no weight, in moment, sum and in all."""
    place = Place("new", 0.1, "forward", fixed_mass=0.020, largest_mass=0.2, smallest_step=0.01)
    result = plan_ballast(task_of(place, moment=Measured(0.6, None), limits=Limits(0.4, 0.5), target="nearest"))
    (change,) = result.changes
    assert (change.fixed_mass, change.mass, change.mass_after) == (0.020, 0.09, pytest.approx(0.11))
    assert result.sum_of_changes == pytest.approx(0.11)
    assert result.moment_after.value == pytest.approx(0.6 - 0.11 * G * 0.1)


def test_a_bracket_that_is_fitted_already_is_no_change() -> None:
    """Where weight is present, adding brings no bracket along, but in all includes it."""
    place = replace(ARM, fixed_mass=0.05, largest_mass=0.7)
    (change,) = plan_ballast(task_of(place, target="moment", target_moment=1.85)).changes
    assert (change.fixed_mass, change.mass) == (0.0, pytest.approx(0.05))
    assert change.mass_after == pytest.approx(0.7)


def test_pieces_are_used_once_each() -> None:
    """A stock of two 50 g pieces never gives 150 g."""
    place = Place("stock", 0.2, "forward", pieces=(0.05, 0.05))
    result = plan_ballast(task_of(place, limits=Limits(0.0, 1.8)))
    assert not result.feasible
    assert result.changes[0].pieces == (0.05, 0.05)


def test_taking_off_aft_is_as_good_as_adding_forward() -> None:
    """Mass carried aft can come off; the change is negative."""
    place = Place("filler", 0.238, "aft", present_mass=0.060, largest_mass=0.060)
    result = plan_ballast(task_of(place))
    (change,) = result.changes
    assert change.mass == pytest.approx(-0.006 / (G * 0.238), rel=1e-9)
    assert result.total_mass_change == change.mass


def test_a_weight_has_its_own_least_mass() -> None:
    """What is there in all stays at or above the smallest mass, or nothing is fitted."""
    place = Place("horn", 0.1, "forward", smallest_mass=0.08, largest_mass=0.2, smallest_step=0.01)
    result = plan_ballast(task_of(place))
    assert result.changes[0].mass_after == pytest.approx(0.08)


def test_a_weight_that_is_too_heavy_for_its_place_has_to_lose_some() -> None:
    """Present beyond the largest mass: the plan takes off at least the rest."""
    place = replace(ARM, largest_mass=0.55, smallest_step=None)
    result = plan_ballast(task_of(place, moment=Measured(1.0, None)))
    assert result.changes[0].mass == pytest.approx(-0.05)


def test_what_stays_of_a_weight_that_loses_some_is_no_more_in_all_than_is_allowed() -> None:
    """Its bracket counts in what stays: 0.6 kg and 0.05 kg of bracket come down to 0.5 kg and the bracket."""
    place = replace(ARM, largest_mass=0.55, fixed_mass=0.05, smallest_step=None)
    (change,) = plan_ballast(task_of(place, moment=Measured(1.0, None))).changes
    assert (change.mass, change.mass_after) == (pytest.approx(-0.1), pytest.approx(0.55))


def test_a_bracket_alone_takes_nothing_off_but_counts_where_something_comes_off() -> None:
    """0.6 kg where 0.62 kg is allowed stays beside its bracket of 0.05 kg; taken off is at least 0.03 kg."""
    place = replace(ARM, side="aft", largest_mass=0.62, fixed_mass=0.05, smallest_step=None)
    assert plan_ballast(task_of(place, moment=Measured(1.0, None))).changes == ()
    (change,) = plan_ballast(task_of(place)).changes
    assert (change.mass, change.mass_after) == (pytest.approx(-0.03), pytest.approx(0.62))


def test_the_last_bit_of_a_float_makes_no_weight_too_heavy_for_its_place() -> None:
    """0.1 kg + 0.2 kg is a last bit more than the 0.3 kg allowed: its bracket still asks for nothing."""
    place = replace(ARM, present_mass=0.1 + 0.2, largest_mass=0.3, fixed_mass=0.05, smallest_step=None)
    assert place.present_mass > 0.3
    assert plan_ballast(task_of(place, moment=Measured(1.0, None))).changes == ()


def test_a_place_that_nothing_fits_is_refused() -> None:
    """A step that passes over what the place must carry leaves no plan at all."""
    place = Place("horn", 0.1, "forward", present_mass=0.05, smallest_mass=0.06, largest_mass=0.065, smallest_step=0.02)
    with pytest.raises(InputRefused, match=r"too heavy or too light for its place"):
        plan_ballast(task_of(place))


def test_less_than_a_milligram_is_no_change() -> None:
    """Half a milligram beyond the limit is mended by a milligram, and never by less."""
    place = Place("arm", 0.2, "forward")
    over = 2.10 + 0.5e-6 * G * 0.2
    result = plan_ballast(task_of(place, moment=Measured(over, None)))
    assert result.changes[0].mass == pytest.approx(1e-6, rel=1e-9)
    assert result.predicted_statement_simple == "inside"


def test_the_lesser_sum_leads_before_the_coefficient() -> None:
    """At equal nearness the longer arm wins, though the shorter one stands farther outboard."""
    long = Place("long", 0.2, "forward", spanwise=0.1, largest_mass=1.0)
    short = Place("short", 0.1, "forward", spanwise=3.0, largest_mass=1.0)
    result = plan_ballast(task_of(long, short, inertia=0.05, product_of_inertia=0.2))
    assert [change.place for change in result.changes] == ["long"]


def test_among_equal_sums_the_least_coefficient_wins() -> None:
    """Equal arms along the span: the weight goes where, or is spread so that, |K/I| is least."""
    spots = [Place(name, 0.06, "forward", spanwise=y, largest_mass=4.0) for name, y in (("in", 2.5), ("out", 4.0))]
    task = BallastTask(
        Measured(0.234375 * G, None),
        Limits(-0.1, 0.1),
        tuple(spots),
        "moment",
        0.0,
        inertia=0.0390625,
        product_of_inertia=0.76171875,
    )
    result = plan_ballast(task)
    assert result.sum_of_changes == pytest.approx(3.90625, rel=1e-6)
    assert result.coefficient_after == pytest.approx(0.0, abs=1e-5)
    assert {change.place for change in result.changes} == {"in", "out"}
    assert [round(plan.coefficient_after or 0.0, 4) for plan in result.plans[1:]] == [3.3088, -3.3088]


def test_further_plans_do_without_a_place_of_the_better_ones() -> None:
    """No plan uses all the places of a better one; each is worked out in full."""
    places = [Place(name, arm, "forward", largest_mass=0.5) for name, arm in (("a", 0.2), ("b", 0.15), ("c", 0.1))]
    result = plan_ballast(task_of(*places, target="moment", target_moment=1.85))
    used = [{change.place for change in plan.changes} for plan in result.plans]
    assert used == [{"a"}, {"b"}, {"c"}]
    assert all(plan.feasible and plan.budget for plan in result.plans)
    assert result.plans[0].changes == result.changes


# -------------------------------------------------------------------- the record, the solver


def test_a_result_is_read_back_as_it_was() -> None:
    """Record to dictionary and back loses nothing."""
    result = plan_ballast(task_of(ARM, target="moment", target_moment=1.85, inertia=0.042))
    assert from_document(to_document(result), type(result)) == result


@pytest.mark.slow
def test_six_places_are_planned_in_half_a_second() -> None:
    """The programme of an ordinary correction with six places in steps takes no time that is felt."""
    places = [
        Place(f"place {arm}", arm / 1000, side, smallest_step=0.005, largest_mass=0.2)  # type: ignore[arg-type]
        for arm, side in (
            (180, "forward"),
            (165, "forward"),
            (120, "forward"),
            (95, "forward"),
            (60, "aft"),
            (238, "aft"),
        )
    ]
    task = task_of(*places, target="moment", target_moment=1.85)
    plan_ballast(task)
    start = time.perf_counter()
    result = plan_ballast(task)
    assert result.feasible
    # Ten times the aim: a slow machine is no fault, a search that explodes is one.
    assert time.perf_counter() - start < 5.0


def test_the_same_task_gives_the_same_plan_to_the_last_digit() -> None:
    """The solver is stopped by a count, never by a clock."""
    task = task_of(ARM, Place("b", 0.12, "forward", largest_mass=0.1), target="middle")
    assert plan_ballast(task) == plan_ballast(task)


def test_a_solver_without_an_answer_is_our_fault(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where every way of asking ends in an error there is no plan, and it is said whose fault that is."""
    monkeypatch.setattr(programme_module, "_attempt", lambda *_: ((), 4))
    with pytest.raises(HingelineError, match="fault of the program, not of your work"):
        plan_ballast(task_of(ARM))


def test_a_search_that_is_stopped_by_its_size_gives_what_it_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """At the limit of nodes there is a plan in the band, with the word that a better one may exist."""
    arms = (0.137, 0.211, 0.303, 0.098, 0.175, 0.264, 0.181, 0.149)
    steps = (0.0011, 0.0013, 0.0017, 0.0019, 0.0023, 0.0029, 0.0283495, 0.0123)
    places = [
        Place(f"place {number}", arm, "forward" if number % 2 else "aft", smallest_step=step, largest_mass=0.2)
        for number, (arm, step) in enumerate(zip(arms, steps, strict=True))
    ]
    monkeypatch.setattr(programme_module, "NODES", 10)
    result = plan_ballast(task_of(*places, target="moment", target_moment=1.85))
    assert result.feasible
    assert result.predicted_statement == "inside"
    assert any("stopped by its size" in note for note in result.notes)


def test_another_way_of_asking_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    """An error of the solver at the first way of asking changes nothing in the plan."""
    wanted = plan_ballast(task_of(ARM, target="middle"))
    real = programme_module._attempt

    def failing(*given: Any) -> Any:
        return ((), 4) if given[-1].presolve and not given[-1].backwards else real(*given)

    monkeypatch.setattr(programme_module, "_attempt", failing)
    assert plan_ballast(task_of(ARM, target="middle")) == wanted


def test_it_is_reached_from_the_library_s_name() -> None:
    """The room is loaded when it is named, and what is no room is no attribute."""
    assert hingeline.balance.ballast.plan_ballast is plan_ballast
    with pytest.raises(AttributeError, match="has no attribute 'balast'"):
        _ = hingeline.balance.balast
