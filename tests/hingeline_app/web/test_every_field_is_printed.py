"""Whatever is entered at a step of a job stands on its signed worksheet, as text and as data; no field is left out."""

from __future__ import annotations

import io
import json
import re
from datetime import date
from html.parser import HTMLParser
from typing import Any

import pypdf
import pytest
from django.test import Client

from hingeline_app.records.actions.equipment import add_material
from hingeline_app.records.models import Attachment, Job
from tests.hingeline_app.web.after_the_weighing import look_at_all, shop, signs, weigh
from tests.hingeline_app.web.conftest import Fenholt
from tests.hingeline_app.web.printed import words
from tests.hingeline_app.web.test_photographs import picture

__all__ = ["shop"]

pytestmark = pytest.mark.django_db

STEPS = ("arrive", "correct", "arm", "refit", "second-inspection", "release")
# Fields that choose what an entry is about, or what becomes of it: what they say is printed by what they chose.
CHOOSING = {
    ("step-state", "reason"), ("photo", "photograph"), ("item-photo", "photograph"), ("query", "page"),
    ("photo", "remark"), ("look", "finding"), ("refit-seen", "finding"), ("hand-over", "to"), ("place", "side"),
    ("fitted", "material"),
}  # fmt: skip
ARRIVED = {
    "arrive.remarks": "paint under the hinge fairing",
    "arrive.fitted.tab": "fitted", "arrive.fitted.pushrod": "off", "arrive.fitted.wicks": "none",
    "arrive.fitted.seals": "fitted", "arrive.fitted.bolts": "off",
    "arm.pair.metal": "plain steel", "arm.pair.other_metal": "lead",
    "arm.model.outside_diameter": "12.01 mm", "arm.model.wall": "1.51 mm", "arm.model.length": "171 mm",
    "arm.model.hinge_to_root": "9 mm", "arm.model.modulus": "206 GPa", "arm.model.density": "7849 kg/m^3",
    "arm.model.yield": "301 MPa", "arm.model.ultimate": "441 MPa", "arm.model.mass": "0.601 kg",
    "arm.model.lost": "0.21 mm", "arm.model.stress_range": "61 MPa", "arm.model.toughness": "74 MPa m^0.5",
    "arm.model.geometry_factor": "1.13", "arm.model.growth_constant": "6.8e-12", "arm.model.growth_exponent": "3.1",
    "arm.model.cycles_per_hour": "249", "arm.model.factor": "3", "arm.model.approved_interval": "101 h",
    "arm.model.found_by": "penetrant",
}  # fmt: skip
PLACE = {
    "name": "Arm weight", "arm": "180 mm", "side": "forward", "present_mass": "600 g", "largest_mass": "850 g",
    "smallest_mass": "590 g", "smallest_step": "5 g", "fixed_mass": "7 g", "spanwise": "1310 mm",
}  # fmt: skip
MEASURED = {
    "travel_up": ("25.1 deg", "24 deg", "26 deg"), "travel_down": ("19.2 deg", "18 deg", "20 deg"),
    "free_play": ("1.3 mm", "", "2.0 mm"), "friction": ("4.1 N", "", "6 N"), "clearance": ("6.4 mm", "3 mm", ""),
}  # fmt: skip


@pytest.mark.slow
def test_every_value_of_every_step_is_in_the_signed_pdf(shop: Fenholt) -> None:
    """Each step's forms are filled; each value is found in the text of the sheet and in the data inside it."""
    jon, entered = shop.client("jon"), list[str]()
    fields = fields_of(jon, shop)
    sent: set[tuple[str, str]] = set()

    def enter(kind: str, expect: int = 200, **told: Any) -> None:
        answer = jon.post(f"/job/{shop.job}/entry", {"kind": kind, **told}, headers={"X-Entry": "1"})
        assert answer.status_code == expect, (kind, told, answer.content)
        sent.update((kind, name) for name in told)
        entered.extend(str(value) for name, value in told.items() if name not in NOT_TYPED)

    correct(shop, jon, enter)
    for place, value in ARRIVED.items():
        enter("detail", place=place, value=value)
    for tick in ("drains", "dry", "no_loose_matter"):
        enter("detail", **{"as": "tick", "place": f"arrive.{tick}", "was": "", "value": "on"})
    arm(enter)
    refit(enter)
    enter("hand-over", to=str(shop.administrator.person.pk), note="screws still to be sealed", was="null")  # type: ignore[union-attr]
    enter("query", asked="May the tube be blended?", of="Merle design office", answer="Up to 0.2 mm, see sketch",
          reference="T2-Q-11, 2026-11-02", page=picture(), was="null")  # fmt: skip
    enter("incomplete", reason="no sealant before Monday", was="null")
    enter("ask-for-inspection", items="Weight screws | torqued to 2.5 N m")
    fields |= fields_of(jon, shop)
    sign(shop)
    assert fields - sent - CHOOSING == set()
    pdf = bytes(jon.get(f"/job/{shop.job}/worksheet.pdf").content)
    found_in(pdf, [*entered, "torqued to 2.5 N m", "Mara Tarrow", "SteelRod, batch B-77, EC-9"])
    assert "Released" in words(pdf)


