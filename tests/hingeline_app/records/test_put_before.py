"""What a test begins with is what the acts leave, though they left it before an earlier test."""

from __future__ import annotations

import pytest

from hingeline_app.records.actions.people import add_person
from hingeline_app.records.journal import read_lines
from hingeline_app.records.models import Entry
from hingeline_app.records.second_place import journal_of
from tests.hingeline_app.records.merle import Merle


@pytest.mark.parametrize("time", ["the first", "another"])
def test_the_copy_is_a_workshop_that_goes_on(job: Merle, time: str) -> None:
    """Chain and journal agree, also after one more act; of the copy before it nothing is left."""
    begun = Entry.objects.filter(chain="records").count()
    add_person(job.shop.fred, "Ulla Storm", "US")
    chain = list(Entry.objects.filter(chain="records").order_by("position").values_list("position", "digest"))
    assert [position for position, _ in chain] == list(range(1, begun + 2))
    lines = read_lines(journal_of(job.shop.workshop.pk, "records"))
    assert [(line.position, line.digest) for line in lines] == chain
