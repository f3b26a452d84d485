"""What is asked about a recording: the file and what it is of; its columns and its true time; its marks."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from typing import Any
from uuid import UUID

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.evidence.arriving import Part
from hingeline_app.evidence.asked import Asked
from hingeline_app.evidence.marks_text import Placed, PlacedMarks, marks_text
from hingeline_app.files.marks_file import read_marks
from hingeline_app.records.actions.recordings import About
from hingeline_app.records.queries.recordings import Subject
from hingeline_app.web.forms.fields import QuantityField
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.forms.people import DAY
from hingeline_app.web.forms.refusals import sentence

MOST_PLACED = 8
LARGEST_MARKS = 100_000
COLUMNS = ("time_s", "plunge_mm", "pitch_deg", "surface_deg", "acceleration_m_s2")


class NewRecordingForm(PageForm):
    """A recording that comes in."""

    # Held back by the browser where nothing is chosen: not after a file of 2 GB was sent.
    of = forms.ChoiceField(label=_("Which aircraft, surface or job"), widget=forms.Select(attrs={"required": True}))
    taken_on = forms.DateField(label=_("Day it was taken"), required=False, widget=DAY)
    remark = forms.CharField(label=_("Remark"), max_length=2000, required=False, help_text=_(
        "Airspeed, engine speed, what was fitted, who filmed from where."))  # fmt: skip
    file = forms.FileField(
        label=_("File: video, sound (WAV) or table (CSV)"),
        max_length=200,
        required=False,
        help_text=_("MP4, MOV, WebM, Matroska or AVI up to 2 GB: the camera's original, no copy of a copy."),
    )
    digest = forms.CharField(widget=forms.HiddenInput, required=False, max_length=64)
    # Where the page's script sent the file in pieces before: under which key they lie.
    arrived = forms.CharField(widget=forms.HiddenInput, required=False, max_length=64)
    # The last field of the form: where it is missing, the rest did not arrive whole.
    whole = forms.CharField(widget=forms.HiddenInput, required=False, initial="yes", max_length=3)

    def __init__(
        self, *arguments: Any, subjects: Sequence[Subject] = (), part_of: Callable[[str], Part | None] | None = None,
        **options: Any,
    ) -> None:  # fmt: skip
        super().__init__(*arguments, **options)
        self.part_of = part_of
        self.fields["file"].always = True  # type: ignore[attr-defined]
        offered = [(each.key, each.words) for each in subjects]
        # The newest job, chosen beforehand, would be kept with a recording that nobody said is of it.
        to_choose = [("", _("choose"))] if len(offered) > 1 else []
        self.fields["of"].choices = [*to_choose, *offered]  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Refuse what was cut off on its way."""
        said = super().clean() or {}
        said["part"] = self.part_of(said["arrived"]) if self.part_of and said.get("arrived") else None
        if (said["part"] is not None and not said["part"].whole) or (said.get("file") and said.get("whole") != "yes"):
            self.add_error("file", _("It did not arrive whole: the connection was cut. Send it again."))
        elif not said.get("file") and said["part"] is None and "file" not in self.errors:
            self.add_error("file", _("It is missing: choose the file."))
        return said

    @property
    def about(self) -> About:
        """Give what it is of."""
        kind, _sign, key = str(self.cleaned_data["of"]).partition(":")
        return About(**{kind: UUID(key)})


