"""Quantities: number, unit, sense; and what a refusal says."""

from __future__ import annotations

import random
from math import isfinite

import pytest

from hingeline.errors import InputRefused
from hingeline.units import STANDARD_GRAVITY, Typed, read

LB_IN = 0.45359237 * 0.0254 * 9.80665  # N m, from the definitions of 1959 and 1901

READ = {
    ("255 mm", "length"): 0.255,
    ("12.6in", "length"): 0.32004,
    ("12.6 in.", "length"): 0.32004,
    ("-20 mm", "length"): -0.02,
    ("\u221220\u00a0mm", "length"): -0.02,
    ("5 \u00b5m", "length"): 5e-6,
    ("5 \u03bcm", "length"): 5e-6,
    ("0.842 kg", "mass"): 0.842,
    ("1\u202fkg", "mass"): 1.0,
    ("16 oz", "mass"): 0.45359237,
    ("11.2 N", "force"): 11.2,
    ("2 kgf", "force"): 19.6133,
    ("46 N cm", "moment"): 0.46,
    ("46 N·cm", "moment"): 0.46,
    ("46 N\u22c5cm", "moment"): 0.46,
    ("46 N*cm", "moment"): 0.46,
    ("0.143 daNm", "moment"): 1.43,
    ("0.143 m daN", "moment"): 1.43,
    ("3 kp m", "moment"): 29.41995,
    ("30 1/min", "frequency"): 0.5,
    ("36 km/h", "speed"): 10.0,
    ("9.80665 m/s²", "acceleration"): 9.80665,
    ("9.80665 m/s^2", "acceleration"): 9.80665,
    ("9.80665 m/s2", "acceleration"): 9.80665,
    ("1.225 kg / m^3", "density"): 1.225,
    ("34 MPa m^0.5", "toughness"): 34e6,
    ("34 MPa √m", "toughness"): 34e6,
    ("68.3 GPa", "pressure"): 68.3e9,
    ("2.5 %", "ratio"): 0.025,
    ("2.5%", "ratio"): 0.025,
    ("90 g/m^2", "mass_per_area"): 0.09,
    ("1e3 mm", "length"): 1.0,
}

REFUSED = {
    ("", "mass"): "is missing",
    ("kg", "mass"): "no number at its beginning",
    ("5", "mass"): 'has no unit: write it after the number, as in "12.6 kg"',
    ("5 mm", "mass"): "mm is a length; a mass is expected.",
    ("5 mm", ("mass", "force")): "mm is a length; a mass or a force is expected.",
    ("5 kg", "moment"): "kg is a mass; a moment is expected.",
    ("5 g", "acceleration"): "g is a mass; an acceleration is expected.",
    ("5 mmm", "length"): 'The unit "mmm" is not known. Did you mean mm',
    ("5 KG", "mass"): "Did you mean kg",
    ("5 MN", "force"): "Did you mean mN",
    ("5 k\u0261", "mass"): "It holds the character U+0261.",
    ("5 \u200bkg", "mass"): "cannot be seen, U+200B",
    ("2 lb 3 oz", "mass"): "one number in one unit",
    ("5 ft 3 in", "length"): "one number in one unit",
    ("2 fl oz", "mass"): "A fluid ounce is a volume. Write oz for the avoirdupois ounce",
    ("2 stone", "mass"): "Write the mass in kg or lb.",
    ('12.6"', "length"): "Write in for inches.",
    ("12.6'", "length"): "Write ft for feet.",
    ("5 KIAS", "speed"): "Write kn",
    ("12,6 mm", "length"): "as a point: 12.6.",
    ("1,234 mm", "length"): "1.234 if it is the decimal mark, 1234 if it parts the thousands",
    ("3 1/4 in", "length"): "write 3.25, with the unit after it",
    ("1_000.5 mm", "length"): "underscore out: 1000.5",
    ("nan kg", "mass"): "not a number we can weigh with",
    ("inf kg", "mass"): "not a number we can weigh with",
    ("1e400 kg", "mass"): "two digits at most",
    ("0x10 mm", "length"): "plain digits",
    ("１.５ kg", "mass"): "plain digits 0 to 9",
    ("1 234 g", "mass"): "thousands mark",
    ("1.234,5 g", "mass"): "thousands mark",
    ("255 ± 2 mm", "length"): "uncertainty has an entry of its own",
    ("10-12 in", "length"): "not a range",
    ("-0.2 in-lb nose-heavy", "moment"): "could cancel each other",
    ("-0.2 in-lb tail-heavy", "moment"): "could cancel each other",
    ("5 kg nose-heavy", "mass"): "A word for the sense belongs to a moment",
    ("5 in-lb sideways-heavy", "moment"): "is not known",
    ("5 kg " + "x" * 300, "mass"): "at most 200 characters",
}


