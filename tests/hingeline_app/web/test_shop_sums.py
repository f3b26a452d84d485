"""The coating plan and the swing on their pages: the numbers are those of the command on the same file."""

from __future__ import annotations

import re
from html import unescape
from typing import Any

import pytest

from hingeline.balance.coating import predict_coating
from hingeline.balance.swing import inertia_by_swing
from hingeline.document import to_document
from hingeline_app.figures.wording import format_measured
from hingeline_app.files.coating_file import read_coating
from hingeline_app.files.swing_file import read_swing
from tests.doors.checkouts import ROOT
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db

REPAINT = {
    "name": "Aileron, left", "moment": "0,284 N m", "moment_within": "0.012 N m", "moment_k": "2",
    "lower": "-0.15 N m", "upper": "0.39 N m", "rule": "simple",
    "layer_1": "primer", "area_1": "0.327 m^2", "arm_1": "60 mm", "arm_within_1": "5 mm", "side_1": "aft",
    "count_1": "2", "mass_per_area_1": "65 g/m^2", "mass_per_area_within_1": "10 g/m^2",
    "layer_2": "topcoat", "area_2": "0.327 m^2", "arm_2": "60 mm", "arm_within_2": "5 mm", "side_2": "aft",
    "count_2": "2", "mass_per_area_2": "95 g/m^2", "mass_per_area_within_2": "20 g/m^2",
}  # fmt: skip
SWUNG = {
    "name": "Rudder", "method": "added mass", "periods": "14.82 14,86 14.79 s 14.84 14.81", "swings_per_period": "10",
    "timing_within": "0.15 s", "amplitude": "6 deg", "amplitude_within": "2 deg",
    "surface_mass": "2.350 kg", "surface_mass_within": "5 g", "surface_mass_moment": "0.004 kg m",
    "surface_mass_moment_within": "0.003 kg m", "added_mass": "250 g", "added_mass_within": "0.5 g",
    "added_arm": "310 mm", "added_arm_within": "1 mm", "added_side": "aft",
}  # fmt: skip


def page_of(fenholt: Fenholt, address: str, asked: dict[str, str], status: int = 200) -> str:
    """Give a page as it reads."""
    answer = fenholt.client("jon").get(address, asked)
    assert answer.status_code == status, answer.content.decode()
    return unescape(answer.content.decode()).replace("\u00a0", " ")


def file_in(page: str) -> bytes:
    """Give the job file that a page shows."""
    found = re.search(r'<pre class="file"[^>]*>(.*?)</pre>', page, re.S)
    assert found
    return found.group(1).encode()


def moment(quantity: Any) -> str:
    """Write a moment as pages do."""
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], "N m", sense=True).replace(
        "\u00a0", " "
    )


def test_the_coating_plan_says_what_the_command_says_of_the_file_it_shows(fenholt: Fenholt) -> None:
    page = page_of(fenholt, "/coating", REPAINT)
    surface = to_document(predict_coating(read_coating(file_in(page))))["surfaces"][0]
    assert moment(surface["moment_after"]) in page
    assert moment(surface["moment_change"]) in page
    assert "Predicted: " in page
    assert "only a new weighing decides" in page


@pytest.mark.parametrize(
    ("rule", "field", "words"),
    [
        ("simple", "can_still_take", "Could still take, coats"),
        ("guarded", "can_still_take_guarded", "Could still take by the guarded rule, coats"),
    ],
)
def test_the_coats_that_are_left_are_those_of_the_rule_that_was_asked_for(
    fenholt: Fenholt, rule: str, field: str, words: str
) -> None:
    """By the guarded rule it offered the coats until the limit itself. Rounded down: common practice, no source."""
    page = page_of(fenholt, "/coating", REPAINT | {"rule": rule})
    layers = to_document(predict_coating(read_coating(file_in(page))))["surfaces"][0]["layers"]
    assert words in page
    assert layers[0]["can_still_take"]["counts"] - layers[0]["can_still_take_guarded"]["counts"] > 0.1
    for layer in layers:
        row = re.search(rf'<td class="n">{layer["name"]}</td>.*?<td>([\d.]+)</td></tr>', page)
        assert row
        assert 0.0 <= layer[field]["counts"] - float(row[1]) < 0.1


def test_the_coating_plan_gives_the_moment_of_the_published_example_file(fenholt: Fenholt) -> None:
    """Example 12, but for the ± of the areas, in percent there: the value is the same to the digit."""
    page = page_of(fenholt, "/coating", REPAINT)
    example = (ROOT / "examples" / "12-aileron-repaint.toml").read_bytes()
    values = [
        to_document(predict_coating(read_coating(data)))["surfaces"][0]["moment_after"]["value"]
        for data in (example, file_in(page))
    ]
    assert values[0] == values[1]


def test_the_swing_gives_the_inertia_of_the_command_on_the_file_it_shows(fenholt: Fenholt) -> None:
    page = page_of(fenholt, "/swing", SWUNG)
    inertia = to_document(inertia_by_swing(read_swing(file_in(page))))["inertia"]
    words = format_measured(inertia["value"], inertia["expanded_uncertainty"], "kg m^2").replace("\u00a0", " ")
    assert f"I = {words}" in page
    example = (ROOT / "examples" / "14-rudder-swung-with-a-mass.toml").read_bytes()
    assert to_document(inertia_by_swing(read_swing(example)))["inertia"]["value"] == inertia["value"]


@pytest.mark.parametrize(
    ("address", "asked", "words"),
    [
        ("/coating", REPAINT | {"arm_1": "60"}, "unit"),
        ("/coating", REPAINT | {"arm_1": ""}, "arm"),
        ("/coating", {"name": "Aileron"}, "layer"),
        ("/swing", SWUNG | {"periods": "soon"}, "refused"),
        ("/swing", SWUNG | {"added_mass": ""}, "added"),
        ("/swing", SWUNG | {"periods": "1.0 " * 60}, "one to fifty"),
    ],
)
def test_what_is_missing_or_cannot_be_read_is_said_at_its_field(
    fenholt: Fenholt, address: str, asked: dict[str, str], words: str
) -> None:
    page = page_of(fenholt, address, asked, status=422)
    assert words in page
    assert "Not taken yet" in page
