"""What is asked where a study is started."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from hingeline_app.studies.runs import FEWEST, MOST
from hingeline_app.web.forms.page_form import PageForm


class StudyForm(PageForm):
    """How many models, and the seed."""

    draws = forms.IntegerField(
        label=_("Models to draw"),
        min_value=FEWEST,
        max_value=MOST,
        initial=10_000,
        help_text=_("From 100 to 1000000. 10000 take seconds, a million some minutes."),
    )
    seed = forms.IntegerField(
        label=_("Seed"),
        min_value=0,
        max_value=2**32 - 1,
        initial=0,
        help_text=_("The same seed draws the same models again, to the last digit."),
    )