NOT_TYPED = {"place", "as", "was", "index", "check", "point", "to", "page", "items", "material", "seen",
             "finding", "photograph", "about"}  # fmt: skip


def correct(shop: Fenholt, jon: Client, enter: Any) -> None:
    """Weigh outside, correct by a batch and a part number, weigh again inside."""
    weigh(shop, ("940 g", "945 g", "940 g"))
    material = add_material(shop.mate, "SteelRod", "B-77", "EC-9", date(2026, 1, 5))
    enter("place", **PLACE, index="0", was="null")
    enter("of-surface", name="inertia", value="0.0421 kg m^2", was="")
    enter("of-surface", name="product", value="0.1283 kg m^2", was="")
    enter("aim", target="1.85 N m", was="null")
    shown = jon.get(f"/job/{shop.job}/correct").content.decode()
    seen = re.findall(r'name="seen" value="([^"]*)"', shown)[0]
    enter("fitted", seen=seen, part_number="T2-55-104", material=str(material.pk))
    weigh(shop)


def arm(enter: Any) -> None:
    for name, seen in (("weight", "none seen"), ("root", "scratch"), ("fastened", "none seen")):
        enter("arm-point", point=name, seen=seen, method="magnifying glass", note=f"note of {name}", was="null")
    enter("arm-point", point="wall", seen="corrosion", method="ultrasonic gauge", note="lower side", was="null",
          walls="root, top: 1.42 mm; root, below: 1.39 mm", nominal="1.52 mm", uncertainty="0.04 mm", limit="1.20 mm",
          source="MM-T2, C, 55-11")  # fmt: skip
    enter("arm-treatment", what="blended and primed", mass="3 g", where="arm, outside", was="null")
    enter("step-state", about="arm", state="done", was="")


def refit(enter: Any) -> None:
    for name, (value, lower, upper) in MEASURED.items():
        enter("refit-value", check=name, value=value, uncertainty=f"0.1 {value.split()[1]}", lower=lower, upper=upper,
              source=f"MM-T2, C, {name}", instrument=f"gauge {name}", was="null")  # fmt: skip
    for name in ("sense", "stops", "cables"):
        enter("refit-seen", check=name, finding="right", was="null")
    enter("refit-seen", check="locking", finding="right", was="null")
    enter("refit-not-needed", expect=409, check="clearance", reason="asked twice", was="null")


def sign(shop: Fenholt) -> None:
    """Weigh the treated surface again, inspect and release."""
    weigh(shop)
    jon = shop.client("jon")
    jon.post(f"/job/{shop.job}/entry", {"kind": "step-state", "about": "refit", "state": "done", "was": ""})
    look_at_all(shop.client("ines"), shop)
    assert signs(shop.client("ines"), f"/job/{shop.job}/sign/second").status_code == 302
    answer = signs(shop.client("ruth"), f"/job/{shop.job}/sign/release")
    assert answer.status_code == 302, re.findall(r"In the way[^<]*", answer.content.decode())
    assert Job.objects.get(number=shop.job).state == "released"
    assert Attachment.objects.filter(job__number=shop.job, kind="page").count() == 1


def found_in(pdf: bytes, entered: list[str]) -> None:
    """Find each value in the printed words and in the attached data, whatever the line breaks between."""
    attached = pypdf.PdfReader(io.BytesIO(pdf)).attachments
    documents = [json.loads(each[0]) for name, each in attached.items() if name.endswith(".json")]
    data = squeezed(json.dumps(documents, ensure_ascii=False))
    printed = squeezed(words(pdf))
    entered = [each for each in entered if each and each not in ("on", "asked twice")]
    assert len(entered) > 80
    # Of a unit, the power is raised on paper.
    assert [each for each in entered if squeezed(each.replace("m^2", "m²")) not in printed] == []
    assert [each for each in entered if squeezed(each) not in data] == []


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u200b\u00a0\u202f\u00ad]", "", text)


class Forms(HTMLParser):
    """The entries that a page offers: kind and name of each field that a person fills."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[tuple[str, str]] = set()
        self.kind, self.typed = "", list[str]()

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        told = dict(attributes)
        if tag == "form":
            self.kind, self.typed = "", []
        elif tag == "input" and told.get("name") == "kind":
            self.kind = told.get("value") or ""
        elif tag in ("input", "select", "textarea") and told.get("type") != "hidden" and told.get("name"):
            kind = "fitted" if told.get("form") == "fit-form" else self.kind
            if kind:
                self.found.add((kind, str(told["name"])))

    def handle_endtag(self, tag: str) -> None:
        if tag == "form":
            self.kind = ""


def fields_of(client: Client, shop: Fenholt) -> set[tuple[str, str]]:
    found = set[tuple[str, str]]()
    for step in STEPS:
        forms = Forms()
        forms.feed(client.get(f"/job/{shop.job}/{step}").content.decode())
        found |= forms.found
    return found
