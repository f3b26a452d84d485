"""What a search of the records asks."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.records.queries.records_search import Wanted
from hingeline_app.web.forms.people import DAY


class SearchForm(forms.Form):
    """Aircraft, surface, person, days."""

    use_required_attribute = False

    aircraft = forms.CharField(label=_("Aircraft"), required=False, max_length=60)
    surface = forms.CharField(label=_("Surface"), required=False, max_length=120)
    person = forms.CharField(label=_("Person"), required=False, max_length=120)
    since = forms.DateField(label=_("From"), required=False, widget=DAY)
    until = forms.DateField(label=_("To"), required=False, widget=DAY)

    def __init__(self, *arguments: object, **options: object) -> None:
        super().__init__(*arguments, **options)  # type: ignore[arg-type]
        self.label_suffix = ""
        for field in self.fields.values():
            field.always = True  # type: ignore[attr-defined]

    def wanted(self) -> Wanted:
        """Give what is looked for; a day that cannot be read is not asked, and said."""
        self.is_valid()
        said = self.cleaned_data
        words = {name: " ".join(str(said.get(name) or "").split()) for name in ("aircraft", "surface", "person")}
        return Wanted(**words, since=said.get("since"), until=said.get("until"))
