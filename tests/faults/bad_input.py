"""Bad input, one edit of a good file each: what is changed, which field is named, which word must help.

Each case is (the good file, what stands there, what is put in its place, the field that
must be named, a word that must stand in what was expected or in the remedy). The kinds
follow what was seen to slip through readers of numbers and of TOML (common practice, no source).
"""

from __future__ import annotations

from typing import NamedTuple

from tests.faults.good_files import ACROSS_FRICTION, EXAMPLE, HUNG_CUP, LIMITS, TWO_SCALES


class Case(NamedTuple):
    """One edit."""

    good: str
    old: str
    new: str
    field: str
    word: str


READINGS = '["840 g", "845 g", "840 g", "845 g", "840 g"]'
ARM = 'arm = "255 mm"'
ONE = "support[0].readings[0]"


def reading(new: str, word: str) -> Case:
    """Spoil the first reading of the example."""
    return Case(EXAMPLE, '["840 g"', f"[{new}", ONE, word)


def arm(new: str, word: str) -> Case:
    """Spoil the support's arm of the example."""
    return Case(EXAMPLE, ARM, f"arm = {new}", "support[0].arm", word)


def line(old: str, new: str, field: str, word: str) -> Case:
    """Spoil any line of the example."""
    return Case(EXAMPLE, old, new, field, word)


