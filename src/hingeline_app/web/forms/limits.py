"""What is asked about approved data: a document, an issue of it, and a row as it is printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.approved.checking import RowCheck, checked
from hingeline_app.files.limits_file import OPEN, said_twice
from hingeline_app.files.plus_sense import NOSE_HEAVY, sense_of
from hingeline_app.web.forms.fields import QuantityField
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.people import DAY
from hingeline_app.web.forms.refusals import say_refusals, sentence

BANDS = 6
# A lower and an upper number, and the single quantities, of a row: what each is, and its words.
PAIRS: Mapping[str, tuple[str, Any, Any]] = {
    "moment": ("moment", _("Lower limit"), _("Upper limit")),
    "second_unit": ("moment", _("Second unit, lower"), _("Second unit, upper")),
    "reading": ("mass", _("Reading printed, lower"), _("Reading printed, upper")),
    "force": ("force", _("Force printed, lower"), _("Force printed, upper")),
    "mass": ("mass", _("Mass of the surface, from"), _("Mass of the surface, to")),
    "second_mass": ("mass", _("Mass in the second unit, from"), _("Mass in the second unit, to")),
}
SINGLES: Mapping[str, tuple[str, Any]] = {
    "arm": ("length", _("Arm of the reading or force")),
    "second_arm": ("length", _("Arm in the second unit")),
    "chord": ("length", _("Hinge line to trailing edge")),
}
WORDS: Mapping[str, Any] = {
    "positive": _("Sense, as printed"),
    "part": _("Part number"),
    "effectivity": _("Serial numbers"),
    "version": _("Version"),
    "option": _("Option fitted"),
    "fitted": _("Fitted when weighed"),
    "rule": _("Rule asked for"),
    "note": _("Remark printed beside it"),
}
# The rows of the table in which two readings are compared, in this order.
ORDER = (
    "part", "effectivity", "version", "option", "positive", "moment", "second_unit", "force", "reading", "arm",
    "second_arm", "bands", "mass", "second_mass", "chord", "fitted", "rule", "note",
)  # fmt: skip
RULES = [("", _("not said")), ("simple", _("simple rule")), ("guarded", _("guarded rule"))]


class DocumentForm(PageForm):
    """A document whose data is approved."""

    type_name = forms.CharField(
        label=_("Aircraft type"), help_text=_("As the aircraft's own page has it: its rows are offered for that type."),
        max_length=60,
    )  # fmt: skip
    number = forms.CharField(label=_("Number of the document"), max_length=60)
    title = forms.CharField(label=_("Title"), max_length=200)


class IssueForm(PageForm):
    """An issue of a document."""

    issue = forms.CharField(label=_("Issue"), max_length=60, help_text=_("As printed, for instance C or 3."))
    issued_on = forms.DateField(label=_("Issued on"), widget=DAY)


class PagePhotographForm(PageForm):
    """A photograph of the printed page."""

    photograph = forms.FileField(label=_("Photograph of the printed page"), max_length=200)


class PrintedRowForm(PageForm):
    """A row as it is printed: every field that a row may hold, none of it worked out."""

    positive = forms.CharField(label=WORDS["positive"], max_length=200, help_text=_(
        "What the document's plus means, in its own words: tail heavy, trailing edge down, nose heavy …"))  # fmt: skip
    part = forms.CharField(label=WORDS["part"], max_length=120, required=False)
    effectivity = forms.CharField(label=WORDS["effectivity"], max_length=200, required=False, help_text=_(
        "For instance: from 0040 on."))  # fmt: skip
    version = forms.CharField(label=WORDS["version"], max_length=120, required=False)
    option = forms.CharField(label=WORDS["option"], max_length=120, required=False)
    fitted = forms.CharField(label=WORDS["fitted"], max_length=400, required=False, help_text=_(
        "What the limits assume is fitted, and how the surface is painted."))  # fmt: skip
    rule = forms.ChoiceField(label=WORDS["rule"], choices=RULES, required=False)
    note = forms.CharField(label=WORDS["note"], max_length=400, required=False)

    def __init__(self, *arguments: Any, surface: str = "", **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.of_surface = surface
        self.check: RowCheck | None = None
        for name, (dimension, lower, upper) in PAIRS.items():
            self.fields[f"{name}_lower"] = QuantityField(dimension, label=lower, required=False)
            self.fields[f"{name}_upper"] = QuantityField(dimension, label=upper, required=False)
        for name, (dimension, label) in SINGLES.items():
            self.fields[name] = QuantityField(dimension, label=label, required=False)
        for place, dimension, label in _band_fields():
            self.fields[place] = QuantityField(dimension, label=label, required=False)
        for field in self.fields.values():
            # Most of them are left out of most rows: it is said once, at the foot of the page.
            field.always = True  # type: ignore[attr-defined]
        self.order_fields([name for _caption, names in self.captions() for name in names])

    def captions(self) -> list[tuple[Any, list[str]]]:
        """Group the fields as the page shows them."""
        bands = [place for place, _dimension, _label in _band_fields()]
        return [
            (_("The limits, as printed"), ["positive", "rule", "moment_lower", "moment_upper"]),
            (_("For which surfaces"), ["part", "effectivity", "version", "option", "fitted"]),
            (_("The same limits, printed a second time"), [
                "second_unit_lower", "second_unit_upper", "force_lower", "force_upper", "reading_lower",
                "reading_upper", "arm", "second_arm"]),
            (_("The surface itself"), ["mass_lower", "mass_upper", "second_mass_lower", "second_mass_upper", "chord",
                                       "note"]),
            (_("Mass bands"), bands),
        ]  # fmt: skip

    def sections(self) -> list[tuple[Any, list[Any], bool]]:
        """Give the fields in groups; whether a group is seldom needed and holds nothing yet."""
        return [
            (caption, [self[name] for name in names], not any(self[name].value() for name in names) and number > 1)
            for number, (caption, names) in enumerate(self.captions())
        ]

    def clean_positive(self) -> str:
        """Refuse a sense word that says neither way, or both."""
        try:
            sense_of(self.cleaned_data["positive"])
        except InputRefused as refused:
            raise forms.ValidationError([sentence(each) for each in refused.refusals]) from None
        return " ".join(str(self.cleaned_data["positive"]).split())

    def clean(self) -> dict[str, Any]:
        """Look for contradictions; refuse a row that states no limit."""
        said = super().clean() or {}
        self._refuse_senses(said)
        printed = self.printed()
        if not any(printed.get(name) for name in ("moment", "mass", "reading", "bands")) and not self.errors:
            self.add_error("moment_lower", _("Type at least one limit, with its unit. A side left out is open."))
        if not self.errors:
            try:
                self.check = checked(self.of_surface or str(said.get("surface", "row")), printed)
            except InputRefused as refused:
                say_refusals(self, refused, {each.field: _field_named(each.field) for each in refused.refusals})
        return said

    def _refuse_senses(self, said: Mapping[str, Any]) -> None:
        """Refuse "3 in-lb nose-heavy" in a nose-heavy row: what is kept has a minus in its place, and is turned."""
        positive = said.get("positive")
        if not positive or sense_of(positive) != NOSE_HEAVY:
            return
        for name in [each for each in self.fields if getattr(self.fields[each], "dimension", "") == "moment"]:
            for refusal in said_twice("", str(self.data.get(self.add_prefix(name)) or "")):
                self.add_error(name, sentence(refusal))

    def printed(self) -> dict[str, Any]:
        """Give the row as the records keep it: what was left out is not in it, an open side is "none"."""
        said = self.cleaned_data
        row = {name: " ".join(str(said.get(name) or "").split()) for name in (*WORDS, *SINGLES)}
        pairs = {name: _pair(said.get(f"{name}_lower"), said.get(f"{name}_upper")) for name in PAIRS}
        bands = [band for number in range(1, BANDS + 1) if (band := _band(said, number))]
        return {name: value for name, value in {**row, **pairs, "bands": bands}.items() if value}


class NewRowForm(PrintedRowForm):
    """A row that nobody typed yet: also which surface, and on which page."""

    surface = forms.CharField(label=_("Surface"), max_length=120)
    page = forms.CharField(label=_("Page"), max_length=60)
    is_draft = forms.BooleanField(label=_("Keep it as a draft: nobody reads it again yet"), required=False)

    def captions(self) -> list[tuple[Any, list[str]]]:
        """Put the place on top."""
        return [(_("Where it stands"), ["surface", "page"]), *super().captions()]

    def sections(self) -> list[tuple[Any, list[Any], bool]]:
        """Give the fields in groups."""
        return [(caption, fields, folded and number > 2) for number, (caption, fields, folded) in
                enumerate(super().sections())]  # fmt: skip


def as_typed(printed: Mapping[str, Any]) -> dict[str, Any]:
    """Give a row as the form's fields hold it."""
    typed: dict[str, Any] = {name: printed.get(name, "") for name in (*WORDS, *SINGLES)}
    for name in PAIRS:
        typed |= _ends(name, printed.get(name))
    for number, band in enumerate(printed.get("bands") or (), 1):
        typed |= {f"band_{number}_from": band["mass"][0], f"band_{number}_to": band["mass"][1]}
        typed |= _ends(f"band_{number}", band.get("moment"))
    return typed


