"""Files spoiled at random, each by its own seed, so that any one can be made again."""

from __future__ import annotations

import re
from collections.abc import Callable
from random import Random

from tests.faults.good_files import LIMITS, OTHER_JOBS, WEIGHINGS

# Every job file; weighings, on which a statement rests, more often than the others.
BASES = [*(("weigh", text) for text in WEIGHINGS.values())] * 3 + [("limits", LIMITS)] * 2 + OTHER_JOBS

NASTY_NUMBERS = [
    *("0", "-0", "0.0", "-1", "1e-99", "1e99", "1e400", "-1e400", "1e-400", "nan", "-nan", "inf", "+inf", "1_000.5"),
    *("0x10", "0b1", "0o7", "1,5", "1.234,5", "1'234", "1e3", "\u22121.5", "+5", "--3", "12..5", ".", "", "1/2"),
    *("9" * 40, "9" * 41, "0." + "0" * 37 + "1", "9" * 309, "9" * 5000, "0x" + "f" * 5000, "\u0663", "\uff11.\uff15"),
    *("1e-37", "1e37", "5e-324", "1.7976931348623157e308", "9007199254740993", "true", "1979-05-27", "[]", "{}"),
    *("1000000", "0.001", "0.0009999", "10", "10.0001", "100", "1000", "10000", "0.1", "2", "0.95", "1.0", "0.5"),
]
UNITS = [
    *("mm", "cm", "m", "in", "ft", "mil", "kg", "g", "mg", "lb", "oz", "N", "mN", "daN", "kN", "kgf", "lbf", "ozf"),
    *("deg", "rad", "mrad", "%", "m/s^2", "kn", "stone", "Pa", "Hz", "s", "h", "N m", "N cm", "kg cm", "in-lb"),
    *("lbf in", "oz-in", "g cm", "in-lb nose-heavy", "N m tail-heavy", "fl oz", ""),
]
STRANGE = (
    "\x00\x07\x1b\x7f\x80\x9b\u00a0\u00ad\u0301\u061c\u200b\u200e\u202e\u2028\u2066\ufeff\ufffd\ufffe\ue000"
    "\u00b5\u03bc\u2212\u0435\u0425\u4e2d\U0001f6e9\U000e0041\r\n\t\"'\\#=[]{},.<>&"
)
WORDS = [
    *("aft", "forward", "up", "down", "simple", "guarded", "not fitted", "hingeline/weighing/2", "none", "nose-heavy"),
    *("\\u001b[31m", "</script>", "=cmd", "../../etc", "x" * 201, "x" * 5000, "M\u0308uller", "true", " ", ""),
]
_NUMBER = re.compile(r"(?<![\w.])[+-]?[0-9]+(?:\.[0-9]+)?")
_UNIT = re.compile(r'(?<=[0-9] )[^"\n]+(?=")')
_TEXT = re.compile(r'"[^"\n]*"')
_VALUE = re.compile(r"(?<== )[^\n]+")

Mutation = Callable[[Random, str], str]


def mutated(seed: int) -> tuple[str, bytes]:
    """Spoil one good file: the command it belongs to, and its bytes."""
    random = Random(seed)
    command, text = random.choice(BASES)
    for _ in range(random.choice((1, 1, 1, 2, 3, 6))):
        text = random.choice(IN_TEXT)(random, text)
    data = text.encode("utf-8", "surrogatepass")
    if random.random() < 0.2:
        data = random.choice(IN_BYTES)(random, data)
    return command, data


def _replace(random: Random, text: str, pattern: re.Pattern[str], new: str) -> str:
    """Put something in the place of one match."""
    found = list(pattern.finditer(text))
    if not found:
        return text
    match = random.choice(found)
    return text[: match.start()] + new + text[match.end() :]


def _nasty_number(random: Random, text: str) -> str:
    return _replace(random, text, _NUMBER, random.choice(NASTY_NUMBERS))


def _random_number(random: Random, text: str) -> str:
    size = random.uniform(-12, 12) if random.random() < 0.3 else random.uniform(-2, 2)
    return _replace(random, text, _NUMBER, f"{10**size:.{random.randint(1, 17)}g}")


