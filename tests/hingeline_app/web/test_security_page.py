"""The security log: what happened at the door stands in it, nothing secret does, and only administrators read it."""

from __future__ import annotations

import pytest
from django.test import Client
from pytest_django import DjangoAssertNumQueries

from hingeline_app.records.queries.security import security_log
from tests.hingeline_app.web.conftest import PASSWORD, Fenholt

pytestmark = pytest.mark.django_db


def test_who_was_turned_away_stands_in_it_without_what_was_typed(fenholt: Fenholt) -> None:
    Client().post("/sign-in/password", {"sign_in_name": "jon", "password": "a wrong guess"})
    page = fenholt.client("mara").get("/workshop/security").content.decode()
    assert "turned away" in page
    assert "a wrong guess" not in page
    assert PASSWORD not in page


def test_a_kind_is_chosen_and_an_odd_page_number_is_no_fault(fenholt: Fenholt) -> None:
    client = fenholt.client("mara")
    page = client.get("/workshop/security?kind=signed in&before=99999999999999999").content.decode()
    assert "Mara Tarrow" in page
    assert client.get("/workshop/security?before=-1&kind=nothing").status_code == 200


def test_whoever_may_not_read_it_gets_nothing(fenholt: Fenholt) -> None:
    assert fenholt.client("jon").get("/workshop/security").status_code == 403
    assert fenholt.mate.person is not None
    assert security_log(fenholt.mate.person) == []


def test_it_costs_the_same_queries_however_long_it_is(
    fenholt: Fenholt, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for _ in range(5):
        fenholt.client("jon")
    client = fenholt.client("mara")
    client.get("/workshop/security")
    with django_assert_num_queries(6):
        client.get("/workshop/security")