WEIGHING: dict[str, Case] = {
    # numbers
    "reading empty": reading('""', "missing"),
    "reading a word": reading('"abc g"', "digits"),
    "reading with two points": reading('"12..5 g"', "point"),
    "reading with two signs": reading('"--3 g"', "sign"),
    "reading nan": reading('"nan g"', "not a number we can weigh"),
    "reading inf": reading('"inf g"', "not a number we can weigh"),
    "reading bare nan": reading("nan", "measured"),
    "reading bare inf": reading("-inf", "measured"),
    "reading beyond floats": reading('"1e400 g"', "exponent"),
    "reading with a comma": reading('"842,5 g"', "842.5"),
    "reading with a comma that may part thousands": reading('"1,234 g"', "two ways"),
    "reading with both marks": reading('"1.234,5 g"', "thousands"),
    "reading with a space for thousands": reading('"1 234 g"', "thousands"),
    "reading with an apostrophe for thousands": reading('"1\'234 g"', "thousands"),
    "reading in full-width digits": reading('"\uff11.\uff15 kg"', "plain digits"),
    "reading in Arabic digits": reading('"\u0663 kg"', "plain digits"),
    "reading with an underscore": reading('"1_000 g"', "underscore"),
    "reading hexadecimal": reading('"0x10 g"', "plain digits"),
    "reading as a fraction": reading('"1 1/2 lb"', "1.5"),
    "reading as a range": reading('"840-845 g"', "one number"),
    "reading with its uncertainty": reading('"840 ± 5 g"', "uncertainty"),
    "reading with a zero-width space": reading('"84\u200b0 g"', "cannot be seen"),
    "reading of 41 digits": reading('"' + "8" * 41 + ' g"', "too long"),
    "reading negative": reading('"-840 g"', "nose-heavy"),
    "reading beyond any scale": line(READINGS, '["1001 kg"]', ONE, "1000 kg"),
    # units
    "reading without a unit": reading('"840"', "no unit"),
    "reading bare": reading("840", "quotes"),
    "reading true": reading("true", "quotes"),
    "reading a list": reading('["840 g"]', "number with its unit"),
    "reading a date": reading("2027-03-12", "number"),
    "reading a length": reading('"840 mm"', "length"),
    "reading in stone": reading('"1 stone"', "kg or lb"),
    "reading in fluid ounces": reading('"30 fl oz"', "volume"),
    "reading in two units": reading('"2 lb 3 oz"', "one unit"),
    "reading with a Cyrillic unit": reading('"840 \u0433"', "U+0433"),
    "readings in two units": Case(
        EXAMPLE, '"845 g", "840 g"]', '"0.845 kg", "840 g"]', "support[0].readings", "one unit"
    ),
    "arm in a mass": arm('"255 g"', "length"),
    "arm misspelt": arm('"255 milimetre"', "not known"),
    "level in millimetres": line(
        'level = {limit = "0.5 deg"}', 'level = {limit = "5 mm"}', "uncertainty.level.limit", "angle"
    ),
    "limit in kg": line('upper = "2.10 N m"', 'upper = "2.10 kg"', "limits.upper", "moment"),
    "minus and nose-heavy": line(
        'lower = "0.00 N m"', 'lower = "-0.5 N m nose-heavy"', "limits.lower", "cancel each other"
    ),
    # sizes
    "arm zero": arm('"0 mm"', "more than 0"),
    "arm negative": arm('"-255 mm"', "side"),
    "arm in metres for millimetres": arm('"213 m"', "Did you mean 213 mm"),
    "arm a thousandth": arm('"0.255 mm"', "Did you mean 255 mm"),
    "arm ten times": arm('"2550 mm"', "Did you mean 255 mm"),
    "arm beyond the trailing edge": arm('"290 mm"', "Check the number"),
    "tare above the readings": line('tare = "0 g"', 'tare = "900 g"', "support[0].tare", "swapped"),
    "tare negative": line('tare = "0 g"', 'tare = "-5 g"', "support[0].tare", "0 if there is none"),
    "tare a force": line('tare = "0 g"', 'tare = "0 N"', "support[0].tare", "both as masses"),
    "mass zero": line('mass = "4.100 kg"', 'mass = "0 kg"', "surface.mass", "0.001"),
    "mass of nothing": line('mass = "4.100 kg"', 'mass = "1e-99 kg"', "surface.mass", "0.001"),
    "mass that puts the centre of gravity behind the edge": line(
        'mass = "4.100 kg"', 'mass = "0.410 kg"', "surface.mass", "centre of gravity"
    ),
    "gravity of the Moon": line("[surface]", 'local_gravity = "1.62 m/s^2"\n[surface]', "local_gravity", "9.7"),
    "gravity zero": line("[surface]", 'local_gravity = "0 m/s^2"\n[surface]', "local_gravity", "9.7"),
    "height of the centre of gravity in kilometres": line(
        'vertical_offset = "-20 mm"', 'vertical_offset = "-20 km"', "surface.vertical_offset", "unit"
    ),
    "hung mass zero": Case(HUNG_CUP, 'mass = "155 g"', 'mass = "0 g"', "hung[0].mass", "above 0"),
    "part's arm negative": Case(ACROSS_FRICTION, 'arm = "120 mm"', 'arm = "-120 mm"', "part[0].arm", "side"),
    # structure
    "no format": line('format = "hingeline/weighing/1"', "", "format", "hingeline/weighing/1"),
    "format of a newer version": line("weighing/1", "weighing/2", "format", "newer"),
    "format of another command": line("hingeline/weighing/1", "hingeline/limits/1", "format", "hingeline limits"),
    "format unknown": line("hingeline/weighing/1", "weighing", "format", "hingeline/weighing/1"),
    "no surface's name": line('name = "Elevator, left half"\n', "", "surface.name", "Add it"),
    "surface's name empty": line('name = "Elevator, left half"', 'name = "  "', "surface.name", "a name"),
    "surface's name a number": line('name = "Elevator, left half"', "name = 7", "surface.name", "quotes"),
    "no arm": line(ARM, "", "support[0].arm", "arm ="),
    "no side": line('side = "aft"', "", "support[0].side", 'side = "aft"'),
    "side misspelt": line('side = "aft"', 'side = "after"', "support[0].side", '"forward"'),
    "side in capitals": line('side = "aft"', 'side = "AFT"', "support[0].side", '"aft"'),
    "pushes sideways": line('side = "aft"', 'side = "aft"\npushes = "left"', "support[0].pushes", '"down"'),
    "key misspelt": line("tare =", "tear =", "support[0].tear", 'mean "tare"'),
    "key in capitals": line("tare =", "TARE =", "support[0].TARE", 'mean "tare"'),
    "key of another table": line('tare = "0 g"', 'rule = "simple"', "support[0].rule", "limits"),
    "key with an escape in it": line("tare =", '"\\u001b[31mtare" =', 'support[0]."\\u001b[31mtare"', "tare"),
    "key empty": line("tare =", '"" =', 'support[0].""', "not known"),
    "table unknown": line("[limits]", "[limit]", "limit", 'mean "limits"'),
    "no readings": line(f"readings = {READINGS}", "", "support[0].readings", "at least one"),
    "readings empty": line(READINGS, "[]", "support[0].readings", "at least one"),
    "readings not in a list": line(READINGS, '"840 g"', "support[0].readings", "square brackets"),
    "a thousand and one readings": line(READINGS, str(["840 g"] * 1001), "support[0].readings", "1000"),
    "readings beside rising": Case(
        TWO_SCALES, 'scale = "A"', 'rising = ["1 kg"]\nfalling = ["1 kg"]', "support[0].readings", "rising and falling"
    ),
    "rising without falling": Case(
        ACROSS_FRICTION, 'falling = ["8.1 N", "8.15 N"]', "", "support[0].falling", "falling"
    ),
    "one support's table in single brackets": line("[[support]]", "[support]", "support", "[[support]]"),
    "the surface's table in double brackets": line("[surface]", "[[surface]]", "surface", "[surface]"),
    "support a text": line("[[support]]", 'part = ["rod"]\n[[support]]', "surface.balance_weight[0].part", "sheet"),
    "nothing that holds the surface": Case(
        HUNG_CUP, HUNG_CUP[HUNG_CUP.index("[[hung]]") : HUNG_CUP.index("[unc")], "", "support", "support or a hung mass"
    ),
    # uncertainty
    "uncertainty as a bare text": line('arm = {limit = "2 mm"}', 'arm = "2 mm"', "uncertainty.arm", "{limit"),
    "uncertainty stated twice": line(
        'arm = {limit = "2 mm"}', 'arm = {limit = "2 mm", standard = "1 mm"}', "uncertainty.arm", "exactly one"
    ),
    "uncertainty not stated": line('arm = {limit = "2 mm"}', "arm = {}", "uncertainty.arm", "exactly one"),
    "uncertainty misspelt": line(
        'arm = {limit = "2 mm"}', 'arm = {limits = "2 mm"}', "uncertainty.arm.limits", 'mean "limit"'
    ),
    "expanded without k": line(", k = 2}", "}", "uncertainty.calibration.k", "coverage factor"),
    "k in quotes": line("k = 2}", 'k = "2"}', "uncertainty.calibration.k", "bare number"),
    "k zero": line("k = 2}", "k = 0}", "uncertainty.calibration.k", "between 0.1 and 10"),
    "k of four hundred digits": line("k = 2}", f"k = {'1' * 400}}}", "line 31", "digits"),
    "k nan": line("k = 2}", "k = nan}", "uncertainty.calibration.k", "measured"),
    "k beyond floats": line("k = 2}", "k = 1e400}", "uncertainty.calibration.k", "exponent"),
    "k with an underscore": line("k = 2}", "k = 1_0}", "line 31", "plain number"),
    "k hexadecimal": line("k = 2}", "k = 0x2}", "line 31", "plain number"),
    "k where none belongs": line(
        'arm = {limit = "2 mm"}', 'arm = {limit = "2 mm", k = 2}', "uncertainty.arm.k", "Leave k out"
    ),
    "shape unknown": line(
        'arm = {limit = "2 mm"}', 'arm = {limit = "2 mm", shape = "round"}', "uncertainty.arm.shape", "triangular"
    ),
    "uncertainty negative": line('limit = "2 mm"', 'limit = "-2 mm"', "uncertainty.arm.limit", "without a sign"),
    "arm's uncertainty in metres": line('limit = "2 mm"', 'limit = "2 m"', "uncertainty.arm.limit", "unit"),
    "relative uncertainty of 150 %": line('limit = "2 mm"', 'limit = "150 %"', "uncertainty.arm.limit", "100 %"),
    "level of nine degrees": line('"0.5 deg"', '"9 deg"', "uncertainty.level", "5 degrees"),
    "level without the height": line('vertical_offset = "-20 mm"', "", "surface.vertical_offset", "leave level out"),
    "coverage in percent": Case(TWO_SCALES, "coverage = 0.99", "coverage = 95", "uncertainty.coverage", "0.95"),
    "coverage of certainty": Case(TWO_SCALES, "coverage = 0.99", "coverage = 1.0", "uncertainty.coverage", "0.9999"),
    "coverage in quotes": Case(
        TWO_SCALES, "coverage = 0.99", 'coverage = "95 %"', "uncertainty.coverage", "bare number"
    ),
    "coverage beside k": Case(
        TWO_SCALES, "coverage = 0.99", "coverage = 0.99\nk = 2", "uncertainty.k", "coverage or k"
    ),
    "friction beside a pair": Case(
        ACROSS_FRICTION,
        "k = 2\n",
        'k = 2\nfriction = {limit = "0.1 N"}\n',
        "uncertainty.friction",
        "rising and falling",
    ),
    # limits
    "limits swapped": line('lower = "0.00 N m"', 'lower = "2.50 N m"', "limits.lower", "swapped"),
    "limits of the mass swapped": line(
        "[sheet]", '[limits.mass]\nlower = "5 kg"\nupper = "4 kg"\n[sheet]', "limits.mass.lower", "swapped"
    ),
    "limit of the mass negative": line(
        "[sheet]", '[limits.mass]\nlower = "-5 kg"\n[sheet]', "limits.mass.lower", "without a sign"
    ),
    "limits of the mass without a limit": line(
        "[sheet]", "[limits.mass]\n[sheet]", "limits.mass", "a lower or an upper"
    ),
    "limits of the reading without a limit": line("[sheet]", "[limits.reading]\n[sheet]", "limits.reading", "lower"),
    "limits of the reading for two supports": Case(
        TWO_SCALES, "[uncertainty]", '[limits.reading]\nupper = "1 kg"\n[uncertainty]', "limits.reading", "one support"
    ),
    "band without a limit": Case(ACROSS_FRICTION, 'upper = "11.5 kg cm"', "", "limits.band[1]", "a lower or an upper"),
    "band's masses swapped": Case(
        ACROSS_FRICTION, '["0.75 kg", "0.92 kg"]', '["0.92 kg", "0.75 kg"]', "limits.band[0].mass.lower", "swapped"
    ),
    "band of one mass": Case(ACROSS_FRICTION, '["0.75 kg", "0.92 kg"]', '["0.75 kg"]', "limits.band[0].mass", "2"),
    "bands beside one band": Case(ACROSS_FRICTION, 'rule = "guarded"', 'upper = "2 N m"', "limits.band", "Leave"),
    "bands without the surface's mass": Case(
        ACROSS_FRICTION, 'mass = "0.80 kg"\nmass_uncertainty = {standard = "2 g"}\n', "", "surface.mass", "limits.band"
    ),
    "rule unknown": line('rule = "simple"', 'rule = "strict"', "limits.rule", '"guarded"'),
    "friction fraction in percent": Case(ACROSS_FRICTION, "0.025", "2.5", "limits.friction_fraction", "0.025"),
    # names
    "name of 201 characters": line("Elevator, left half", "x" * 201, "surface.name", "200"),
    "name with an escape sequence": line("Elevator, left half", "\\u001b[31mred", "surface.name", "U+001B"),
    "name with a right-to-left mark": line("Elevator, left half", "Elevator\u202e half", "surface.name", "U+202E"),
    "name with a line's end": line("Elevator, left half", "Elevator\\nhalf", "surface.name", "U+000A"),
    "name with a zero-width joiner": line("HL-3", "HL\u200d-3", "support[0].scale", "U+200D"),
    # notation
    "quantity without quotes": line(ARM, "arm = 255 mm", "line 23, column 11", "quotes"),
    "word without quotes": line('side = "aft"', "side = aft", "line 24, column 8", "quotes"),
    "curly quotes": line('side = "aft"', "side = \u201caft\u201d", "line 24, column 8", "straight quotes"),
    "quotes not closed": line('side = "aft"', 'side = "aft', "line 24, column 12", "Close the quotes"),
    "list not closed": line('"840 g"]', '"840 g"', "line 26, column 1", "list"),
    "table twice": line("[limits]", "[surface]", "line 36, column 9", "twice"),
    "name twice in one table": line('tare = "0 g"', 'tare = "0 g"\ntare = "0 g"', "line 27, column 13", "twice"),
    "remark without its mark": line("[surface]", "the surface:\n[surface]", "line 11, column 5", 'a name, "="'),
    "backslash": line("HL-3", "HL\\3", "line 27, column 14", "backslash"),
    "dotted name of a thousand steps": line("[surface]", "a." * 1000 + "b = 1\n[surface]", "line 11", "levels"),
    "brackets within brackets": line("[surface]", "a = " + "[" * 5000 + "\n[surface]", "file", "levels"),
    "tables within tables": line(
        "[surface]", "a = " + "{a = " * 30 + "1" + "}" * 30 + "\n[surface]", "a." + ".".join("a" * 20), "levels"
    ),
}