class TimeForm(PageForm):
    """Who says how long a second of the file is."""

    time = forms.ChoiceField(
        label=_("True time"),
        choices=[
            ("file", _("As the file says")),
            ("given", _("I know how many pictures or rows a second were taken")),
            ("unknown", _("Unknown: it may be slow motion")),
        ],
        initial="file",
        widget=forms.RadioSelect,
        help_text=_("Never assumed. Unknown: the statement stands, the frequency is given per second of the file."),
    )
    captured_at = forms.CharField(label=_("Taken per second"), required=False, max_length=12, help_text=_(
        "For instance 240, as the camera was set."), widget=forms.TextInput({"inputmode": "decimal"}))  # fmt: skip

    def clean_captured_at(self) -> float | None:
        """Read the rate."""
        text = str(self.cleaned_data["captured_at"]).strip().replace(",", ".")
        if not text or self.data.get("time") != "given":
            return None
        if not re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,4})?", text) or not 1.0 <= float(text) <= 100_000.0:
            raise ValidationError(_now("A number from 1 to 100000 is expected, as the camera was set: 240."))
        return float(text)

    def clean(self) -> dict[str, Any]:
        """Refuse a rate that was announced and is missing."""
        said = super().clean() or {}
        if said.get("time") == "given" and said.get("captured_at") is None and "captured_at" not in self.errors:
            self.add_error("captured_at", _("It is missing: write how many were taken per second."))
        return said

    @property
    def asked(self) -> Asked:
        """Give what is asked."""
        return Asked(captured_at=self.cleaned_data["captured_at"], time_unknown=self.cleaned_data["time"] == "unknown")


class SoundForm(PageForm):
    """Whether the seconds of a sound are true: its rate is its own, so there is none to be typed."""

    time = forms.ChoiceField(
        label=_("True time"),
        choices=[("file", _("As the file says")), ("unknown", _("Unknown: it may be slow motion"))],
        initial="file",
        widget=forms.RadioSelect,
        help_text=_("Never assumed. Unknown: the statement stands, the frequency is given per second of the file."),
    )

    @property
    def asked(self) -> Asked:
        """Give what is asked."""
        return Asked(time_unknown=self.cleaned_data["time"] == "unknown")


class TableForm(TimeForm):
    """Which column is what, where the header does not say it by itself."""

    def __init__(self, *arguments: Any, header: Sequence[str] = (), **options: Any) -> None:
        super().__init__(*arguments, **options)
        for name in COLUMNS if header else ():
            choices = [("", _("as its name says, or not there")), *((each, each) for each in header)]
            self.fields[f"column_{name}"] = forms.ChoiceField(label=f"{name}", choices=choices, required=False)

    @property
    def asked(self) -> Asked:
        """Give what is asked."""
        columns = {name: said for name in COLUMNS if (said := self.cleaned_data.get(f"column_{name}"))}
        time = super().asked
        return Asked(columns, time.captured_at, time.time_unknown)


