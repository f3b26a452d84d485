"""What is asked about aircraft, their surfaces and parts, about stands and materials, and about a paper record."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.report.owner_words import LANGUAGES
from hingeline_app.web.forms.fields import QuantityField
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.people import DAY, reason_field

MASSES = 3
Choices = Iterable[tuple[Any, Any]]


class AircraftForm(PageForm):
    """An aircraft."""

    type_name = forms.CharField(label=_("Aircraft type"), max_length=60)
    registration = forms.CharField(label=_("Registration"), max_length=60)
    serial_number = forms.CharField(label=_("Serial number"), max_length=60)
    built_on = forms.DateField(label=_("Built on"), required=False, widget=DAY)
    owner = forms.ChoiceField(label=_("Owner, who may see its records"), required=False)
    owner_language = forms.ChoiceField(label=_("Language of the owner's sheet"), required=False)

    def __init__(self, *arguments: Any, people: Choices = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        _choose(self, "owner", people)
        _choose(self, "owner_language", LANGUAGES.items())


class CorrectedAircraftForm(PageForm):
    """A new registration or owner; what was typed wrong."""

    registration = forms.CharField(label=_("Registration"), max_length=60)
    type_name = forms.CharField(label=_("Aircraft type"), max_length=60)
    serial_number = forms.CharField(label=_("Serial number"), max_length=60, help_text=_(
        "Type and serial number can be corrected until a job is signed."))  # fmt: skip
    built_on = forms.DateField(label=_("Built on"), required=False, widget=DAY)
    owner = forms.ChoiceField(label=_("Owner, who may see its records"), required=False)
    owner_language = forms.ChoiceField(label=_("Language of the owner's sheet"), required=False)
    reason = reason_field()

    def __init__(self, *arguments: Any, people: Choices = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        _choose(self, "owner", people)
        _choose(self, "owner_language", LANGUAGES.items())


class SurfaceForm(PageForm):
    """A movable surface."""

    name = forms.CharField(label=_("Surface"), max_length=120, help_text=_("For instance: Elevator, left half."))
    serial_number = forms.CharField(label=_("Its serial number"), max_length=60, required=False)
    hinge_to_trailing_edge = QuantityField("length", label=_("Hinge line to trailing edge"), required=False,
                                           help_text=_("With its unit, for instance 270 mm."))  # fmt: skip


class CorrectedSurfaceForm(SurfaceForm):
    """A surface's details, entered anew."""

    corrected = forms.UUIDField(widget=forms.HiddenInput)
    reason = reason_field()
    serial_number = forms.CharField(label=_("Its serial number"), max_length=60, required=False, help_text=_(
        "Was another piece fitted in its place? Then begin with the new piece on its job."))  # fmt: skip
    field_order = ("corrected", "name", "serial_number", "hinge_to_trailing_edge", "reason")


class PartForm(PageForm):
    """A part, new to the records, and where it is fitted."""

    part = forms.CharField(label=_("Part"), max_length=120, help_text=_("For instance: weight arm."))
    part_number = forms.CharField(label=_("Part number"), max_length=60, required=False)
    serial_number = forms.CharField(label=_("Serial number"), max_length=60)
    hours = forms.DecimalField(label=_("Hours when it was fitted new"), required=False, min_value=0, localize=True)
    landings = forms.IntegerField(label=_("Landings when it was fitted new"), required=False, min_value=0)


class FitForm(PageForm):
    """A part that is fitted."""

    part = forms.ChoiceField(label=_("Part"))
    surface = forms.ChoiceField(label=_("To the surface"), required=False)
    on = forms.DateField(label=_("Fitted on"), widget=DAY, help_text=_(
        "While a job of its surface is open, an older day counts as a hand on that job too: who enters it is not its "
        "second inspector, and an inspection that was signed ends."))  # fmt: skip
    at_hours = forms.DecimalField(label=_("Hours of the aircraft then"), required=False, min_value=0, help_text=_(
        "Left out, the last reading by that day counts."))  # fmt: skip
    at_landings = forms.IntegerField(label=_("Landings of the aircraft then"), required=False, min_value=0, help_text=_(
        "Left out, only a reading of that very day counts."))  # fmt: skip

    def __init__(self, *arguments: Any, parts: Choices = (), surfaces: Choices = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        _choose(self, "part", parts)
        _choose(self, "surface", surfaces)


class RemoveForm(PageForm):
    """A part that is removed."""

    part = forms.ChoiceField(label=_("Part"))
    on = forms.DateField(label=_("Removed on"), widget=DAY)
    at_hours = forms.DecimalField(label=_("Hours of the aircraft then"), required=False, min_value=0)
    at_landings = forms.IntegerField(label=_("Landings of the aircraft then"), required=False, min_value=0)
    reason = reason_field()

    def __init__(self, *arguments: Any, fitted: Choices = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        _choose(self, "part", fitted)


class PaperForm(PageForm):
    """What was signed on paper."""

    original_date = forms.DateField(label=_("Date on the paper"), widget=DAY)
    original_signer = forms.CharField(label=_("Who signed it"), max_length=120)
    original_licence = forms.CharField(label=_("Licence number on it"), max_length=60, required=False)
    surface = forms.ChoiceField(label=_("Surface"), required=False)
    says = forms.CharField(label=_("What it says"), max_length=2000, widget=forms.Textarea({"rows": 4}))
    moment = QuantityField("moment", label=_("Static moment on it, tail-heavy positive"), required=False, help_text=_(
        "With its unit; a minus for nose-heavy."))  # fmt: skip
    photograph = forms.FileField(label=_("Photograph of the paper"), required=False, max_length=200)

    def __init__(self, *arguments: Any, surfaces: Choices = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        _choose(self, "surface", surfaces)


class StandForm(PageForm):
    """A stand with its loose masses and its ±."""

    name = forms.CharField(label=_("Name of the stand"), max_length=60)
    arm = QuantityField("length", label=_("An arm is known to ±"), required=False)
    level = QuantityField("angle", label=_("It is level to ±"), required=False)
    friction = QuantityField("mass", label=_("Friction of the hinge shifts a reading by ±"), required=False)

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        for number in range(1, MASSES + 1):
            words = {"number": number}
            name = forms.CharField(label=_("Loose mass %(number)s, name") % words, max_length=60, required=False)
            mass = QuantityField("mass", label=_("Loose mass %(number)s") % words, required=False)
            self.fields |= {f"name_{number}": name, f"mass_{number}": mass}

    def masses(self) -> list[dict[str, str]]:
        """Give the loose masses that were named."""
        said = self.cleaned_data
        pairs = ((said[f"name_{number}"], said[f"mass_{number}"]) for number in range(1, MASSES + 1))
        return [{"name": name, "mass": mass} for name, mass in pairs if name or mass]

    def uncertainty(self) -> dict[str, Any]:
        """Give the ± as a job file states it."""
        said = self.cleaned_data
        return {name: {"limit": said[name]} for name in ("arm", "level", "friction") if said[name]}


class MaterialForm(PageForm):
    """A batch of material."""

    name = forms.CharField(label=_("Material"), max_length=120)
    batch = forms.CharField(label=_("Batch"), max_length=60)
    release_certificate = forms.CharField(label=_("Release certificate"), max_length=120)
    received_on = forms.DateField(label=_("Received on"), widget=DAY)
    expires_on = forms.DateField(label=_("Expires on"), required=False, widget=DAY)


def _choose(form: PageForm, name: str, choices: Choices) -> None:
    field = form.fields.get(name)
    if isinstance(field, forms.ChoiceField):
        field.choices = [("", "–"), *((str(value), words) for value, words in choices)]
