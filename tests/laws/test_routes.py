"""The two routes: SI floats, and exact fractions of the typed text. They agree, and neither can go wrong alone."""

from __future__ import annotations

import math
import string
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from hingeline import exact
from hingeline.balance import (
    HungMass,
    Limits,
    Part,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    causes,
    recheck,
    terms,
    weigh,
)
from hingeline.errors import InputRefused, RoutesDisagree
from hingeline.uncertainty import budget, decimals, stated
from hingeline.units import Typed, read
from hingeline.units.catalogue import key_of, units_by_key
from tests.random_weighings import SPACES, Typist, spellings

DIMENSIONS = ("mass", "force", "length", "angle", "acceleration", "ratio", "moment")
SENSES = ("", " tail-heavy", " nose-heavy", " nose heavy", " Tail Down", " trailing edge down", " LEADING EDGE HEAVY")


# ------------------------------------------------------------------ agreement


def largest_ratio(weighing: Weighing) -> float:
    """The difference of the two routes, as a part of the sum of terms."""
    compared = weigh(weighing).comparison
    assert compared.second_route == "from the typed text"
    allowed = max(
        compared.allowed, 1e-12 * abs(weighing.limits.lower or 0.0), 1e-12 * abs(weighing.limits.upper or 0.0)
    )
    return 1e-12 * compared.largest_difference / allowed


def compare_many(count: int, seed: int, record_property: Callable[[str, object], None]) -> None:
    """Weigh so many random weighings; weigh itself raises where a number is further apart than 1e-12."""
    typist, done, worst = Typist(seed), 0, 0.0
    for _ in range(2 * count):
        try:
            worst = max(worst, largest_ratio(typist.weighing()))
        except InputRefused:
            continue
        done += 1
        if done == count:
            break
    said = f"{done} weighings, {typist.typed} typed quantities: largest difference {worst:.2e} of the sum of terms"
    record_property("routes", said)
    print(said)
    assert done == count, said
    assert 0.0 < worst <= 1e-12, said


@pytest.mark.slow
def test_both_routes_agree(record_property: Callable[[str, object], None]) -> None:
    """On 2,000 random typed weighings both routes agree within 1e-12 of the sum of terms."""
    compare_many(2_000, 1, record_property)


@pytest.mark.campaign
def test_both_routes_agree_on_many(record_property: Callable[[str, object], None]) -> None:
    """On 20,000 random typed weighings both routes agree within 1e-12 of the sum of terms."""
    compare_many(20_000, 2, record_property)


def test_a_surface_that_balances_exactly_raises_no_alarm() -> None:
    """Where nothing is left of the sum, rounding still counts with what was added up."""
    doubt = StatedUncertainty(scale=Stated(read("5 g", "mass"), "kg", "resolution"))
    for shown, tare in (("0 g", "0 g"), ("123.4 g", "123.4 g")):
        support = Support(arm=read("255 mm", "length"), readings=(read(shown, "mass"),) * 3, tare=read(tare, "mass"))
        result = weigh(Weighing(Surface("rudder"), (support,), uncertainty=doubt))
        assert result.static_moment.value == 0.0
        assert result.static_moment.expanded_uncertainty == pytest.approx(
            1.9599640 * 0.005 / math.sqrt(12.0) * 9.80665 * 0.255, rel=1e-7
        )


# ------------------------------------------------------------------ every spelling


def variants(spelling: str) -> set[str]:
    """How else a spelling may be written: other separators, dots, spaces."""
    parts = spelling.replace("-", " ").split(" ")
    joined = {mark.join(parts) for mark in (" ", "-", "·", "\u22c5", ".", ". ", "*", " · ", "\u2011", "\u00a0")}
    dotted = {". ".join(parts) + "."} if len(parts) == 2 else set()
    powers = {spelling.replace("^2", power) for power in ("2", "²", "**2")} | {spelling.replace("/", " / ")}
    return {spelling} | powers | (joined | dotted if len(parts) == 2 else set())


def readings_of(spelling: str, dimension: str) -> list[Typed]:
    """Every way of typing this spelling that the first reader accepts."""
    found = []
    for number in ("1", "12.6", ".5", "8.40e-3", "+3.000", "0"):
        for written in variants(spelling):
            for space in SPACES:
                for sense in SENSES if dimension == "moment" else ("",):
                    try:
                        found.append(read(number + space + written + sense, dimension, local_gravity=9.81234))
                    except InputRefused:
                        continue
    return found