def _ends(name: str, pair: Any) -> dict[str, str]:
    lower, upper = pair or ("", "")
    return {f"{name}_lower": "" if lower == OPEN else lower, f"{name}_upper": "" if upper == OPEN else upper}


def _pair(lower: str | None, upper: str | None) -> list[str]:
    return [lower or OPEN, upper or OPEN] if lower or upper else []


def _band_fields() -> Iterator[tuple[str, str, Any]]:
    for number in range(1, BANDS + 1):
        yield f"band_{number}_from", "mass", _("Band %(number)s: mass from") % {"number": number}
        yield f"band_{number}_to", "mass", _("Band %(number)s: mass to") % {"number": number}
        yield f"band_{number}_lower", "moment", _("Band %(number)s: lower limit") % {"number": number}
        yield f"band_{number}_upper", "moment", _("Band %(number)s: upper limit") % {"number": number}


def _band(said: Mapping[str, Any], number: int) -> dict[str, Any] | None:
    place = f"band_{number}"
    moment = _pair(said.get(f"{place}_lower"), said.get(f"{place}_upper"))
    mass = [said.get(f"{place}_from") or "", said.get(f"{place}_to") or ""]
    return {"mass": mass, "moment": moment} if moment or any(mass) else None


def _field_named(place: str) -> str:
    """Name the form's field for a place such as ``row[0].moment.lower`` or ``moment[0]``."""
    name = place.rpartition("].")[2] if "row[" in place else place
    bare = name.replace("[0]", ".lower").replace("[1]", ".upper").replace(".", "_")
    return f"{bare}_lower" if bare in PAIRS else bare
