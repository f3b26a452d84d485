"""Write docs/validation.md: every published case of the tests, with what comes out here.

    tools/validation.py

Run it with the environment that ``./check`` makes, after a case was added or a result moved.
A test fails while the page is stale.
"""

from __future__ import annotations

import sys
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from decimal import Decimal
from importlib import import_module
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
CASES = ROOT / "tests" / "published"
PAGE = ROOT / "docs" / "validation.md"

PROVENANCES = ("read in the source", "read in a text that quotes it", "from memory", "computed")

HEADINGS = {
    "arm": "The arm of a balance weight",
    "balance": "Weighing, and printed rows of limits",
    "balance_coating_swing": "Coating, swing and dynamic balance",
    "balance_correction": "The correction",
    "due": "What is due",
    "flutter_air": "Flutter: air forces",
    "flutter_extensions_more": "Flutter: static effects of unbalance, and free play",
    "flutter_speeds": "Flutter: speeds and roots",
    "flutter_structures": "Flutter: whole models",
    "metrology": "Uncertainty and conformity",
    "motion": "Recordings: damping, growth, cameras",
    "units": "Units",
}

# Of such a motion two processors agree on the tolerance and on nothing finer: our digits are left out.
IRREGULAR = "not periodic"

# Digits after the first that are the same on every processor.
STEADY_DIGITS = 10

# More leading zeros than this are hard to count: then a power of ten is written.
SMALLEST_PLAIN = Decimal("1e-6")

INTRODUCTION = """\
# What was checked, and what was not

This page is generated from the test data in `tests/published/` by `tools/validation.py`; do not edit it. Each
case goes through the doors that a user's own file goes through, and the tests fail where a value misses its
tolerance.

**Published** is the number as the source has it. **Here** is what this program computes, with two more digits
than the print ("within" for an irregular motion, whose digits differ between processors).
**Tolerance** follows from the printed digits: half a unit of the last one, unless the note
says why it is another. A word or a list of words must come out exactly.

How the number came to us is said with every case:

| word | what it means |
|---|---|
| read in the source | one of us read the page itself, often as a text copy without its figures |
| read in a text that quotes it | the publication was not read; a text that quotes its values was |
| from memory | recalled by us and not read again. Check it before you rely on it |
| computed | no print: worked out apart from this program, by hand or by a second program. Inputs may be printed |

In the cases of printed rows of limits the row is what was read; how far its numbers lie apart was worked out by hand.

## What is not validated

- **No surface was weighed for this.** Every weighing below is worked out on paper. That the bench does what the
  equation assumes (level, free in its bearings, at rest, the arm measured square to the hinge line) is yours to see to.
- **Agreement with a print proves the arithmetic, not the print.** A misprint that we did not notice is met too.
- **Limits are not validated.** Makers' rows stand here as test data, some from scans; they may be out of date. Work
  to the approved data.
- **No flutter was measured for this.** Its cases prove the arithmetic of models, most of them computed and none of
  them flown. A surface inside its static limits can still flutter.
- **No arm was loaded, swung or cracked for this.** Its cases prove the arithmetic of a model. Growth scatters by a
  factor of two, and what rests on memory alone says so at its case.
- **No flying aircraft was recorded for this.** The cases of recordings prove their arithmetic. The rules of the
  statement were tried on simulated recordings only (`docs/recordings.md`).
- The rule for contradictions in printed rows (1 %, half a last digit) and the rule for doubts about a centre of
  gravity (3 % of the chord) are ours: common practice, no source.

"""


def main() -> int:
    """Write the page."""
    PAGE.write_text(page(), encoding="utf-8")
    print(f"wrote {PAGE.relative_to(ROOT)}")
    return 0


def page() -> str:
    """Give the whole page."""
    files = sorted(path for path in CASES.glob("*.toml") if "case" in tomllib.loads(path.read_text("utf-8")))
    sections = [section(path) for path in files]
    return INTRODUCTION + overview(files) + "\n" + "\n".join(sections)