class MarksForm(TimeForm):
    """Where the marks are on the first picture, and what they stand for; or a marks file."""

    nose = forms.ChoiceField(label=_("Leading edge in the picture"), widget=forms.RadioSelect, initial="left",
                             choices=[("left", _("left")), ("right", _("right"))])  # fmt: skip
    camera = forms.ChoiceField(label=_("Camera"), widget=forms.RadioSelect, initial="held", choices=[
        ("held", _("held")), ("on a stand", _("on a stand"))])  # fmt: skip
    length = QuantityField("length", label=_("Known length between marks 1 and 2"), required=False, help_text=_(
        "With its unit, for instance 160 mm. Without it angles are told, and no plunge."))  # fmt: skip
    readout = QuantityField("time", label=_("Time of the shutter from first to last line"), required=False,
                            help_text=_("For instance 18 ms, where it is known."))  # fmt: skip
    marks_file = forms.FileField(label=_("Or a marks file"), required=False, help_text=_(
        "As the command line reads it: it takes the place of everything placed here."))  # fmt: skip

    def __init__(self, *arguments: Any, **options: Any) -> None:
        super().__init__(*arguments, **options)
        self.fields["reference"] = forms.CharField(required=False, max_length=40, widget=forms.HiddenInput)
        for number in range(1, MOST_PLACED + 1):
            self._add_mark(number)

    def _add_mark(self, number: int) -> None:
        kinds = [("", _("none")), ("dot", _("printed dot")), ("marker", _("printed marker")), ("patch", _("patch"))]
        bodies = [("section", _("section")), ("surface", _("surface")), ("background", _("does not move"))]
        self.fields[f"kind_{number}"] = forms.ChoiceField(label=_("Kind"), choices=kinds, required=False)
        self.fields[f"on_{number}"] = forms.ChoiceField(label=_("Fixed to"), choices=bodies, required=False)
        self.fields[f"name_{number}"] = forms.CharField(label=_("Name"), max_length=60, required=False)
        for axis, words in (("x", _("Across")), ("y", _("Down"))):
            self.fields[f"{axis}_{number}"] = forms.FloatField(
                label=words, required=False, min_value=0.0, max_value=20_000.0, localize=False,
                widget=forms.TextInput({"inputmode": "decimal"}),
            )  # fmt: skip
        self.fields[f"number_{number}"] = forms.IntegerField(
            label=_("Its number"), required=False, min_value=0, max_value=49,
            widget=forms.TextInput({"inputmode": "numeric"}),
        )  # fmt: skip

    @property
    def rows(self) -> list[dict[str, Any]]:
        """Give the fields of each mark together."""
        names = ("kind", "on", "name", "x", "y", "number")
        return [
            {"at": number, **{name: self[f"{name}_{number}"] for name in names}} for number in range(1, MOST_PLACED + 1)
        ]

    @property
    def settings(self) -> list[Any]:
        """Give the fields beside the marks."""
        return [self[name] for name in ("nose", "length", "camera", "time", "captured_at", "readout", "marks_file")]

    def clean_marks_file(self) -> str:
        """Read a marks file as text."""
        file = self.cleaned_data["marks_file"]
        if not file:
            return ""
        if file.size > LARGEST_MARKS:
            raise ValidationError(_now("It has more than 100 kB: a marks file is a short text."))
        try:
            return str(file.read().decode("utf-8"))
        except UnicodeDecodeError:
            raise ValidationError(_now("It is not a text in UTF-8.")) from None

    def clean(self) -> dict[str, Any]:
        """Write the marks file, and have it read as the command line would."""
        said = super().clean() or {}
        if self.errors:
            return said
        text = said.get("marks_file") or marks_text(self._placed(said))
        try:
            read_marks(text.encode())
        except InputRefused as refused:
            for each in refused.refusals:
                self.add_error(self._field_of(each.field), f"{each.field}: {sentence(each)}")
        said["text"] = text
        return said

    def _placed(self, said: dict[str, Any]) -> PlacedMarks:
        marks = [_mark(said, number) for number in range(1, MOST_PLACED + 1) if said.get(f"kind_{number}")]
        reference = re.fullmatch(r"([0-9.]+) ([0-9.]+)", said.get("reference", ""))
        return PlacedMarks(
            marks=marks,
            nose=said["nose"],
            camera=said["camera"],
            length=said["length"],
            between=tuple(mark.name for mark in marks[:2]),
            reference=(float(reference[1]), float(reference[2])) if reference else None,
            readout=said["readout"],
        )

    def _field_of(self, place: str) -> str | None:
        """Find the field of this form that a place in a marks file is about."""
        found = re.match(r"mark\[([0-9]+)\]", place)
        if found and not self.cleaned_data.get("marks_file"):
            used = [number for number in range(1, MOST_PLACED + 1) if self.cleaned_data.get(f"kind_{number}")]
            return f"kind_{used[int(found[1])]}" if int(found[1]) < len(used) else None
        return {"scale.length": "length", "readout": "readout"}.get(place)

    @property
    def asked(self) -> Asked:
        """Give what is asked."""
        time = super().asked
        return Asked({}, time.captured_at, time.time_unknown, self.cleaned_data["text"])


def _mark(said: dict[str, Any], number: int) -> Placed:
    return Placed(
        name=said[f"name_{number}"] or f"mark {number}",
        kind=said[f"kind_{number}"],
        on=said[f"on_{number}"] or "section",
        x=said[f"x_{number}"],
        y=said[f"y_{number}"],
        number=said[f"number_{number}"],
    )
