"""Where a result of 1.0.0 or 1.1.0 comes out otherwise by a rule that changed since, the rule is named beside it."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from hingeline_app.replaying.changed_rules import BETWEEN_BANDS, CHANGED, FRICTION, GAUGE, MASS_BANDS
from hingeline_app.replaying.kept_result import Replayed, replayed
from hingeline_app.replaying.sheets import sheet_replayed
from hingeline_app.replaying.worked_out import worked_out_again
from hingeline_app.report import ReadWorksheet
from hingeline_app.said import reading_in, says
from tests.doors.checkouts import ROOT
from tests.hingeline_app.cli.test_weigh_page import IN_THE_GAP

WEIGHING, COATING, ARM = CHANGED
ON_ITS_ALLOWANCE = """\
format = "hingeline/weighing/1"
[surface]
name = "rudder"
[[support]]
arm = "255 mm"
side = "aft"
rising = ["0.84 kg"]
falling = ["0.80 kg"]
[limits]
lower = "0 N m"
upper = "2.1 N m"
source = "page 1"
friction_fraction = 0.1
"""
COATED = (ROOT / "examples" / "12-aileron-repaint.toml").read_text("utf-8")
READ = (ROOT / "examples" / "arm" / "04-elevator-arm-wall-readings.toml").read_text("utf-8")


def in_the_gap(document: Any) -> None:
    """As 1.1.0 told it: 0.08 kg inside the outer edge, and surely."""
    (mass,) = document["statements"]
    mass["margin"]["value"], mass["probability_within"] = 0.08, 1.0


def beyond(document: Any) -> None:
    """As the last digit of a float had it."""
    document["friction_moment"]["within"] = not document["friction_moment"]["within"]


def of_the_moment_alone(document: Any) -> None:
    """As the guarded rule said before it asked of the mass."""
    for each in (document, *document["surfaces"]):
        each["predicted_statement"] = each["predicted_statement_guarded"] = "as the moment alone"


def by_the_normal_k(document: Any) -> None:
    """As U of a reading was without its degrees of freedom."""
    for each in document["readings"]:
        for name in ("wall", "lost"):
            each[name]["expanded_uncertainty"] *= 0.7


RULES: list[tuple[str, str, Callable[[Any], None], str]] = [
    (WEIGHING, IN_THE_GAP, in_the_gap, BETWEEN_BANDS),
    (WEIGHING, ON_ITS_ALLOWANCE, beyond, FRICTION),
    (COATING, COATED, of_the_moment_alone, MASS_BANDS),
    (ARM, READ, by_the_normal_k, GAUGE),
]


def kept_and_replayed(result_format: str, file: str, change: Callable[[Any], None], software: str) -> Replayed:
    document = worked_out_again(result_format, file.encode())
    change(document)
    return replayed(result_format, 1, json.dumps({"file": file}), json.dumps(document), software)


@pytest.mark.parametrize(("result_format", "file", "change", "words"), RULES)
def test_the_rule_is_named_and_the_result_stays_another_one(
    result_format: str, file: str, change: Callable[[Any], None], words: str
) -> None:
    """Of what this version or a later one kept, no rule explains it; nor is one named where nothing differs."""
    found = kept_and_replayed(result_format, file, change, "1.1.0")
    assert (found.same, found.changed_rules) == (False, (words,))
    assert kept_and_replayed(result_format, file, change, "1.2.0").changed_rules == ()
    assert kept_and_replayed(result_format, file, lambda document: None, "1.0.0").changed_rules == ()
    for language in ("de", "fr"):
        with reading_in(language):
            assert says(words)


def test_a_margin_of_a_moment_is_no_mass_between_bands() -> None:
    """Another margin of another statement is explained by nothing."""

    def edited(document: Any) -> None:
        document["statements"][0]["margin"]["value"] += 0.1

    found = kept_and_replayed(WEIGHING, ON_ITS_ALLOWANCE, edited, "1.1.0")
    assert (found.same, found.changed_rules) == (False, ())


def test_a_worksheet_names_it_first_among_its_cautions() -> None:
    """On the console and on the page that compares a sheet of paper."""
    result = worked_out_again(WEIGHING, IN_THE_GAP.encode()) | {"about": {"version": "1.0.0"}}
    in_the_gap(result)
    found = sheet_replayed(ReadWorksheet(IN_THE_GAP, result, None))
    assert not found["same"]
    assert found["cautions"][0] == BETWEEN_BANDS
