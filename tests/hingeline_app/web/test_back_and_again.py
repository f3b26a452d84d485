"""Back in the browser and sent again, or loaded again after a save: no second entry, and nothing changed in silence."""

from __future__ import annotations

import pytest

from hingeline_app.records.models import Entry, Person
from tests.hingeline_app.web.conftest import Fenholt

pytestmark = pytest.mark.django_db
PAGE = "/workshop/people/add"


def entries() -> int:
    return Entry.objects.filter(chain="records").count()


@pytest.mark.fault("F16")
def test_a_page_loaded_again_after_a_save_saves_nothing(fenholt: Fenholt) -> None:
    """A save is answered with the way to a page that only shows: loading that again sends nothing."""
    client = fenholt.client("mara")
    answer = client.post(PAGE, {"name": "Ida Quill", "initials": "IQ", "command_key": "k"})
    assert answer.status_code == 302
    before = entries()
    assert [client.get(answer["Location"]).status_code for _ in range(3)] == [200] * 3
    assert entries() == before


@pytest.mark.fault("F16")
def test_back_and_sent_as_it_was_is_the_entry_of_before(fenholt: Fenholt) -> None:
    """The form that the browser kept has its key of then: it is answered as done, and written once."""
    client = fenholt.client("mara")
    said = {"name": "Ida Quill", "initials": "IQ", "command_key": "k"}
    first = client.post(PAGE, said)
    before = entries()
    again = client.post(PAGE, said)
    assert (again.status_code, again["Location"]) == (302, first["Location"])
    assert entries() == before


@pytest.mark.fault("F15", "F16")
def test_back_and_sent_with_something_changed_is_refused_in_words(fenholt: Fenholt) -> None:
    """One key stands for one entry: the first stands, nothing is saved, and the page says what to do."""
    client = fenholt.client("mara")
    client.post(PAGE, {"name": "Ida Quill", "initials": "IQ", "command_key": "k"})
    before = entries()
    again = client.post(PAGE, {"name": "Ida Quilt", "initials": "IQ", "command_key": "k"})
    assert again.status_code == 422
    assert b"what was sent first stands" in again.content
    assert entries() == before
    assert [each.name for each in Person.objects.filter(name__startswith="Ida")] == ["Ida Quill"]
