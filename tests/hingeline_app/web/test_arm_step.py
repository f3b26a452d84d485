"""The step Arm: drawn from the model, its places and losses, the growth of an assumed crack, as the command says it."""

from __future__ import annotations

import re

import pytest
from django.test import Client
from django.utils.html import escape

from hingeline.arm import examine
from hingeline.document import to_document
from hingeline_app.figures.arm.crack_words import detection_pairs, growth_pairs
from hingeline_app.figures.arm.words import interval_sentence
from hingeline_app.files.arm_file import read_arm
from tests.hingeline_app.web.after_the_weighing import entry, page, shop
from tests.hingeline_app.web.conftest import Fenholt

__all__ = ["shop"]

pytestmark = pytest.mark.django_db

ARM = {
    "outside_diameter": "12.00 mm", "wall": "1.50 mm", "length": "172 mm", "hinge_to_root": "8 mm",
    "modulus": "205 GPa", "density": "7850 kg/m^3", "yield": "300 MPa", "ultimate": "440 MPa", "mass": "0.600 kg",
}  # fmt: skip
CRACK = {
    "stress_range": "60 MPa", "toughness": "75 MPa m^0.5", "geometry_factor": "1,12", "growth_constant": "6.9e-12",
    "growth_exponent": "3.0", "cycles_per_hour": "250", "factor": "3", "approved_interval": "100 h",
    "found_by": "penetrant",
}  # fmt: skip
WALLS = "root, top: 1.32 mm\nroot, below: 1,29 mm; middle: 1.47 mm"


def test_nothing_is_found_at_a_place_of_the_arm_before_somebody_says_so(shop: Fenholt) -> None:
    """Each place stood ready as "none seen", "by eye, paint off": one press kept a crack check that nobody had made."""
    shown = page(shop.client("jon"), shop, "arm")
    for name in ("seen", "method"):
        fields = re.findall(rf'<select id="{name}-[a-z]+" name="{name}" required><option value="">—</option>', shown)
        assert len(fields) == 4
    assert entry(shop.client("jon"), shop, "arm-point", point="root", was="null", seen="", method="")[0] == 422


@pytest.mark.slow
def test_the_arm_is_drawn_and_its_numbers_are_estimates(shop: Fenholt) -> None:
    """From the tube as typed; the caution stands beside it."""
    worker = shop.client("jon")
    model = {
        "outside_diameter": "12.00 mm", "wall": "1.50 mm", "length": "172 mm", "hinge_to_root": "8 mm",
        "modulus": "205 GPa", "density": "7850 kg/m^3", "yield": "300 MPa", "ultimate": "440 MPa", "mass": "0.600 kg",
    }  # fmt: skip
    for name, text in model.items():
        assert entry(worker, shop, "detail", place=f"arm.model.{name}", was="", value=text)[0] == 200
    shown = page(worker, shop, "arm")
    assert "Estimated stress at 24 g" in shown
    assert "An estimate never makes the approved interval longer." in shown
    entry(worker, shop, "detail", place="arm.model.wall", was="1.50 mm", value="9 mm")
    assert page(worker, shop, "arm").count("Estimated stress") == 0


def modelled(worker: Client, shop: Fenholt, model: dict[str, str]) -> str:
    for name, text in model.items():
        assert entry(worker, shop, "detail", place=f"arm.model.{name}", was="", value=text)[0] == 200
    return page(worker, shop, "arm")


@pytest.mark.slow
def test_each_place_of_the_gauge_stands_beside_the_nominal_wall_with_its_loss(shop: Fenholt) -> None:
    """Position, wall ± and loss ±; the lowest is compared with the approved data, and goes into the arm's file."""
    worker = shop.client("jon")
    told = {"point": "wall", "seen": "corrosion", "method": "ultrasonic gauge", "was": "null", "walls": WALLS}
    told |= {"uncertainty": "0.04 mm", "nominal": "1.50 mm", "limit": "1.20 mm", "source": "MM-T2, C, 55-11"}
    assert entry(worker, shop, "arm-point", **told)[0] == 200
    shown = page(worker, shop, "arm")
    for said in ("root, below", "1.290 ± 0.040 mm", "0.210 ± 0.040 mm", "Lost of 1.50 mm", "smallest of 3"):
        assert said in shown, said
    modelled(worker, shop, ARM)
    task = read_arm(worker.get(f"/job/{shop.job}/arm.toml").content)
    assert [each.position for each in task.readings] == ["root, top", "root, below", "middle"]
    assert task.loss is not None
    assert task.loss.depth == pytest.approx(0.21e-3)
    assert task.wall_limit is not None


@pytest.mark.slow
def test_the_growth_of_an_assumed_crack_says_on_the_page_what_the_command_says(shop: Fenholt) -> None:
    """From the page's own file: the same interval, cycles and sizes; an interval is never longer than the approved."""
    worker = shop.client("jon")
    modelled(worker, shop, ARM)
    half = modelled(worker, shop, {"stress_range": "60 MPa"})
    assert "Lacking: Fracture toughness" in half
    shown = modelled(worker, shop, {name: text for name, text in CRACK.items() if name != "stress_range"})
    crack = to_document(examine(read_arm(worker.get(f"/job/{shop.job}/arm.toml").content)))["crack"]
    assert crack["interval_shown"]["value"] <= 100 * 3600.0
    for name, said in (*growth_pairs(crack), *detection_pairs(crack["detection"])):
        assert escape(name[:1].upper() + name[1:]) in shown, name
        assert " ".join(escape(said).split()) in shown, said
    assert " ".join(escape(interval_sentence(crack)).split()) in shown
    assert "never makes the approved interval longer" in shown
    entry(worker, shop, "detail", place="arm.model.cycles_per_hour", was="250", value="250000")
    assert "ask the design holder before flight" in page(worker, shop, "arm")
