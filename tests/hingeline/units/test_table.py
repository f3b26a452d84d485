"""The table of units: no spelling means two things, every factor follows from the definitions."""

from __future__ import annotations

from fractions import Fraction
from math import pi

import pytest

from hingeline.tables import read_table
from hingeline.units import read, units_of
from hingeline.units.catalogue import PI, dimensions, key_of, look_up, si_in, units_by_key

TABLE = read_table("hingeline.units", "table.toml")
ROWS = [(dimension, row) for dimension in dimensions() for row in TABLE["dimension"][dimension]["units"]]


@pytest.mark.parametrize("dimension", dimensions())
def test_no_spelling_stands_for_two_units_of_a_dimension(dimension):
    """A spelling that two rows claim would silently take the later one."""
    rows = TABLE["dimension"][dimension]["units"]
    keys = [(key_of(spelling), row["spelling"]) for row in rows for spelling in [row["spelling"], *row.get("also", [])]]
    owners: dict[str, str] = {}
    for key, owner in keys:
        assert owners.setdefault(key, owner) == owner
    assert units_by_key(dimension).keys() == owners.keys()


@pytest.mark.parametrize("dimension", dimensions())
def test_every_dimension_has_its_si_unit_with_factor_one(dimension):
    """What SI floats inside are counted in is a unit of the table too; a ratio's is the pure number."""
    if dimension == "ratio":
        assert TABLE["dimension"]["ratio"]["si"] == "1"
        return
    unit = units_by_key(dimension)[key_of(TABLE["dimension"][dimension]["si"])]
    assert (si_in(unit), unit.gravitational) == (1, False)


@pytest.mark.parametrize(
    ("dimension", "row"), ROWS, ids=lambda given: given if isinstance(given, str) else given["spelling"]
)
def test_every_row_names_a_source_that_is_listed(dimension, row):
    """A factor without origin may not stand in the table."""
    assert row["source"] in TABLE["source"]
    assert set(row) <= {"spelling", "factor", "also", "source", "pi", "gravity"}
    assert isinstance(row["factor"], str)


@pytest.mark.parametrize(
    ("dimension", "row"), ROWS, ids=lambda given: given if isinstance(given, str) else given["spelling"]
)
def test_every_spelling_of_a_unit_reads_the_same(dimension, row):
    """All spellings of one row, with and without a space, give one value."""
    for spelling in [row["spelling"], *row.get("also", [])]:
        assert read(f"7.25 {spelling}", dimension) == read(f"7.25 {row['spelling']}", dimension)
        if not spelling[0].isdigit():
            assert read(f"7.25{spelling}", dimension) == read(f"7.25 {row['spelling']}", dimension)


def test_what_is_refused_on_purpose_is_no_unit():
    """A spelling cannot be both refused and accepted."""
    assert not [key for key in TABLE["refused"] if look_up(key_of(key))]


def test_every_seen_unit_of_a_moment_is_known():
    """All moment units seen in manuals or in use are in the table."""
    seen = {"in-lb", "ft-lb", "kg cm", "N cm", "m daN", "oz-in", "g cm", "kg mm", "N m"}
    assert seen <= set(units_of("moment"))


# --------------------------------------------- every compound is exactly the product of its parts

PARTS = {
    **{
        name: Fraction(factor)
        for name, factor in {"m": "1", "kg": "1", "s": "1", "rad": "1", "N": "1", "Pa": "1"}.items()
    },
    **{
        "in": Fraction("0.0254"),
        "ft": Fraction("0.3048"),
        "yd": Fraction("0.9144"),
        "lb": Fraction("0.45359237"),
    },
    **{
        "oz": Fraction("0.45359237") / 16,
        "g": Fraction("0.001"),
        "l": Fraction("0.001"),
        "min": Fraction(60),
    },
    **{"h": Fraction(3600), "deg": PI / 180, "°": PI / 180, "mil": Fraction("0.0000254")},
    **{"kgf": Fraction("9.80665"), "kp": Fraction("9.80665"), "gf": Fraction("0.00980665")},
    **{
        "lbf": Fraction("0.45359237") * Fraction("9.80665"),
        "ozf": Fraction("0.45359237") * Fraction("9.80665") / 16,
    },
    **{"slug": Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.3048"), "1": Fraction(1)},
    **{"psi": Fraction("0.45359237") * Fraction("9.80665") / Fraction("0.0254") ** 2},
}
PREFIXES = {
    "k": 1000,
    "M": 10**6,
    "G": 10**9,
    "da": 10,
    "h": 100,
    "d": Fraction(1, 10),
    "c": Fraction(1, 100),
}
PREFIXES |= {"m": Fraction(1, 1000), "µ": Fraction(1, 10**6)}
# Names that are not products: their own definitions are checked against pint and against NIST in other tests.
SINGLE = {"kn", "mph", "Hz", "%", "arcmin", "ksi", "Msi"}


def part(name: str) -> Fraction:
    """One factor of a compound, with its prefix and power."""
    base, _, power = name.partition("^")
    if base in PARTS:
        return PARTS[base] ** int(power or 1)
    prefix = next(prefix for prefix in ("da", *PREFIXES) if base.startswith(prefix) and base[len(prefix) :] in PARTS)
    return (PREFIXES[prefix] * PARTS[base[len(prefix) :]]) ** int(power or 1)


def product(spelling: str) -> Fraction:
    """Multiply a compound out from its parts."""
    value = Fraction(1)
    for number, side in enumerate(spelling.split("/")):
        for name in side.replace("-", " ").split():
            value *= part(name) ** (-1 if number else 1)
    return value


@pytest.mark.parametrize(
    ("dimension", "spelling"),
    [
        (dimension, row["spelling"])
        for dimension, row in ROWS
        if "0.5" not in row["spelling"] and row["spelling"] not in SINGLE
    ],
)
def test_every_factor_is_exactly_the_product_of_its_parts(dimension, spelling):
    """The stored factor is the exact product of the definitions, to the last digit."""
    unit = units_by_key(dimension)[key_of(spelling)]
    if unit.gravitational:
        names = spelling.replace("-", " ").split()
        weight = next(
            name for name in names if name in ("kg", "g", "lb", "oz") or name in ("kgf", "kp", "gf", "lbf", "ozf")
        )
        g = 1 if weight in ("kgf", "kp", "gf", "lbf", "ozf") else Fraction("9.80665")
        assert si_in(unit) == product(spelling) * g
    elif spelling == "rad/s":
        assert si_in(unit) == 1 / (2 * PI)  # cycles per second, not radians
    else:
        assert si_in(unit) == product(spelling)


def test_ksi_root_inch_squared_is_ksi_squared_inch():
    """The irrational factor, squared, is ksi² in to 38 digits."""
    unit = units_by_key("toughness")[key_of("ksi in^0.5")]
    exact = (1000 * PARTS["psi"]) ** 2 * PARTS["in"]
    assert abs(si_in(unit) ** 2 / exact - 1) < Fraction(1, 10**38)


def test_pi_is_pi():
    """The stored pi agrees with Machin's series of 1706 to 49 digits, and is the float nearest to it."""

    def arctangent_of_one_over(whole: int) -> Fraction:
        return sum(Fraction((-1) ** n, (2 * n + 1) * whole ** (2 * n + 1)) for n in range(40))

    assert abs(PI - (16 * arctangent_of_one_over(5) - 4 * arctangent_of_one_over(239))) < Fraction(1, 10**49)
    assert float(PI) == pi
