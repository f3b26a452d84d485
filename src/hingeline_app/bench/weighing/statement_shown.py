"""A statement as a page shows it: word and glyph, sentences, what each rule says; or why there is none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any

from hingeline.errors import Refusal
from hingeline_app.figures import draw_glyph
from hingeline_app.figures.style import status_class
from hingeline_app.report.words import statement_lines, statement_side

NO_STATEMENT = "No statement"
RULES = ("simple", "guarded")
# A field of a weighing file in the words of the page.
FIELDS = {
    "arm": "arm", "side": "side", "readings": "readings", "tare": "tare", "limits": "limits", "mass": "mass",
    "positive": "sense of the limits", "support": "support",
    "hinge_to_trailing_edge": "hinge line to trailing edge", "local_gravity": "local gravity",
    "vertical_offset": "height of the centre of gravity",
}  # fmt: skip
ABSENT = ("", "missing", "none", "no readings", "0 readings", "None")


@dataclass(frozen=True)
class ByRule:
    """What one rule says."""

    rule: str
    word: str
    status: str
    glyph: str
    in_force: bool


@dataclass(frozen=True)
class StatementShown:
    """A statement, or the sentence that there is none."""

    word: str
    status: str
    glyph: str
    lines: tuple[str, ...]
    rules: tuple[ByRule, ...] = ()
    # What else has limits and lies inside them: in the table, not in the headline.
    also_inside: tuple[str, ...] = ()
    # Of each line, where there is no statement: the place of the set-up that it is about; empty where it is none.
    places: tuple[str, ...] = ()

    @property
    def lines_placed(self) -> tuple[tuple[str, str], ...]:
        """Give each line with the place that mends it."""
        return tuple(zip_longest(self.lines, self.places, fillvalue=""))


def statement_shown(document: Mapping[str, Any]) -> StatementShown:
    """Show the statement of a weighing's result; by the rule in force first."""
    word = document.get("statement")
    lines = statement_lines(document)
    if not word:
        return StatementShown(f"{NO_STATEMENT}: limits are missing", "none", draw_glyph(None), tuple(lines))
    side = statement_side(document)
    # The tiles beside the sentences say what the other rule says.
    said = [line for line in lines if not line.startswith("This is by the ")]
    inside = tuple(line for line in said[1:] if line.endswith(": inside."))
    shown = tuple(line for line in said if line not in inside)
    rules = tuple(_by_rule(document, rule, side) for rule in RULES)
    return StatementShown(str(word).capitalize(), status_class(word), draw_glyph(word, side=side), shown, rules, inside)


def _by_rule(document: Mapping[str, Any], rule: str, side: str) -> ByRule:
    word = document.get(f"statement_{rule}")
    glyph = draw_glyph(word, side=side)
    return ByRule(rule, str(word or "no statement"), status_class(word), glyph, rule == document.get("rule"))


def no_statement(refusals: Sequence[Refusal]) -> StatementShown:
    """Say in one line why there is no statement, and beneath it how to mend each fault."""
    first = refusals[0]
    lines = tuple(f"{_field(each)}: {each.remedy}" for each in refusals[:3])
    places = tuple(_place(each) for each in refusals[:3])
    return StatementShown(f"{NO_STATEMENT}: {_fault(first)}", "none", draw_glyph(None), lines, places=places)


def _fault(refusal: Refusal) -> str:
    name = _field(refusal)
    if refusal.value in ABSENT or refusal.value.startswith("missing"):
        return f"{name} {'are' if name.endswith('s') else 'is'} missing"
    return f"{name} cannot be {refusal.value}"


def _field(refusal: Refusal) -> str:
    """Name the field of a refusal: its last word that the page knows."""
    known = [step for step in _place(refusal).split(".") if step and not step.isdecimal()]
    return in_page_words(known[-1]) if known else "entry"


def _place(refusal: Refusal) -> str:
    """Give the path of a refusal as a set-up spells it: ``support.0.arm``."""
    return refusal.field.replace("[", ".").replace("]", "")


def in_page_words(name: str) -> str:
    """Name a field of a weighing file in the words of the page."""
    return FIELDS.get(name, name.replace("_", " "))
