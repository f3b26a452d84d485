"""The self-test finds a fault where there is one, and none where there is none."""

from __future__ import annotations

import math
from collections import Counter
from fractions import Fraction

import pytest

from hingeline import exact
from hingeline.balance import weigh
from hingeline.uncertainty import stated, student
from hingeline_app.selftest import run_selftest
from hingeline_app.selftest.cases import COMPUTE, published_cases, work_out
from hingeline_app.selftest.run import both_routes
from hingeline_app.selftest.weighings import weighings

MAKERS = ("Cessna", "Beech", "Diamond", "Stemme", "Grob", "Dynamic", "Cirrus", "Mooney", "LS4", "304S")


def test_a_sound_installation_agrees_everywhere() -> None:
    """Every published value and both routes agree, and the sentence says so."""
    outcome = run_selftest(count=60)
    assert outcome.agrees
    assert outcome.sentence == "This installation computes what it should."
    assert all(value.agrees for case in outcome.cases for value in case.values)
    assert outcome.two_routes.agreeing == outcome.two_routes.weighings == 60
    assert 0.0 < outcome.two_routes.largest_difference < 1.0


@pytest.mark.parametrize("case", published_cases(), ids=lambda case: case["id"])
def test_each_case_names_its_source_and_no_maker(case: dict[str, str]) -> None:
    """The data that ships has a source, a provenance and a computation for each case, and no maker's rows."""
    assert case["source"]
    assert case["provenance"] in {"read in the source", "read in a text that quotes it", "from memory", "computed"}
    assert case["kind"] in COMPUTE
    assert not [maker for maker in MAKERS if maker in str(case)]


@pytest.mark.parametrize("case", published_cases(), ids=lambda case: case["id"])
def test_each_value_can_fail(case: dict[str, dict[str, list[float]]]) -> None:
    """A print moved by three tolerances (or by a millionth of itself) is not met any more."""
    moved = {
        name: [published + 3 * max(tolerance, 1e-6 * abs(published)), tolerance]
        for name, (published, tolerance) in case["values"].items()
    }
    outcome = work_out({**case, "values": moved})
    assert not any(value.agrees for value in outcome.values)
    assert not outcome.agrees


@pytest.mark.fault("F43")
def test_a_wrong_pound_in_one_route_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """A pound that is wrong in its fifth digit in the second route only: weighings in pounds disagree."""
    monkeypatch.setitem(exact._MASS, "lb", Fraction("0.45360"))
    outcome = run_selftest(count=60)
    assert not outcome.agrees
    assert outcome.sentence.startswith("Do not use this installation")
    assert "weighings by two routes" in outcome.sentence
    assert outcome.two_routes.first_fault is not None
    assert "RoutesDisagree" in outcome.two_routes.first_fault


def test_a_wrong_shape_factor_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """Taking a limit for half a triangle in one route: the expanded uncertainties disagree."""
    monkeypatch.setitem(stated._FACTOR, "limit", 1.0 / math.sqrt(6.0))
    found = both_routes(30, 5)
    assert not found.agrees
    assert found.first_fault is not None
    assert "expanded uncertainty" in found.first_fault


def test_a_case_that_cannot_be_computed_is_a_fault_and_no_crash(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a case raises, its values are missing, it does not agree, and the words of the fault are kept."""

    def broken(inputs: object) -> dict[str, float | None]:
        raise ImportError("No module named 'numpy'")

    monkeypatch.setitem(COMPUTE, "sum", broken)
    outcome = work_out(next(case for case in published_cases() if case["kind"] == "sum"))
    assert not outcome.agrees
    assert outcome.fault == "ImportError: No module named 'numpy'"
    assert {value.here for value in outcome.values} == {None}


def test_a_wrong_normal_tail_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """A normal quantile wrong in its third digit is found by the table of coverage factors."""
    right = student.normal_tail_quantile
    monkeypatch.setattr(student, "normal_tail_quantile", lambda tail: 1.001 * right(tail))
    case = next(case for case in published_cases() if case["kind"] == "coverage factors")
    assert not work_out(case).agrees


def test_the_same_seed_gives_the_same_weighings() -> None:
    """A reported number of a weighing finds that weighing again."""
    assert list(weighings(20, 7)) == list(weighings(20, 7))
    assert list(weighings(20, 7)) != list(weighings(20, 8))


def test_the_weighings_try_every_method() -> None:
    """Among 400 there are hooks, forward supports, pairs, two supports, hung masses only, parts and every unit kind."""
    found: Counter[str] = Counter()
    for weighing in weighings(400, 3):
        found[f"{len(weighing.supports)} supports"] += 1
        found["part"] += bool(weighing.parts)
        found["hung"] += bool(weighing.hung)
        for support in weighing.supports:
            found[support.side] += 1
            found[support.pushes] += 1
            found[support.reading_unit] += 1
            found["pair" if support.rising else "readings"] += 1
        found[f"k = {weighing.uncertainty.k}"] += 1
    wanted = "0 supports, 1 supports, 2 supports, part, hung, aft, forward, up, down, kg, N, pair, readings"
    assert {name for name, count in found.items() if count > 15} == {*wanted.split(", "), "k = None", "k = 2.0"}


def test_every_weighing_was_typed() -> None:
    """The second route starts from typed text in all of them, not from the first route's floats."""
    assert {weigh(weighing).comparison.second_route for weighing in weighings(50, 1)} == {"from the typed text"}