@pytest.mark.parametrize(
    ("dimension", "spelling"), [(dimension, each) for dimension in DIMENSIONS for each in spellings(dimension)]
)
def test_both_readers_read_every_spelling_alike(dimension: str, spelling: str) -> None:
    """What the first reader reads, the second reads too, as the same value to the last digit."""
    readings = readings_of(spelling, dimension)
    assert len(readings) >= 6 * len(SPACES)
    for first in readings:
        second = float(exact.fraction(first, Fraction("9.81234")))
        assert abs(second - first) <= math.ulp(first), first.text


@pytest.mark.parametrize("text", ["12,6 mm", "-12,60 mm", "\u22120,5 in", ",5 cm", "  3,25\u00a0mm "])
def test_both_readers_read_a_comma_of_a_page_alike(text: str) -> None:
    """On a page a comma is a decimal mark, for both readers."""
    typed = read(text, "length", page=True)
    assert float(exact.fraction(typed)) == typed
    assert typed != round(typed)


def test_a_minus_turns_both_readers() -> None:
    """Both minus signs, and a nose-heavy word, make both readings negative."""
    for text in ("-9.0 in-lb", "\u22129.0 in. lb.", "9.0 IN-LBS nose-heavy", "9.0 lbf⋅in leading edge heavy"):
        typed = read(text, "moment")
        assert typed < 0.0
        assert float(exact.fraction(typed)) == pytest.approx(typed, rel=1e-15)


def test_what_the_second_reader_does_not_know_is_a_disagreement() -> None:
    """A spelling that only the first reader knows gives no statement, and says which text it was."""
    unknown = Typed(1.0, text="1 cubit", number="1", unit="m", dimension="length")
    with pytest.raises(RoutesDisagree, match=r"two computations of the typed text disagree.*'cubit' as a length"):
        weigh(Weighing(Surface("rudder"), (Support(arm=unknown, readings=(1.0,)),)))


@pytest.mark.parametrize("text", ["", ".", "-", "mm", "kg", *string.punctuation])
def test_the_second_reader_needs_a_number(text: str) -> None:
    """Without a digit it does not read zero, it refuses."""
    with pytest.raises(exact.CannotRead):
        exact.fraction(Typed(0.0, text=text, number="0", unit="m", dimension="length"))


# ------------------------------------------------------------------ seeded faults


def everything() -> Weighing:
    """A weighing that uses every constant that is spoiled below."""

    def of(text: str, dimension: str) -> Typed:
        return read(text, dimension)

    return Weighing(
        surface=Surface("aileron", mass=of("4.1 kg", "mass"), vertical_offset=of("-20 mm", "length")),
        supports=(
            Support(
                of("12.6 in", "length"), "aft", tuple(of(each, "mass") for each in ("0.95 lb", "430 g", "15.2 oz"))
            ),
            Support(of("1.1 ft", "length"), "forward", (of("1.1 lbf", "force"),), reading_unit="N"),
            Support(of("30 cm", "length"), "aft", (of("0.5 daN", "force"),), reading_unit="N"),
        ),
        hung=(
            HungMass(of("14 oz", "mass"), of("0.4 m", "length"), mass_uncertainty=Stated(of("0.4 g", "mass"), "kg")),
        ),
        parts=(Part("pushrod", "not fitted", of("40 g", "mass"), of("120 mm", "length")),),
        uncertainty=StatedUncertainty(
            scale=Stated(of("5 g", "mass"), "kg", "resolution"),
            calibration=Stated(of("10 g", "mass"), "kg", "expanded", 2.0),
            arm=Stated(of("2 mm", "length"), "m"),
            friction=Stated(of("10 g", "mass"), "kg", "triangular"),
            level=Stated(of("2 deg", "angle"), "rad", "standard"),
        ),
        limits=Limits(lower=of("-30 in-lb", "moment"), upper=of("460 N cm", "moment")),
    )


def spoil_table(dimension: str, spelling: str, factor: str) -> Callable[[pytest.MonkeyPatch], None]:
    """Spoil a factor of the table that the first reader looks up."""

    def spoil(patch: pytest.MonkeyPatch) -> None:
        units = units_by_key(dimension)
        key = key_of(spelling)
        patch.setitem(units, key, replace(units[key], factor=factor))

    return spoil


def spoil_item(table: dict[Any, Any], key: str, value: Any) -> Callable[[pytest.MonkeyPatch], None]:
    """Spoil one entry of a dictionary of constants."""
    return lambda patch: patch.setitem(table, key, value)


