"""The numbers in the explanations of coating, swing and dynamic are the program's own."""

from __future__ import annotations

import json
import math
import re
from typing import Any

import pytest

from hingeline.balance.spread import DynamicTask, Plate, TrialWeight, dynamic_balance
from hingeline.balance.swing.equations import period_factor
from hingeline_app.cli.explain import explanation
from hingeline_app.cli.main import main
from tests.doors.checkouts import ROOT


def rows(topic: str, heading: str) -> list[list[str]]:
    """Give the cells of the table whose first column is headed so."""
    found, inside = [], False
    for line in explanation(topic).splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if line.startswith("|") and cells[0] == heading:
            inside = True
        elif inside and line.startswith("|"):
            found.append(cells)
        elif inside:
            return found[1:]
    return found[1:]


def number(cell: str) -> float:
    """Read a number as it is printed."""
    return float(re.sub(r"[^0-9.\-]", "", cell.replace("−", "-")))


def test_the_table_of_amplitudes_is_the_correction() -> None:
    """Each row: how much longer T is, and how much larger I would come out, to the printed digit."""
    table = rows("swing", "θ")
    assert len(table) == 4
    for angle, longer, larger in table:
        factor = period_factor(math.radians(number(angle)))
        assert 100.0 * (factor - 1.0) == pytest.approx(number(longer), abs=0.005)
        assert 100.0 * (factor**2 - 1.0) == pytest.approx(number(larger), abs=0.05)


def test_the_table_of_three_places_is_computed() -> None:
    """Each row of the example: S, I, K and K/I of the plate with the weight at each place."""
    plate = Plate("plate", 0.0, 0.25, 2.5, 4.0, mass_per_area=5.0)
    found = dynamic_balance(DynamicTask(plates=(plate,), weight=TrialWeight(0.060)))
    table = {cells[0]: [number(cell) for cell in cells[1:]] for cells in rows("dynamic", "weight at")}
    assert list(table) == ["without it", *(place.name for place in found.places)]
    for spread, printed in zip((found, *found.places), table.values(), strict=True):
        computed = (spread.mass_moment, spread.inertia, spread.product_of_inertia, spread.dynamic_coefficient)
        for value, shown, half in zip(computed, printed, (5e-5, 5.1e-6, 5e-5, 5.1e-3), strict=True):
            assert value == pytest.approx(shown, abs=half)
    assert found.weight is not None
    assert found.weight.mass == pytest.approx(3.906, abs=5e-4)


def test_the_example_of_a_coating_is_example_12(capsys: pytest.CaptureFixture[str]) -> None:
    """Masses, moment, prediction and what is left, as the command gives them."""
    (path,) = (ROOT / "examples").glob("12-*.toml")
    assert main(["coating", str(path), "--json"]) == 0
    document: dict[str, Any] = json.loads(capsys.readouterr().out)
    text = explanation("coating")
    (surface,) = document["surfaces"]
    primer, topcoat = (layer["mass"]["value"] for layer in surface["layers"])
    left = surface["layers"][0]["can_still_take"]["mass"]["value"]
    for words in (
        f"= {1000 * primer:.1f} g",
        f"= {1000 * topcoat:.1f} g",
        f"{document['mass_change']['value']:.4f} kg",
        f"= {document['moment_change']['value']:.4f} N·m tail-heavy",
        f"predicted {document['moment_after']['value']:.3f} N·m",
        f"room for {math.floor(1000 * left)} g more",
    ):
        assert words in text, words
