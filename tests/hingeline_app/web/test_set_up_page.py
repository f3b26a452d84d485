"""First run: what is refused beside the workshop is said, and takes nothing else with it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from hingeline_app.records.models import Account, Right, Tablet
from hingeline_app.records.roles import ADMINISTRATOR, ENGINEER
from hingeline_app.records.set_up_code import set_up_code_if_needed
from tests.hingeline_app.web.conftest import PASSWORD

pytestmark = pytest.mark.django_db


def test_a_refused_pin_takes_neither_the_role_nor_the_second_administrator_nor_the_tablet_with_it(
    db: Any, tmp_path: Path, settings: Any
) -> None:
    """What the page calls one thing is one thing: 123456 counts up, the rest was asked for and is there."""
    settings.DATA_FOLDER = tmp_path
    settings.JOURNAL_FOLDER, settings.BACKUP_FOLDER = tmp_path / "journal", tmp_path / "backups"
    said = {"code": str(set_up_code_if_needed()), "workshop": "Fenholt", "local_gravity": "9.81 m/s^2", "zone": "UTC",
            "language": "en", "name": "Mara Tarrow", "initials": "MT", "sign_in_name": "mara", "password": PASSWORD,
            "pin": "123456", "works_here": "on", "second_name": "Ruth Fenholt", "second_initials": "RF",
            "second_sign_in_name": "ruth", "second_password": PASSWORD, "tablet": "Bench 1"}  # fmt: skip
    answer = Client().post("/set-up", said, follow=True)
    assert answer.content.decode().count("One thing was not taken") == 1
    assert not Account.objects.get(sign_in_name="mara").pin
    roles = sorted(Right.objects.values_list("person__name", "role"))
    assert roles == [("Mara Tarrow", ADMINISTRATOR), ("Mara Tarrow", ENGINEER), ("Ruth Fenholt", ADMINISTRATOR)]
    assert Tablet.objects.get().name == "Bench 1"


@pytest.mark.parametrize(
    ("asked", "language"), [("fr-CH, fr;q=0.9, en;q=0.5", "fr"), ("de", "de"), ("it", "en"), ("", "en")]
)
def test_where_no_workshop_says_its_language_the_pages_are_in_the_one_that_the_browser_asks_for(
    db: Any, tmp_path: Path, settings: Any, asked: str, language: str
) -> None:
    """The field Accept-Language (RFC 9110, section 12.5.4); one that the pages do not have leaves English."""
    settings.DATA_FOLDER = tmp_path
    page = Client().get("/set-up", headers={"accept-language": asked}).content.decode()
    assert f'<html lang="{language}"' in page
    assert f'<option value="{language}" selected' in page, "what is proposed for the workshop"