LIMIT_ROWS: dict[str, Case] = {
    "no format": Case(LIMITS, 'format = "hingeline/limits/1"', "", "format", "hingeline/limits/1"),
    "a weighing": Case(LIMITS, "hingeline/limits/1", "hingeline/weighing/1", "format", "hingeline weigh"),
    "a newer version": Case(LIMITS, "hingeline/limits/1", "hingeline/limits/12", "format", "newer"),
    "no row": Case(LIMITS, LIMITS[LIMITS.index("[[row]]") :], "", "row", "[[row]]"),
    "one row in single brackets": Case(LIMITS[: LIMITS.rindex("[[row]]")], "[[row]]", "[row]", "row", "[[row]]"),
    "no surface": Case(LIMITS, 'surface = "Elevator, left half"\n', "", "row[0].surface", "Add it"),
    "no sense": Case(LIMITS, 'positive = "tail-heavy"\n', "", "row[0].positive", "tail-heavy"),
    "sense unknown": Case(LIMITS, '"tail-heavy"', '"up"', "row[0].positive", "nose-heavy"),
    "sense both": Case(LIMITS, '"tail-heavy"', '"tail-heavy or nose-heavy"', "row[0].positive", "plus means"),
    "sense a number": Case(LIMITS, '"tail-heavy"', "1", "row[0].positive", "plus means"),
    "no moment": Case(LIMITS, 'moment = ["0.00 N m", "2.10 N m"]', "", "row[0].moment", "moment ="),
    "moment of nothing": Case(LIMITS, '["0.00 N m", "2.10 N m"]', '["none", "none"]', "row[0].moment", "governs"),
    "moment one number": Case(LIMITS, '["0.00 N m", "2.10 N m"]', '"2.10 N m"', "row[0].moment", "square brackets"),
    "moment three numbers": Case(
        LIMITS, '["0.00 N m", "2.10 N m"]', '["0 N m", "1 N m", "2 N m"]', "row[0].moment", "lower"
    ),
    "moment in kilograms": Case(LIMITS, '"2.10 N m"]', '"2.10 kg"]', "row[0].moment[1]", "moment"),
    "moment with a comma": Case(LIMITS, '"2.10 N m"]', '"2,10 N m"]', "row[0].moment[1]", "2.10"),
    "moment of 1e99": Case(LIMITS, '"2.10 N m"]', '"1e99 N m"]', "row[0].moment.upper", "unit"),
    "moment in a table misspelt": Case(LIMITS, "{lower =", "{lover =", "row[1].moment", "lower"),
    "arm negative": Case(LIMITS, 'arm = "255 mm"', 'arm = "-255 mm"', "row[0].arm", "sign"),
    "arm of a kilometre": Case(LIMITS, 'arm = "255 mm"', 'arm = "255 km"', "row[0].arm", "unit"),
    "force without its arm": Case(LIMITS, 'arm = "9.5 in"\nsecond_arm = "241 mm"\n', "", "row[1].arm", "force"),
    "mass negative": Case(LIMITS, '["3.9 kg"', '["-3.9 kg"', "row[0].mass.lower", "sign"),
    "key misspelt": Case(LIMITS, "chord", "chrod", "row[0].chrod", 'mean "chord"'),
    "chord zero": Case(LIMITS, '"270 mm"', '"0 mm"', "row[0].chord", "above 0"),
    "arm nan": Case(LIMITS, 'arm = "255 mm"', "arm = nan", "row[0].arm", "measured"),
    "source with a control character": Case(LIMITS, "issue C", "issue\\u0007 C", "row[0].source", "U+0007"),
}
