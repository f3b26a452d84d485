"""How numbers are written for people: on pages, on worksheets, on the command line.

A measured value and its uncertainty end at the same place, and the uncertainty has two
significant digits. A moment never stands without its sense. A true minus, a no-break space
before a unit, thousands in groups, and "…" between the ends of a range.

Numbers are rounded here and nowhere else, and only for show.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Context, Decimal
from typing import Literal

from hingeline.units import sense_word

NO_BREAK_SPACE = "\u00a0"
GROUP_SPACE = "\u202f"
MINUS = "\u2212"
NOT_KNOWN = "—"
FEWEST_PLACES, MOST_PLACES = -12, 12
MOST_OF_A_LIMIT = 7
MOST_DIGITS = 13
Toward = Literal["down", "up"]
# What a turned unit leaves of a number is no reason to go a whole step further.
_SAME = Decimal("1e-9")
# The usual 28 digits are too few for what a slip of the unit can make.
_ANY_SIZE = Context(prec=400, rounding=ROUND_HALF_EVEN)

_UNIT_SIGNS = {"N m": "N·m", "N cm": "N·cm", "N mm": "N·mm", "daN m": "daN·m"}
_SMALLER_UNITS = {
    "kg": ("g", 1e3),
    "m": ("mm", 1e3),
    "N m": ("mN m", 1e3),
    "N": ("mN", 1e3),
    "rad": ("mrad", 1e3),
}
_SPOKEN_UNITS = {"1": ("%", 100.0), "m^2": ("cm^2", 1e4), "m^3": ("ml", 1e6), "kg/m^2": ("g/m^2", 1e3)}


def unit_text(unit: str) -> str:
    """Write a unit as it is printed: ``N m`` as N·m, powers raised."""
    if unit in _UNIT_SIGNS:
        return _UNIT_SIGNS[unit]
    raised = unit.replace("^2", "²").replace("^3", "³").replace("^0.5", "½")
    return raised.replace("mN m", "mN·m")


def format_number(value: float, places: int, toward: Toward | None = None) -> str:
    """Write a number with ``places`` decimals (negative: rounded to tens, hundreds …).

    A lower end of what may be is written ``toward`` "down", an upper one "up": what is written then holds what was
    computed. A number that is its own rounding to a part in a thousand million stays as it is.
    """
    digits = _rounded(value, places) if toward is None else _rounded_toward(value, places, toward)
    sign = MINUS if digits < 0 else ""
    whole, _, decimals = f"{abs(digits):.{max(places, 0)}f}".partition(".")
    return sign + _grouped(whole) + (f".{decimals}" if decimals else "")


def _rounded(value: float, places: int) -> Decimal:
    rounded = _ANY_SIZE.quantize(Decimal(repr(value)), Decimal(1).scaleb(-places))
    return _ANY_SIZE.add(rounded, Decimal(0))  # no minus before a zero


def _rounded_toward(value: float, places: int, toward: Toward) -> Decimal:
    nearest = _rounded(value, places)
    if abs(nearest - Decimal(repr(value))) <= _SAME * abs(Decimal(repr(value))):
        return nearest
    step = Decimal(1).scaleb(-places)
    rounding = ROUND_FLOOR if toward == "down" else ROUND_CEILING
    return _ANY_SIZE.add(Decimal(repr(value)).quantize(step, rounding, _ANY_SIZE), Decimal(0))


def _grouped(whole: str) -> str:
    """Group thousands from five digits on; four stay together, as readings are written."""
    return f"{int(whole):,}".replace(",", GROUP_SPACE) if len(whole) > 4 else whole


def places_for(value: float, digits: int = 2) -> int:
    """Count the decimals at which ``value`` shows ``digits`` significant digits, after rounding."""
    if value == 0.0:
        return digits
    places = digits - 1 - Decimal(repr(abs(value))).adjusted()
    rounded = _rounded(value, min(places, MOST_PLACES))
    if rounded and rounded.adjusted() > Decimal(repr(abs(value))).adjusted():
        places -= 1  # 0.0996 becomes 0.10, not 0.100
    return max(FEWEST_PLACES, min(MOST_PLACES, places))


def shared_places(values: Iterable[float], fewest: int = 0, most: int = 6) -> int:
    """Count the decimals that show every one of ``values`` as it is, within ``fewest`` and ``most``."""
    listed = list(values)
    for places in range(fewest, most):
        if all(abs(float(_rounded(value, places)) - value) <= 1e-9 * max(abs(value), 1e-3) for value in listed):
            return places
    return most


def with_unit(number: str, unit: str) -> str:
    """Join a written number and its unit by a space that does not break."""
    return f"{number}{NO_BREAK_SPACE}{unit_text(unit)}" if unit else number


def capitalised(words: str) -> str:
    """Write the first letter large, as a sentence begins; the rest stays as it was typed."""
    return words[:1].upper() + words[1:]


def format_quantity(
    value: float, unit: str, places: int | None = None, digits: int = 4, toward: Toward | None = None
) -> str:
    """Write a value with its unit, at ``places`` decimals, else with at most ``digits`` significant digits."""
    if places is None:
        places = shared_places([value], most=max(0, places_for(value, digits)))
    return with_unit(format_number(value, places, toward), unit)


def value_and_allowed(value: float, allowed: float, unit: str, digits: int = 4) -> tuple[str, str]:
    """Write a value and the most that is allowed of it so that the two as written compare as the two do.

    The allowed is rounded down, the value to nearest: 0.0452, where 0.0451 is what 0.04519 is written as. Where the two
    would then read the other way round, or as one, both get more digits; what is beyond by less than the last of them
    is written one of its steps beyond.
    """
    for most in range(digits, MOST_DIGITS):
        pair = format_quantity(value, "", digits=most), format_quantity(allowed, "", digits=most, toward="down")
        if _reads_beyond(*pair) == (value > allowed):
            return with_unit(pair[0], unit), with_unit(pair[1], unit)
    places = max(0, places_for(allowed, MOST_DIGITS))
    least = allowed + 10.0**-places if value > allowed else value
    return format_quantity(max(value, least), unit, places), format_quantity(allowed, unit, places)


def _reads_beyond(value: str, allowed: str) -> bool:
    read = [Decimal(each.replace(GROUP_SPACE, "").replace(MINUS, "-")) for each in (value, allowed)]
    return read[0] > read[1]


def format_scaled(value: float, unit: str, digits: int = 2, toward: Toward | None = None) -> str:
    """Write a small quantity in the next smaller unit: 0.0051 kg as 5.1 g."""
    if unit in _SMALLER_UNITS and abs(value) < 0.1:
        unit, factor = _SMALLER_UNITS[unit]
        value = value * factor
    return format_quantity(value, unit, places=max(0, places_for(value, digits)), toward=toward)


def format_measured(value: float, uncertainty: float | None, unit: str, *, digits: int = 2, sense: bool = False) -> str:
    """Write a measured value: ``2.106 ± 0.044 N·m``, both to the same place.

    Parameters
    ----------
    value : float
        The best value, in ``unit``.
    uncertainty : float or None
        Expanded uncertainty, in ``unit``; None when none can be given: then no ± is written.
    unit : str
        Unit as the documents write it.
    digits : int
        Significant digits of the uncertainty.
    sense : bool
        Write a moment: its magnitude and the word for the way it turns.
    """
    if sense:
        return f"{format_measured(abs(value), uncertainty, unit, digits=digits)}{NO_BREAK_SPACE}{sense_word(value)}"
    if uncertainty is None:
        return format_quantity(value, unit)
    places = measured_places(value, uncertainty, digits)
    return with_unit(f"{format_number(value, places)} ± {format_number(uncertainty, places)}", unit)


def measured_places(value: float, uncertainty: float | None, digits: int = 2) -> int:
    """Count the decimals at which a measured value is written."""
    if uncertainty:
        return places_for(uncertainty, digits)
    return shared_places([value], most=max(0, places_for(value, 4)))


def interval_places(low: float, high: float) -> int:
    """Count the decimals of a value that stands with the ends of its interval: its half width has two digits."""
    return max(0, places_for((high - low) / 2.0))


def format_moment(value: float, unit: str = "N m", places: int | None = None) -> str:
    """Write a moment as its magnitude and its sense: ``0.512 N·m nose-heavy``."""
    return f"{format_quantity(abs(value), unit, places)}{NO_BREAK_SPACE}{sense_word(value)}"


def format_range(lower: float | None, upper: float | None, unit: str, places: int | None = None) -> str:
    """Write a range with signed ends: ``0.00 … 2.10 N·m``; one-sided as "from" or "up to".

    Without ``places`` the ends are limits, and written as :func:`written_limits` gives them.
    """
    if lower is None and upper is None:
        return "none given"
    if places is None:
        lower, upper, places = written_limits(lower, upper)
    if lower is None or upper is None:
        word, end = ("up to ", upper) if lower is None else ("from ", lower)
        return word + with_unit(format_number(end or 0.0, places), unit)
    return with_unit(f"{format_number(lower, places)} … {format_number(upper, places)}", unit)


def format_window(low: float | None, high: float | None, unit: str, places: int) -> str:
    """Write a window rounded inward, so that what lies in it as written lies in it: ``18 … 822 g``.

    A window with nothing left in it at ``places`` is "none".
    """
    step = Decimal(1).scaleb(-places)
    ends = [
        None if end is None else float(Decimal(repr(end)).quantize(step, rounding=rounding))
        for end, rounding in ((low, ROUND_CEILING), (high, ROUND_FLOOR))
    ]
    if ends[0] is not None and ends[1] is not None and ends[0] > ends[1]:
        return "none"
    return format_range(ends[0], ends[1], unit, places)


def outward_ends(low: float, high: float, places: int) -> tuple[float, float]:
    """Round the ends of what may be so that what lies between them still does."""
    return float(_rounded_toward(low, places, "down")), float(_rounded_toward(high, places, "up"))


def inward_ends(low: float | None, high: float | None, places: int) -> tuple[float | None, float | None]:
    """Round the ends of what is accepted so that what lies between them as written is accepted.

    A band so narrow that nothing would be left of it at ``places`` keeps its ends.
    """
    ends = _drawn_in(low, high, places)
    return (low, high) if _is_empty(*ends) else ends


def written_limits(lower: float | None, upper: float | None) -> tuple[float | None, float | None, int]:
    """Give limits as they are written, and their decimals: none ever reads wider than it is.

    9.0 in lbf is 1.01686 N m: an upper limit is written 1.0168, a lower one 1.0169. A band that would be empty so
    gets more decimals; one that is a single value stays to nearest.
    """
    fewest = limit_places(end for end in (lower, upper) if end is not None)
    for places in range(fewest, MOST_OF_A_LIMIT + 1):
        ends = _drawn_in(lower, upper, places)
        if not _is_empty(*ends):
            return *ends, places
    return lower, upper, fewest


def _drawn_in(low: float | None, high: float | None, places: int) -> tuple[float | None, float | None]:
    return (
        None if low is None else float(_rounded_toward(low, places, "up")),
        None if high is None else float(_rounded_toward(high, places, "down")),
    )


def _is_empty(low: float | None, high: float | None) -> bool:
    return low is not None and high is not None and low > high


def format_moment_range(lower: float | None, upper: float | None, unit: str = "N m") -> str:
    """Write limits of a moment so that no sign needs explaining: each end, or both, with its sense."""
    if lower is None or upper is None:
        return _one_sided(lower, upper, unit)
    if lower >= 0.0:
        return f"{format_range(lower, upper, unit)} tail-heavy" if upper > 0.0 else format_range(lower, upper, unit)
    if upper <= 0.0:
        return f"{format_range(-upper, -lower, unit)} nose-heavy"
    low, high, places = written_limits(lower, upper)
    return f"{format_moment(low or 0.0, unit, places)} … {format_moment(high or 0.0, unit, places)}"


def _one_sided(lower: float | None, upper: float | None, unit: str) -> str:
    low, high, places = written_limits(lower, upper)
    end = low if low is not None else high
    if end is None:
        return "none given"
    which = "lower limit" if low is not None else "upper limit"
    written = format_quantity(abs(end), unit, places)
    return f"{which} {written}" + (f"{NO_BREAK_SPACE}{sense_word(end)}" if end else "")


def limit_places(ends: Iterable[float], most: int = 4) -> int:
    """Count the decimals of limits: two at least, more only where they are needed to show them as given."""
    return shared_places(ends, fewest=2, most=most)


def describe_margin(value: float, lower: float | None, upper: float | None, places: int = 3, unit: str = "N m") -> str:
    """Say in words how far a value lies from the nearest limit: ``0.006 N·m beyond the upper limit``."""
    distances = [(upper - value, "upper")] if upper is not None else []
    distances += [(value - lower, "lower")] if lower is not None else []
    if not distances:
        return "no limits given"
    margin, which = min(distances)
    if margin == 0.0:
        return f"exactly on the {which} limit"
    side = "inside" if margin > 0.0 else "beyond"
    return f"{_never_nothing(abs(margin), places, unit)} {side} the {which} limit"


def _never_nothing(distance: float, places: int, unit: str) -> str:
    """Write a distance that is not 0 so that it does not read as 0."""
    if float(_rounded(distance, places)) == 0.0:
        places = places_for(distance, 1)
    return format_quantity(distance, unit, places)


def format_cause(size: float, unit: str, digits: int = 2) -> str:
    """Write the standard uncertainty of a cause in the unit it is spoken of: a fraction in per cent, paint in g/m²."""
    shown, factor = _SPOKEN_UNITS.get(unit, (unit, 1.0))
    return format_scaled(factor * size, shown, digits)


def format_probability(probability: float) -> str:
    """Write a probability so that what is not certain never reads as certain: ``over 99.9 %``."""
    word = "over " if probability > 0.999 else "under " if probability < 0.001 else ""
    return f"{word}{100.0 * min(max(probability, 0.001), 0.999):.1f} %"


def format_drawn_part(part: float) -> str:
    """Write which part of many draws did something: 0 and all as they are, and nothing else as one of the two."""
    sign = "<" if 0.0 < part < 0.001 else ">" if 0.999 < part < 1.0 else ""
    shown = min(max(part, 0.001), 0.999) if sign else part
    return f"{sign}{NO_BREAK_SPACE if sign else ''}{format_number(100.0 * shown, 1)}{NO_BREAK_SPACE}%"


def format_percent(share: float) -> str:
    """Write a part of one as whole percent; what is not nothing never reads 0 %."""
    if 0.0 < share < 0.005:
        return f"<{NO_BREAK_SPACE}1{NO_BREAK_SPACE}%"
    return f"{format_number(100.0 * share, 0)}{NO_BREAK_SPACE}%"


def shorten(text: str, most: int) -> str:
    """Cut a text that is too long for its place, and show that it was cut."""
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def count_of(number: int, one: str, many: str | None = None) -> str:
    """Write a count with its noun in the right number: ``1 note``, ``3 notes``."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def outward(part: float) -> Toward | None:
    """Say which way a number below which a part of many lies is rounded: away from their middle."""
    return None if part == 0.5 else "down" if part < 0.5 else "up"


def speed_number(speed: float, unit: str, toward: Toward | None = None) -> str:
    """Write a speed: whole knots, with one place below 20 and in any other unit."""
    return format_number(speed, 0 if unit == "kn" and speed >= 19.95 else 1, toward)
