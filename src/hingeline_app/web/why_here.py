"""Why a job is here, in the reader's language: what was chosen of the list is said anew, what was typed stays."""

from __future__ import annotations

from functools import cache
from typing import Any

from django import template
from django.conf import settings
from django.utils.translation import override

from hingeline_app.said import AsTyped
from hingeline_app.web.forms.jobs import OTHER, WHY

register = template.Library()


@register.filter
def why_words(job: Any) -> AsTyped:
    """Give why a job is here; ``job`` says what was chosen (``why``, or among its details) and the words of then."""
    chosen, words = _chosen(job), str(job.why_here)
    label, _between, typed = words.partition(": ")
    if chosen == OTHER or label not in _labels(chosen):
        return AsTyped(words)
    return AsTyped(f"{WHY[chosen]}: {typed}" if typed else WHY[chosen])


@register.filter
def title_words(title: str) -> AsTyped:
    """Give the title of a work order: it begins with what was chosen of the list when its jobs were opened.

    A title does not say which choice that was: the words of one in any language of the pages are taken for it.
    """
    label, _between, typed = str(title).partition(": ")
    chosen = next((each for each in WHY if each != OTHER and label in _labels(each)), None)
    if chosen is None:
        return AsTyped(str(title))
    return AsTyped(f"{WHY[chosen]}: {typed}" if typed else WHY[chosen])


def _chosen(job: Any) -> str:
    """Give what was chosen of the list; a line of a list says it itself, a whole job among its details."""
    found = job.why if hasattr(job, "why") else job.details.get("why")
    return found if isinstance(found, str) else ""


@cache
def _labels(chosen: str) -> frozenset[str]:
    """Give the words of a choice in each language of the pages: one of them was written when the job was opened."""
    words = set()
    for language, _name in settings.LANGUAGES:
        with override(language):
            words.add(str(WHY.get(chosen, "")))
    return frozenset(words - {""})
