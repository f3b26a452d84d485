"""Record to document and back: what is written, what is refused, what is brought up to date."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass, replace
from typing import Any

import pytest

from hingeline import document
from hingeline.balance import Limits, LimitsResult, Stated, StatedUncertainty, Support, Surface, Weighing, weigh
from hingeline.document import document_format, format_of, from_document, to_document, upgrade
from hingeline.errors import InputRefused, Refusal
from hingeline.fields import Length
from hingeline.units import Typed, read

WEIGHING = Weighing(
    Surface("élévateur, gauche", mass=4.1),
    (Support(arm=read("255 mm", "length"), readings=(read("840 g", "mass"), 0.845), tare=0.0),),
    uncertainty=StatedUncertainty(arm=Stated(read("2 mm", "length"), "m")),
    limits=Limits(upper=read("20 in-lb", "moment", local_gravity=9.81)),
    local_gravity=9.81,
)


def written() -> dict[str, Any]:
    """The document of the weighing, as any program reads it."""
    found: dict[str, Any] = json.loads(json.dumps(to_document(WEIGHING), allow_nan=False))
    return found


def refused(changed: dict[str, Any], record_type: type = Weighing) -> Refusal:
    with pytest.raises(InputRefused) as caught:
        from_document(changed, record_type)
    (refusal,) = caught.value.refusals
    assert refusal.remedy
    return refusal


# ------------------------------------------------------------------ what is written


def test_a_quantity_says_its_unit_and_its_text() -> None:
    """A typed number carries what was typed; a plain one its unit; a gravitational one the gravity."""
    found = written()
    support = found["supports"][0]
    assert support["arm"] == {"value": 0.255, "unit": "m", "typed": "255 mm"}
    assert support["readings"][1] == {"value": 0.845, "unit": "kg"}
    limit = found["limits"]["upper"]
    assert limit["typed"] == "20 in-lb"
    assert limit["local_gravity"] == 9.81
    assert limit["sense"] == "tail-heavy"
    assert found["format"] == "hingeline/weighing-record/1" == format_of(Weighing)


def test_a_measured_value_says_its_uncertainty() -> None:
    """All that is known of it, null where it is not limited, and the sense of a moment."""
    moment = to_document(weigh(WEIGHING))["static_moment"]
    known = {"standard_uncertainty", "expanded_uncertainty", "coverage_factor", "degrees_of_freedom"}
    assert set(moment) == {"value", "unit", "sense"} | known
    assert (moment["unit"], moment["sense"]) == ("N m", "tail-heavy")


@pytest.mark.parametrize(("reading", "sense"), [(0.5, "nose-heavy"), (0.0, "balanced")])
def test_the_sense_of_a_moment(reading: float, sense: str) -> None:
    """A forward support that carries shows nose-heavy; exactly nothing is balanced."""
    weighing = Weighing(Surface("tab"), (Support(0.2, "forward", readings=(reading,)),))
    moment = to_document(weigh(weighing))["static_moment"]
    assert moment["sense"] == sense


def test_zero_has_no_sign() -> None:
    """Minus zero and zero are one number, and a document writes it one way."""
    level = replace(WEIGHING, surface=Surface("tab", vertical_offset=-0.0))
    assert str(to_document(level)["surface"]["vertical_offset"]["value"]) == "0.0"


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_no_nan_is_ever_written(number: float) -> None:
    """A NaN or infinity in a record is a fault of the program, and no document is made of it."""
    spoiled = replace(WEIGHING, surface=replace(WEIGHING.surface, mass=number))
    with pytest.raises(ValueError, match="cannot stand in a document"):
        to_document(spoiled)
    with pytest.raises(ValueError, match="cannot stand in a document"):
        to_document(replace(WEIGHING, uncertainty=StatedUncertainty(coverage=number)))


# ------------------------------------------------------------------ what comes back


def test_what_was_typed_comes_back_typed() -> None:
    """Text, unit and gravity come back with the value."""
    back = from_document(written(), Weighing)
    assert back == WEIGHING
    arm, limit = back.supports[0].arm, back.limits.upper
    assert isinstance(arm, Typed)
    assert isinstance(limit, Typed)
    assert (arm.text, arm.unit, limit.text, limit.local_gravity) == ("255 mm", "mm", "20 in-lb", 9.81)
    assert not isinstance(back.supports[0].readings[1], Typed)


def test_what_was_typed_on_a_page_comes_back() -> None:
    """A comma as the decimal mark, which a file would refuse, is read by the grammar of pages."""
    on_page = replace(WEIGHING, surface=replace(WEIGHING.surface, mass=read("4,10 kg", "mass", page=True)))
    back = from_document(json.loads(json.dumps(to_document(on_page))), Weighing)
    assert back == on_page
    assert getattr(back.surface.mass, "text", "") == "4,10 kg"


@pytest.mark.parametrize("gravity", [9.81, 9.80665])
def test_a_document_of_before_keeps_the_moment_that_a_unit_of_force_had_then(gravity: float) -> None:
    """Version 1.0.0 took the local gravity for kgf cm; the document was called an edited one.

    50 kgf cm are 0.5 m times a kilogram's weight at the place: by hand.
    """
    older = written()
    was = 0.5 * gravity
    older["limits"]["upper"] |= {"typed": "50 kgf cm", "value": was, "local_gravity": gravity}
    assert float(from_document(older, Weighing).limits.upper or 0.0) == pytest.approx(was, rel=1e-15)
    older["limits"]["upper"]["value"] = 1.0001 * was
    assert refused(older).remedy == "The document was edited: use the original."


def test_fields_that_an_older_document_lacked_take_their_defaults() -> None:
    """A field with a default may be missing: it was not known when the document was written."""
    older = written()
    del older["limits"]["friction_fraction"], older["hung"]
    assert from_document(older, Weighing) == WEIGHING


# ------------------------------------------------------------------ what is refused


def test_a_newer_version_is_refused() -> None:
    """Version 2 is not guessed at: the program must be updated."""
    refusal = refused({**written(), "format": "hingeline/weighing-record/2"})
    assert (refusal.field, refusal.value) == ("format", "hingeline/weighing-record/2")
    assert refusal.expected == "hingeline/weighing-record/1"
    assert refusal.remedy == "It was made by a newer version: update Hingeline."


@pytest.mark.parametrize(
    "name",
    ["", "hingeline/weighing-result/1", "hingeline/weighing-record/0", "hingeline/weighing-record", "weighing-record/1",
     "hingeline/weighing-record/one", "hingeline/weighing-record/²"],
)  # fmt: skip
def test_another_kind_of_document_is_refused(name: str) -> None:
    """No format, another one, and a version that was never written."""
    refusal = refused({**written(), "format": name})
    assert (refusal.field, refusal.value, refusal.remedy) == ("format", name, "Give the right document.")


@pytest.mark.parametrize("found", [[], None, "text", 3])
def test_what_is_no_dictionary_is_refused(found: Any) -> None:
    """A file may hold a list or a bare number: it ended in a fault of the program."""
    assert refused(found).value == type(found).__name__


def test_a_document_is_refused_as_another_record() -> None:
    """A weighing is no result of printed limits."""
    assert refused(written(), LimitsResult).field == "format"


@pytest.mark.parametrize("field", ["surface"])
def test_a_missing_field_is_refused(field: str) -> None:
    """What has no default must be there."""
    cut_off = written()
    del cut_off[field]
    refusal = refused(cut_off)
    assert (refusal.field, refusal.expected) == (field, "this field")
    assert refusal.remedy == "The document is cut off or was edited."


def test_a_missing_field_below_is_refused() -> None:
    """Also deeper down."""
    cut_off = written()
    del cut_off["supports"][0]["arm"]
    assert refused(cut_off).field == "arm"


@pytest.mark.parametrize(
    ("change", "value"),
    [({"value": 0.265}, "255 mm beside 0.265 m"), ({"typed": "265 mm"}, "265 mm beside 0.255 m"),
     ({"typed": "255 kg"}, None), ({"typed": "about 255 mm"}, None)],
)  # fmt: skip
def test_an_edited_typed_text_is_refused(change: dict[str, Any], value: str | None) -> None:
    """Text and number must say the same, and the text must still be a quantity."""
    edited = written()
    edited["supports"][0]["arm"] |= change
    refusal = refused(edited)
    if value is not None:
        assert (refusal.field, refusal.value) == ("typed", value)
        assert refusal.remedy == "The document was edited: use the original."


@pytest.mark.parametrize(
    "change",
    [
        {"supports": 1},
        {"supports": [1]},
        {"supports": {}},
        {"surface": "elevator"},
        {"surface": []},
        {"local_gravity": 9.81},
        {"local_gravity": {"unit": "m/s^2"}},
        {"local_gravity": {"value": "nine", "unit": "m/s^2"}},
        {"local_gravity": {"value": math.nan, "unit": "m/s^2"}},
        {"local_gravity": {"value": "inf", "unit": "m/s^2"}},
        {"local_gravity": {"value": 9.81, "typed": "9.81 m/s^2", "unit": "furlong"}},
        {"uncertainty": {"coverage": "0.95 or so"}},
        {"uncertainty": {"coverage": math.nan}},
        {"uncertainty": {"coverage": True}},
        {"local_gravity": {"value": 32.2, "unit": "ft/s^2"}},
        {"surface": {"name": 7}},
        {"limits": {"rule": "strict"}},
        {"limits": {"rule": ["simple"]}},
        {"uncertainty": None},
    ],
)
def test_a_document_of_another_shape_is_refused(change: dict[str, Any]) -> None:
    """A list for a table, a bare number for a quantity, a NaN: refused, and never a bare KeyError."""
    refusal = refused({**written(), **change})
    assert "edited" in refusal.remedy


# ------------------------------------------------------------------ bringing up to date


def test_an_older_version_is_brought_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """A version 1 whose length was called depth still loads as version 3, by way of version 2."""
    monkeypatch.setattr(document, "_FORMATS", dict(document._FORMATS))
    monkeypatch.setattr(document, "_UPGRADES", dict(document._UPGRADES))

    @document_format("hingeline/trial/3")
    @dataclass(frozen=True)
    class Trial:
        length: Length
        name: str = "unnamed"

    upgrade("hingeline/trial/1", lambda old: {"format": "hingeline/trial/2", "long": old["depth"]})
    upgrade("hingeline/trial/2", lambda old: {"format": "hingeline/trial/3", "length": old["long"]})
    quantity = {"value": 0.27, "unit": "m"}
    for old in (
        {"format": "hingeline/trial/1", "depth": quantity},
        {"format": "hingeline/trial/2", "long": quantity},
        {"format": "hingeline/trial/3", "length": quantity},
    ):
        assert from_document(old, Trial) == Trial(0.27)
    assert refused({"format": "hingeline/trial/4", "length": quantity}, Trial).remedy.startswith(
        "It was made by a newer"
    )