def overview(files: list[Path]) -> str:
    """Count the cases of each file by the way they came to us."""
    lines = ["## How many", "", "| file | cases | " + " | ".join(PROVENANCES) + " |", "|---|--:|" + "--:|" * 4]
    for path in files:
        found = Counter(case["provenance"] for case in printed(path))
        counts = " | ".join(str(found[word]) for word in PROVENANCES)
        lines.append(f"| `{path.name}` | {found.total()} | {counts} |")
    return "\n".join(lines) + "\n"


def printed(path: Path) -> list[dict[str, Any]]:
    """Read the cases with their decimals as written, so that a trailing zero stays a digit."""
    cases: list[dict[str, Any]] = tomllib.loads(path.read_text("utf-8"), parse_float=Decimal)["case"]
    return cases


def section(path: Path) -> str:
    """Give the section of one file."""
    cases = tomllib.loads(path.read_text("utf-8"))["case"]
    module = import_module(f"tests.published.{path.stem}")
    compute = getattr(module, "compute", lambda kind, inputs: module.COMPUTE[kind](inputs))
    blocks = [
        block(shown, compute(case["kind"], case["inputs"])) for case, shown in zip(cases, printed(path), strict=True)
    ]
    return f"## {HEADINGS.get(path.stem, path.stem)}\n\n" + "\n".join(blocks)


def block(case: Mapping[str, Any], found: Mapping[str, Any]) -> str:
    """Give one case: its source, its note, and a line a value."""
    lines = [f"### {case['id']}: {case['title']}", "", f"*{case['provenance']}:* {case['source']}.", ""]
    lines += ["| value | published | here | tolerance |", "|---|--:|--:|--:|"]
    lines += [f"| {' | '.join(row)} |" for row in rows(case, found)]
    if case["notes"]:
        lines += ["", case["notes"]]
    return "\n".join(lines) + "\n"


def rows(case: Mapping[str, Any], found: Mapping[str, Any]) -> Iterator[tuple[str, str, str, str]]:
    """Go through the values of a case, lists of numbers taken apart."""
    for name, expected in case["expected"].items():
        tolerance, words = case["tolerance"].get(name), name.replace("_", " ")
        if tolerance is not None and case["expected"].get("outcome") == IRREGULAR:
            yield words, plain(Decimal(expected)), "within", plain(Decimal(tolerance))
            continue
        if not isinstance(expected, list) or tolerance is None:
            yield words, *cells(expected, found[name], tolerance)
            continue
        allowed = tolerance if isinstance(tolerance, list) else [tolerance] * len(expected)
        for number, each in enumerate(zip(expected, found[name], allowed, strict=True), 1):
            yield f"{words}, {number}" if len(expected) > 1 else words, *cells(*each)


def cells(expected: Any, found: Any, tolerance: Any) -> tuple[str, str, str]:
    """Write a published value, ours, and the tolerance."""
    if tolerance is None:
        return word(expected), word(found), "exact"
    return plain(Decimal(expected)), like(Decimal(expected), found), plain(Decimal(tolerance)) if tolerance else "exact"


def word(value: Any) -> str:
    """Write what is no number."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(str(item) for item in value) or "none"
    return str(value) if value != "" else "none"


def like(expected: Decimal, found: float) -> str:
    """Write our value with two more digits than the printed one has, and no digit that the processor decides."""
    if isinstance(found, int):
        return str(found)
    exponent = expected.as_tuple().exponent
    assert isinstance(exponent, int)
    finest = max(exponent - 2, Decimal(found).adjusted() - STEADY_DIGITS)
    return plain(Decimal(found).quantize(Decimal(1).scaleb(finest)))


def plain(number: Decimal) -> str:
    """Write a number without a power of ten where it can be read without, with a true minus."""
    small = number != 0 and abs(number) < SMALLEST_PLAIN
    text = f"{number:e}" if small else f"{abs(number) if number == 0 else number:f}"
    return text.replace("-", "−")


if __name__ == "__main__":
    sys.path[:0] = [str(ROOT), str(ROOT / "src")]
    sys.exit(main())