@pytest.mark.parametrize(("text", "dimension"), READ)
def test_a_quantity_is_the_float_nearest_to_the_exact_value(text, dimension):
    """The float read is the one that the exact decimal value prints as."""
    assert read(text, dimension) == READ[text, dimension]


@pytest.mark.parametrize(("text", "dimension"), REFUSED, ids=lambda given: ascii(given)[:30])
def test_a_quantity_is_refused_with_the_remedy_that_fits(text, dimension):
    """Each fault gives one refusal, placed at the field, with the text as given and a fitting remedy."""
    with pytest.raises(InputRefused) as caught:
        read(text, dimension, field="support[0].arm")
    (refusal,) = caught.value.refusals
    assert refusal.field == "support[0].arm"
    assert REFUSED[text, dimension] in refusal.remedy
    if text.isprintable():
        assert refusal.value.startswith(text[:80])


@pytest.mark.parametrize("given", [None, 5, 5.5, True, ["5 kg"], {"value": 5}])
def test_only_text_is_a_quantity(given):
    """A bare number of a file is refused, and the remedy shows the quotes."""
    with pytest.raises(InputRefused) as caught:
        read(given, "mass")
    (refusal,) = caught.value.refusals
    assert "a number with its unit, in quotes" in refusal.expected
    assert 'kg".' in refusal.remedy


def test_a_refused_unit_lists_what_is_accepted():
    """Whoever mistypes a unit sees all units of that dimension."""
    with pytest.raises(InputRefused) as caught:
        read("5 foo", ("mass", "force"))
    expected = caught.value.refusals[0].expected
    assert "a mass in kg, g, mg, lb, oz; or a force in N, mN, daN, kN, kgf" in expected


def test_a_dimension_that_does_not_exist_is_the_programmers_fault():
    """A misspelt dimension is no fault of the user's input."""
    with pytest.raises(ValueError, match='"lenght" is not a dimension'):
        read("5 mm", "lenght")


@pytest.mark.parametrize(("text", "dimension"), [("840 g", "mass"), ("8.4 N", "force"), ("1 kgf", "force")])
def test_a_reading_says_whether_it_is_a_mass_or_a_force(text, dimension):
    """Of several dimensions the first that knows the unit is taken, and named."""
    assert read(text, ("mass", "force")).dimension == dimension


@pytest.mark.parametrize(
    "spelling",
    [
        *("in-lb", "in lb", "inlb", "in-lbs", "in.lb", "in. lb.", "in·lb", "IN-LB", "inch-pounds"),
        *("lb-in", "lb in", "lbs in", "lb.in", "lbf in", "lbf-in", "in lbf"),
    ],
)
def test_an_inch_pound_is_one_moment_however_it_is_spelled(spelling):
    """Every spelling that manuals print gives the same moment."""
    assert read(f"12.6 {spelling}", "moment") == pytest.approx(12.6 * LB_IN, rel=1e-15)


@pytest.mark.parametrize("spelling", ["ft-lb", "ft lb", "ftlb", "ft.-lbs.", "lb ft", "lb-ft", "lbf ft", "ft lbf"])
def test_a_foot_pound_is_twelve_inch_pounds(spelling):
    """Every spelling of the foot-pound is 12 in-lb."""
    assert read(f"1 {spelling}", "moment") == pytest.approx(12 * LB_IN, rel=1e-15)


@pytest.mark.parametrize("spelling", ["oz-in", "oz in", "ozin", "in-oz", "in oz", "ozf in", "oz.in."])
def test_an_ounce_inch_is_a_sixteenth_of_an_inch_pound(spelling):
    """Every spelling of the ounce-inch is 1/16 in-lb."""
    assert read(f"16 {spelling}", "moment") == pytest.approx(LB_IN, rel=1e-15)


@pytest.mark.parametrize(
    ("words", "sign"),
    [
        ("tail-heavy", 1),
        ("tail heavy", 1),
        ("Tail Heavy", 1),
        ("trailing edge heavy", 1),
        ("trailing-edge down", 1),
        ("nose-heavy", -1),
        ("nose heavy", -1),
        ("NOSE HEAVY", -1),
        ("leading edge heavy", -1),
    ],
)
def test_a_word_for_the_sense_gives_the_sign(words, sign):
    """Tail-heavy is positive, nose-heavy is negative, whatever the words are."""
    moment = read(f"0.2 in-lb {words}", "moment")
    assert moment == pytest.approx(sign * 0.2 * LB_IN, rel=1e-15)
    assert float(moment.number) == sign * 0.2