def _random_number_everywhere(random: Random, text: str) -> str:
    """Scale every number of the file by a little: most such files stay good."""
    return _NUMBER.sub(lambda found: f"{float(found.group()) * random.uniform(0.5, 1.5):.3f}", text)


def _other_unit(random: Random, text: str) -> str:
    return _replace(random, text, _UNIT, random.choice(UNITS))


def _swapped_units(random: Random, text: str) -> str:
    found = [match.group() for match in _UNIT.finditer(text)]
    return _replace(random, text, _UNIT, random.choice(found)) if found else text


def _other_text(random: Random, text: str) -> str:
    return _replace(random, text, _TEXT, f'"{random.choice(WORDS)}"')


def _other_value(random: Random, text: str) -> str:
    values = [match.group() for match in _VALUE.finditer(text)]
    deep = ["[" * 60 + "]" * 60, "{a = " * 30 + "1" + "}" * 30, "[" * 3000, '["' + 'x", "' * 1200 + '"]']
    nasty = random.choice([random.choice(NASTY_NUMBERS), random.choice(deep)])
    new = random.choice(values) if values and random.random() < 0.6 else nasty
    return _replace(random, text, _VALUE, new)


def _strange_letter(random: Random, text: str) -> str:
    place = random.randint(0, len(text))
    return text[:place] + random.choice(STRANGE) * random.choice((1, 1, 1, 3)) + text[place:]


def _in_lines(change: Callable[[Random, list[str]], object]) -> Mutation:
    def mutation(random: Random, text: str) -> str:
        lines = text.split("\n")
        change(random, lines)
        return "\n".join(lines)

    return mutation


def _double(random: Random, lines: list[str]) -> None:
    lines.insert(random.randrange(len(lines) + 1), random.choice(lines))


def _swap(random: Random, lines: list[str]) -> None:
    one, other = random.randrange(len(lines)), random.randrange(len(lines))
    lines[one], lines[other] = lines[other], lines[one]


def _drop(random: Random, lines: list[str]) -> None:
    start = random.randrange(len(lines))
    del lines[start : start + random.choice((1, 1, 1, 3))]
    lines.append("")


def _repeat(random: Random, lines: list[str]) -> None:
    line = random.choice(lines)
    lines[random.randrange(len(lines))] = "\n".join([line] * random.choice((2, 30, 1100)))


def _rename(random: Random, lines: list[str]) -> None:
    at = random.randrange(len(lines))
    key, sign, value = lines[at].partition(" = ")
    if sign:
        slips = [key[::-1], key + "x", key[1:], key.upper(), f'"{key}"', f"{key}.{key}", "\\", '""', "a." * 50 + key]
        lines[at] = random.choice(slips) + sign + value


IN_TEXT: list[Mutation] = [
    _nasty_number,
    _nasty_number,
    _random_number,
    _random_number,
    _random_number_everywhere,
    _other_unit,
    _other_unit,
    _swapped_units,
    _other_text,
    _other_value,
    _strange_letter,
    _strange_letter,
    _in_lines(_double),
    _in_lines(_swap),
    _in_lines(_drop),
    _in_lines(_repeat),
    _in_lines(_rename),
]


def _flip(random: Random, data: bytes) -> bytes:
    changed = bytearray(data)
    for _ in range(random.choice((1, 2, 8))):
        changed[random.randrange(len(changed))] ^= 1 << random.randrange(8)
    return bytes(changed)


def _cut(random: Random, data: bytes) -> bytes:
    return data[: random.randrange(len(data))]


def _lose(random: Random, data: bytes) -> bytes:
    start = random.randrange(len(data))
    return data[:start] + data[start + random.choice((1, 1, 5, 40)) :]


def _encode(random: Random, data: bytes) -> bytes:
    text = data.decode("utf-8", "replace")
    encoding = random.choice(["utf-16", "latin-1", "utf-8-sig", "cp1252"])
    return text.encode(encoding, "replace")


def _crlf(random: Random, data: bytes) -> bytes:
    return data.replace(b"\n", random.choice([b"\r\n", b"\r", b"\n\r"]))


IN_BYTES: list[Callable[[Random, bytes], bytes]] = [_flip, _flip, _cut, _lose, _encode, _crlf]
