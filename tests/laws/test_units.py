"""Laws of units: there and back, one gravity, signs that flip, floats that are right to the last digit."""

from __future__ import annotations

from decimal import Decimal, localcontext
from math import isclose, nextafter

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline.tables import read_table
from hingeline.units import STANDARD_GRAVITY, express, number_text, read, sense_word, units_of, write
from hingeline.units.catalogue import PI, dimensions, key_of, units_by_key

EVERY_UNIT = [(dimension, unit) for dimension in dimensions() for unit in units_of(dimension)]
MOMENT_WORDS = st.sampled_from(units_of("moment"))
UNITS = st.sampled_from(EVERY_UNIT)
MASSES = st.decimals(min_value="0.001", max_value=100, places=3)
ARMS = st.decimals(min_value=1, max_value=50, places=1)
NUMBERS = st.decimals(min_value=-(10**9), max_value=10**9, allow_nan=False, allow_infinity=False, places=6)
GRAVITIES = st.floats(min_value=9.76, max_value=9.84)


def within_two_steps(first: float, second: float) -> bool:
    """Whether two floats are equal, neighbours, or neighbours' neighbours."""
    step = abs(nextafter(first, float("inf")) - first)
    return abs(first - second) <= 2 * step


@given(UNITS, NUMBERS, GRAVITIES)
def test_there_and_back(unit, number, gravity):
    """A quantity read, and expressed in its own unit again, is the same number to a float's last digit."""
    dimension, spelling = unit
    typed = read(f"{number:f} {spelling}", dimension, local_gravity=gravity)
    for back in (typed.in_own_unit(typed), express(typed, spelling, gravity, dimension=dimension)):
        assert within_two_steps(float(number), back)


@given(UNITS, st.floats(min_value=-1e80, max_value=1e80, allow_subnormal=False))
def test_what_is_written_reads_back_as_the_same_float(unit, value):
    """Writing loses nothing: the number read from the written text is the same float."""
    dimension, spelling = unit
    if 0 < abs(value) < 1e-80:
        value = 0.0
    text = write(value, spelling)
    number = text[: -len(spelling) - 1]
    assert float(number_text(number)) == value
    assert read(text, dimension).unit == spelling


@pytest.mark.parametrize(("dimension", "spelling"), EVERY_UNIT)
def test_minus_turns_the_sign_and_nothing_else(dimension, spelling):
    """A minus in front, typed as hyphen or as U+2212, gives exactly the opposite value."""
    value = read(f"3.7 {spelling}", dimension)
    assert read(f"-3.7 {spelling}", dimension) == -value
    assert read(f"\u22123.7 {spelling}", dimension) == -value


@given(MOMENT_WORDS, st.decimals(min_value=0, max_value=1000, places=3, allow_nan=False))
def test_nose_heavy_is_the_opposite_of_tail_heavy(spelling, number):
    """The two words give opposite moments, tail-heavy the positive one, and the word comes back."""
    tail = read(f"{number:f} {spelling} tail-heavy", "moment")
    nose = read(f"{number:f} {spelling} nose-heavy", "moment")
    assert tail == -nose == read(f"{number:f} {spelling}", "moment")
    assert sense_word(tail) == ("balanced" if number == 0 else "tail-heavy")
    assert sense_word(nose) == ("balanced" if number == 0 else "nose-heavy")


@given(GRAVITIES, MASSES, ARMS)
def test_gravity_cancels_between_a_mass_reading_and_a_limit_in_mass_units(gravity, mass, arm):
    """A mass times an arm times g is the moment that the same product in kg cm (or in-lb) means, at any g."""
    for mass_unit, arm_unit, moment_unit in (
        ("kg", "cm", "kg cm"),
        ("lb", "in", "in-lb"),
        ("oz", "in", "oz-in"),
    ):
        reading = read(f"{mass} {mass_unit}", "mass") * gravity * read(f"{arm} {arm_unit}", "length")
        limit = read(f"{mass * arm} {moment_unit}", "moment", local_gravity=gravity)
        assert isclose(reading, limit, rel_tol=1e-15)


@given(UNITS, NUMBERS)
def test_the_float_is_the_nearest_to_the_exact_product(unit, number):
    """Number times factor in 80-digit decimals rounds to the very float that was read."""
    dimension, spelling = unit
    row = units_by_key(dimension)[key_of(spelling)]
    with localcontext() as context:
        context.prec = 80
        above, _, below = row.factor.partition("/")
        exact = number * Decimal(above) / Decimal(below or 1)
        pi = Decimal(PI.numerator) / Decimal(PI.denominator)
        exact = exact * pi if row.pi == 1 else exact / pi if row.pi == -1 else exact
        exact = exact * Decimal("9.80665") if row.gravitational else exact
        assert float(exact) == read(f"{number:f} {spelling}", dimension)


# ---------------------------------------------------------------- a units library as the second opinion

AS_PINT_SPELLS = {
    "kn": "knot",
    "mph": "mile/hour",
    "deg": "degree",
    "arcmin": "arcminute",
    "mil": "thou",
    "kp": "kgf",
    "gf": "kgf/1000",
    "ozf": "lbf/16",
    "1/min": "1/minute",
    "1/s": "1/second",
    "rad/s": "radian/second/(2*pi*radian)",
    "%": "percent",
    "Msi": "1000*ksi",
}
SI_AS_PINT_SPELLS = {"N m/rad": "N*m/radian", "Hz": "1/s", "1": "dimensionless", "rad": "radian"}


def in_pint(spelling: str, gravitational: bool) -> str:
    """Spell a unit for pint: products with stars, weights as forces."""
    if spelling in AS_PINT_SPELLS:
        return AS_PINT_SPELLS[spelling]
    names = spelling.replace("-", " ").replace("/", " / ").split()
    names = [AS_PINT_SPELLS.get(name, {"h": "hour", "rad": "radian", "in": "inch"}.get(name, name)) for name in names]
    names = [name.replace("in^", "inch^") for name in names]
    if gravitational:
        names = [{"kg": "kgf", "g": "(kgf/1000)", "lb": "lbf", "oz": "(lbf/16)"}.get(name, name) for name in names]
        names = [f"({name})" if "/" in name and name != "/" else name for name in names]
    return "*".join(names).replace("*/*", "/")


@pytest.fixture(scope="module")
def pint_units():
    """Build pint's registry once: it takes most of a second."""
    return pint.UnitRegistry()


@pytest.mark.parametrize(("dimension", "spelling"), EVERY_UNIT)
def test_pint_knows_the_same_factor(pint_units, dimension, spelling):
    """Another library's factor agrees to 1e-12 for every unit, spelled its way."""
    unit = units_by_key(dimension)[key_of(spelling)]
    si = units_by_key(dimension)[key_of(units_of_si(dimension))].spelling if dimension != "ratio" else "1"
    theirs = pint_units.parse_expression(in_pint(spelling, unit.gravitational))
    theirs = theirs.to(SI_AS_PINT_SPELLS.get(si, si.replace(" ", "*"))).magnitude
    assert read(f"1 {spelling}", dimension, local_gravity=STANDARD_GRAVITY) == pytest.approx(theirs, rel=1e-12)


def units_of_si(dimension: str) -> str:
    """Find the spelling of the SI unit of a dimension."""
    return str(read_table("hingeline.units", "table.toml")["dimension"][dimension]["si"])