def spoil_name(module: Any, name: str, value: Any) -> Callable[[pytest.MonkeyPatch], None]:
    """Spoil a constant or a function of a module."""
    return lambda patch: patch.setattr(module, name, value)


NANO = Fraction(1_000_000_001, 1_000_000_000)
FIRST_ROUTE = {
    "pound": spoil_table("mass", "lb", "0.453592371"),
    "gram": spoil_table("mass", "g", "0.001000001"),
    "ounce of a troy pound": spoil_table("mass", "oz", "0.0311034768"),
    "inch of 1959 for 1866": spoil_table("length", "in", "0.0254000508"),
    "foot of the survey": spoil_table("length", "ft", "0.3048006096"),
    "millimetre": spoil_table("length", "mm", "0.0010000001"),
    "pound force without its last digit": spoil_table("force", "lbf", "4.44822"),
    "decanewton": spoil_table("force", "daN", "100"),
    "degree": spoil_table("angle", "deg", "1/180.01"),
    "limit in in-lb": spoil_table("moment", "in-lb", "0.0115212"),
    "limit in N cm": spoil_table("moment", "N cm", "0.1"),
    "rectangle for triangle": spoil_item(stated._FACTOR, "triangular", 1.0 / math.sqrt(3.0)),
    "half a step for a step": spoil_item(stated._FACTOR, "resolution", 1.0 / math.sqrt(3.0)),
    "root of three": spoil_item(stated._FACTOR, "limit", 0.57735),
    "side": spoil_name(terms, "aft", lambda side: 1),
    "side, in the sensitivities of arms alone": spoil_name(causes, "aft", lambda side: 2),
    "mean": spoil_name(terms.equations, "mean", lambda readings: sorted(readings)[len(readings) // 2]),
    "coverage factor": spoil_name(budget, "student_tail_quantile", lambda tail, degrees: 1.96),
}
SECOND_ROUTE = {
    "pound": spoil_item(exact._MASS, "lb", exact._MASS["lb"] * NANO),
    "ounce": spoil_item(exact._MASS, "oz", exact._MASS["lb"] / 12),
    "gram": spoil_item(exact._MASS, "g", exact._MASS["g"] * NANO),
    "inch": spoil_item(exact._LENGTH, "in", exact._LENGTH["in"] * NANO),
    "foot": spoil_item(exact._LENGTH, "ft", exact._LENGTH["in"] * 10),
    "pound force": spoil_item(exact._WEIGHT_FORCE, "lbf", exact._WEIGHT_FORCE["lbf"] * NANO),
    "decanewton": spoil_item(exact._FORCE, "daN", Fraction(1)),
    "standard gravity": spoil_name(exact, "_STANDARD_GRAVITY", Fraction("9.807")),
    "degree": spoil_item(exact._ANGLE, "deg", Fraction(355, 113) / 180),
    "name": spoil_item(exact._SAME_NAME, "in", "ft"),
    "rectangle for triangle": spoil_item(recheck._SQUARED, "triangular", Fraction(1, 3)),
    "half a step for a step": spoil_item(recheck._SQUARED, "resolution", Fraction(1, 3)),
    "side": spoil_name(recheck, "_sign", lambda side: 1),
    "part": spoil_name(recheck, "_counted", lambda part: -1),
    "coverage factor": spoil_name(decimals, "decimal_factor", lambda *given, **named: decimals.Decimal(2)),
}


def test_nothing_spoiled_raises_no_alarm() -> None:
    """The weighing of the seeded faults is sound: both routes agree on it."""
    assert weigh(everything()).comparison.largest_difference < 1e-13


@pytest.mark.fault("F43")
@pytest.mark.parametrize("name", FIRST_ROUTE)
def test_a_wrong_constant_of_the_first_route_is_caught(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """One constant of the first route spoiled: no statement, and a sentence that says whose fault it is."""
    FIRST_ROUTE[name](monkeypatch)
    with pytest.raises(RoutesDisagree, match="This is a fault of the program, not of your work"):
        weigh(everything())


@pytest.mark.fault("F43")
@pytest.mark.parametrize("name", SECOND_ROUTE)
def test_a_wrong_constant_of_the_second_route_is_caught(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """One constant of the second route spoiled: the same."""
    SECOND_ROUTE[name](monkeypatch)
    with pytest.raises(RoutesDisagree, match="Do not use any number from this run"):
        weigh(everything())
