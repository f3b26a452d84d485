"""What a coating plan and a swing are asked for; each becomes the job file that the command reads."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.files.coating_file import FORMAT as COATING
from hingeline_app.files.swing_file import FORMAT as SWING
from hingeline_app.web.forms.fields import QuantityField
from hingeline_app.web.forms.missing import missing_words
from hingeline_app.web.forms.refusals import sentence

LAYERS = 4
SIDES = [("aft", _("aft")), ("forward", _("forward"))]
FACTORS = [("2", "2"), ("3", "3"), ("1", "1")]
MOST_TIMES = 50


class AskedForm(forms.Form):
    """A form whose answer is worked out and kept nowhere: its address holds it."""

    use_required_attribute = False

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.label_suffix = ""
        for field in self.fields.values():
            field.always = True  # type: ignore[attr-defined]
            field.error_messages |= missing_words(field)

    def stated(self, name: str, *, k: str = "") -> Any:
        """Give a quantity, with its ± where one was typed: a limit, or expanded with its coverage factor."""
        said = self.cleaned_data
        value, around = said.get(name), said.get(f"{name}_within")
        if not value or not around:
            return value or None
        return {"value": value, **({"expanded": around, "k": int(k)} if k else {"limit": around})}


class CoatingForm(AskedForm):
    """Layers that are put on or stripped off, and the moment as last weighed."""

    name = forms.CharField(label=_("Surface"), max_length=120, required=False)
    moment = QuantityField("moment", label=_("Moment as weighed, tail-heavy positive"), required=False,
                           help_text=_("A minus for nose-heavy."))  # fmt: skip
    moment_within = QuantityField("moment", label=_("Its expanded uncertainty U"), required=False)
    moment_k = forms.ChoiceField(label=_("Coverage factor k of U"), choices=FACTORS, required=False)
    lower = QuantityField("moment", label=_("Lower limit"), required=False)
    upper = QuantityField("moment", label=_("Upper limit"), required=False)
    rule = forms.ChoiceField(label=_("Rule asked for"), required=False,
                             choices=[("simple", _("simple rule")), ("guarded", _("guarded rule"))])  # fmt: skip
    source = forms.CharField(label=_("Document, issue, page"), max_length=200, required=False)

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        for number in range(1, LAYERS + 1):
            for name, field in _layer_fields(number):
                field.always = True  # type: ignore[attr-defined]
                self.fields[f"{name}_{number}"] = field

    def sections(self) -> Iterator[tuple[Any, list[Any], bool]]:
        """Give the surface, then each layer; layers that hold nothing are folded."""
        yield _("The surface as weighed"), [self[name] for name in self.base_fields], False
        for number in range(1, LAYERS + 1):
            fields = [self[f"{name}_{number}"] for name, _field in _layer_fields(number)]
            told = any(self[f"{name}_{number}"].value() for name in ("layer", "area", "arm"))
            yield _("Layer %(number)s") % {"number": number}, fields, number > 1 and not told

    def tables(self) -> dict[str, Any]:
        """Give the job file."""
        said = self.cleaned_data
        limits = {name: said[name] or None for name in ("lower", "upper", "rule", "source")}
        return {
            "format": COATING,
            "name": said["name"] or None,
            "moment": self.stated("moment", k=said["moment_k"] or "2"),
            "limits": limits,
            "layer": [layer for number in range(1, LAYERS + 1) if (layer := self._layer(number))],
        }

    def _layer(self, number: int) -> dict[str, Any] | None:
        said = self.cleaned_data
        if not any(said.get(f"{name}_{number}") for name in ("layer", "area", "arm", "mass_per_area")):
            return None
        quantities = ("area", "arm", "mass_per_area")
        return {
            "name": said.get(f"layer_{number}") or f"layer {number}",
            "side": said.get(f"side_{number}") or "aft",
            "count": float(said[f"count_{number}"]) if said.get(f"count_{number}") is not None else 1.0,
            **{name: self._of_layer(name, number) for name in quantities},
        }

    def _of_layer(self, name: str, number: int) -> Any:
        value, around = self.cleaned_data.get(f"{name}_{number}"), self.cleaned_data.get(f"{name}_within_{number}")
        return {"value": value, "limit": around} if value and around else value or None


def _layer_fields(number: int) -> Iterator[tuple[str, forms.Field]]:
    yield "layer", forms.CharField(label=_("Name of the layer"), max_length=120, required=False)
    yield "side", forms.ChoiceField(label=_("Side of the hinge line"), choices=SIDES, required=False)
    yield "area", QuantityField("area", label=_("Area of one face"), required=False)
    yield "area_within", QuantityField("area", label=_("Area known to ±"), required=False)
    yield "arm", QuantityField("length", label=_("Arm of its centroid"), required=False)
    yield "arm_within", QuantityField("length", label=_("Arm known to ±"), required=False)
    yield "mass_per_area", QuantityField("mass_per_area", label=_("A coat on one face"), required=False)
    yield "mass_per_area_within", QuantityField("mass_per_area", label=_("A coat known to ±"), required=False)
    yield "count", forms.DecimalField(label=_("Coats times faces; a minus where stripped"), required=False,
                                      min_value=-100, max_value=100, initial=2 if number == 1 else None)  # fmt: skip


class SwingForm(AskedForm):
    """Times of a swing, and how the surface swung."""

    name = forms.CharField(label=_("Surface"), max_length=120, required=False)
    method = forms.ChoiceField(label=_("How it swings"), choices=[
        ("own weight", _("hung from its hinge line")),
        ("added mass", _("the same, with a mass added")),
        ("two wires", _("on two wires")), ("spring", _("on a spring"))])  # fmt: skip
    periods = forms.CharField(label=_("Times taken, in seconds"), max_length=2000, widget=forms.Textarea({"rows": 3}),
                              help_text=_("One after the other, with blanks between."))  # fmt: skip
    swings_per_period = forms.IntegerField(label=_("Swings there and back in each time"), min_value=1, max_value=1000,
                                           initial=10)  # fmt: skip
    timing_within = QuantityField("time", label=_("Each time is taken to ±"), required=False, initial="0.15 s")
    hangs = forms.ChoiceField(label=_("Which edge hangs down"), required=False, choices=[
        ("tail down", _("trailing edge")), ("nose down", _("leading edge"))])  # fmt: skip
    added_side = forms.ChoiceField(label=_("Added mass: side"), choices=SIDES, required=False)

    QUANTITIES: Mapping[str, tuple[str, Any, Any]] = {
        "amplitude": ("angle", _("Angle to one side, middle of start and end"), _("Angle known to ±")),
        "surface_mass": ("mass", _("Mass of the surface"), _("Mass known to ±")),
        "surface_mass_moment": ("mass_moment", _("Mass times its arm, aft positive"), _("Known to ±")),
        "added_mass": ("mass", _("Added mass"), _("Added mass known to ±")),
        "added_arm": ("length", _("Arm of the added mass"), _("Its arm known to ±")),
        "wire_spacing": ("length", _("Wires: spacing"), _("Spacing known to ±")),
        "wire_length": ("length", _("Wires: length"), _("Length known to ±")),
        "spring_rate": ("spring_rate", _("Spring: rate"), _("Rate known to ±")),
        "spring_arm": ("length", _("Spring: arm"), _("Spring's arm known to ±")),
    }

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        for name, (dimension, label, around) in self.QUANTITIES.items():
            for place, words in ((name, label), (f"{name}_within", around)):
                field = QuantityField(dimension, label=words, required=False)
                field.always = True  # type: ignore[attr-defined]
                self.fields[place] = field

    def clean_periods(self) -> list[str]:
        """Read each time; a unit may stand behind it."""
        words = re.sub(r"(?<=\d)\s*s\b", "", self.cleaned_data["periods"]).replace(";", " ").split()
        if not 0 < len(words) <= MOST_TIMES:
            raise forms.ValidationError(_("Give from one to fifty times."))
        try:
            return [f"{read(f'{word} s', 'time', page=True).number} s" for word in words]
        except InputRefused as refused:
            raise forms.ValidationError([sentence(each) for each in refused.refusals]) from None

    def sections(self) -> Iterator[tuple[Any, list[Any], bool]]:
        """Give the times, then what the method needs."""
        of_method = {"wire": _("Two wires"), "spring": _("Spring"), "added": _("Added mass")}
        first = ("name", "method", "periods", "swings_per_period", "timing_within", "hangs")
        yield _("The swing"), [self[name] for name in first], False
        body = ("amplitude", "surface_mass", "surface_mass_moment")
        yield _("The surface"), [self[place] for name in body for place in (name, f"{name}_within")], False
        for prefix, caption in of_method.items():
            fields = [self[name] for name in self.fields if name.startswith(prefix)]
            told = any(field.value() for field in fields if field.name != "added_side")
            yield caption, fields, not told

    def tables(self) -> dict[str, Any]:
        """Give the job file; what was left out is not in it."""
        said = self.cleaned_data
        plain = {name: said[name] or None for name in ("name", "method", "periods", "swings_per_period", "hangs")}
        quantities = {name: self.stated(name) for name in self.QUANTITIES}
        timing = {"timing": {"limit": said["timing_within"]}} if said["timing_within"] else {}
        added = {"added_side": said["added_side"]} if said["added_side"] and said["added_mass"] else {}
        return {"format": SWING, **plain, **quantities, **added, "uncertainty": timing}