def test_nothing_nose_heavy_is_plain_zero():
    """Zero has no sign, whatever word or minus stands beside it."""
    for text in ("0 in-lb nose-heavy", "-0.0 N m"):
        assert str(float(read(text, "moment"))) == "0.0"


@pytest.mark.parametrize("unit", ["kg cm", "g cm", "kg mm", "in-lb", "lb in", "ft-lb", "oz-in"])
def test_a_weight_times_an_arm_takes_the_local_gravity(unit):
    """Mass units in a moment mean force, with the gravity that mass readings get too."""
    standard, moon = read(f"1 {unit}", "moment"), read(f"1 {unit}", "moment", local_gravity=1.62)
    assert moon / standard == pytest.approx(1.62 / STANDARD_GRAVITY, rel=1e-15)
    assert (standard.local_gravity, moon.local_gravity) == (STANDARD_GRAVITY, 1.62)


@pytest.mark.parametrize(("text", "dimension"), [("1 N m", "moment"), ("1 daN m", "moment"), ("1 kgf", "force")])
def test_newtons_and_plain_forces_do_not_take_the_local_gravity(text, dimension):
    """N units of a moment, and kgf and lbf as forces, are the same everywhere."""
    here, moon = read(text, dimension), read(text, dimension, local_gravity=1.62)
    assert here == moon
    assert moon.local_gravity is None


@pytest.mark.parametrize(
    ("unit", "newton_metres"),
    [
        ("kgf m", 9.80665),
        *[("kgf cm", 0.0980665), ("kp cm", 0.0980665), ("gf cm", 9.80665e-5)],
        *[("lbf in", 0.1129848290276167), ("lbf ft", 1.3558179483314004), ("ozf-in", 0.00706155181422604)],
    ],
)
def test_a_unit_of_force_times_an_arm_is_the_same_everywhere(unit, newton_metres):
    """By definition kgf and lbf are newtons; NIST SP 811 (2008), B.8, prints kgf m, lbf in, lbf ft and ozf in.

    9.80665, 0.1129848, 1.355818 and 0.007061552 N m. More digits: 0.45359237 kg, 0.0254 m and 9.80665 m/s², exact.
    """
    here, moon = read(f"1 {unit}", "moment"), read(f"1 {unit}", "moment", local_gravity=1.62)
    assert here == moon == pytest.approx(newton_metres, rel=1e-14)
    assert moon.local_gravity is None


def test_a_force_at_an_arm_is_its_own_moment_anywhere():
    """5 kgf at 10 cm are 50 kgf cm, and 5 kg at 10 cm weigh 50 kg cm, at a gravity that is not the standard one."""
    gravity = 9.78
    assert read("5 kgf", "force") * 0.1 == pytest.approx(read("50 kgf cm", "moment", local_gravity=gravity), rel=1e-14)
    assert 5.0 * gravity * 0.1 == pytest.approx(read("50 kg cm", "moment", local_gravity=gravity), rel=1e-14)


@pytest.mark.parametrize("gravity", [0.0, -9.8, float("nan"), float("inf")])
def test_an_impossible_gravity_is_refused(gravity):
    """No NaN comes out of a gravity that is none."""
    with pytest.raises(ValueError, match="local_gravity"):
        read("1 kg cm", "moment", local_gravity=gravity)


def test_a_page_reads_a_decimal_comma():
    """On a page the comma is a decimal mark, in front of a unit too."""
    assert read("1,5 kg", "mass", page=True) == 1.5
    with pytest.raises(InputRefused, match="without an exponent"):
        read("1e3 kg", "mass", page=True)


@pytest.mark.slow
def test_20000_mutated_quantities_are_read_or_refused():
    """Whatever is typed, the answer is a finite quantity or a refusal that can be printed."""
    dice = random.Random(4)
    good = [text for text, _ in READ] + [text for text, _ in REFUSED]
    dimensions = tuple(dict.fromkeys(dimension for _, dimension in READ))
    read_well = 0
    for _ in range(20_000):
        letters = list(dice.choice(good))
        for _ in range(dice.randrange(1, 4)):
            place = dice.randrange(len(letters) + 1)
            letters[place : place + dice.randrange(2)] = dice.choice(
                ["", "1", "e", "-", "/", " ", "\ud800", "²", "kg", ".", "'"]
            )
        try:
            quantity = read("".join(letters), dimensions)
        except InputRefused as refused:
            str(refused).encode("utf-8")
            continue
        assert isinstance(quantity, Typed)
        assert isfinite(quantity)
        read_well += 1
    assert read_well > 1_000, "too few are read for the test to mean anything"
