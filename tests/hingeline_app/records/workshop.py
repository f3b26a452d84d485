"""The Fenholt workshop for the tests: its people, each with an account, made through the acts themselves."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.rights import confirm_right, give_right
from hingeline_app.records.actions.workshop import set_up_workshop
from hingeline_app.records.models import Person, Workshop
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, ENGINEER, OWNER, SECOND_INSPECTOR
from hingeline_app.records.write_door import Actor

PASSWORD = "hinge line before lunch"
CAST = {
    "anna": ("Anna Berg", "AB", ENGINEER),
    "bo": ("Bo Lind", "BL", SECOND_INSPECTOR),
    "cy": ("Cy Vale", "CV", CERTIFYING),
    "dora": ("Dora Holm", "DH", OWNER),
    "ed": ("Ed Storm", "ES", ADMINISTRATOR),
}


@dataclass
class Fenholt:
    """The workshop and who acts in it; ``fred`` set it up."""

    workshop: Workshop
    fred: Actor
    actors: dict[str, Actor] = field(default_factory=dict)

    def __getattr__(self, name: str) -> Actor:
        # By its place in the instance: a copy that is being read back has no cast yet, and asks for other names first.
        try:
            return self.__dict__["actors"][name]  # type: ignore[no-any-return]
        except KeyError:
            raise AttributeError(name) from None


def fenholt() -> Fenholt:
    """Set the workshop up with one person for each role."""
    founded = set_up_workshop(
        "Fenholt", person="Fred Fenholt", initials="FF", sign_in_name="fred", password=PASSWORD, zone="UTC"
    )
    shop = Fenholt(founded.workshop, Actor(founded.workshop, founded.person, founded.account))
    for number, (short, (name, initials, role)) in enumerate(reversed(CAST.items())):
        shop.actors[short] = with_role(shop, name, initials, role, f"FH.66.{number}")
    return shop


def with_role(shop: Fenholt, name: str, initials: str, role: str, licence: str = "") -> Actor:
    """Add a person with a role and an account."""
    person = added(shop.fred, name, initials, licence)
    right = give_right(shop.fred, person.pk, role)
    if role == CERTIFYING:
        confirm_right(shop.ed, right.pk)
    return Actor(shop.workshop, person, add_account(shop.fred, person.pk, initials, PASSWORD))


def added(actor: Actor, name: str, initials: str, licence: str = "", expires: date | None = None) -> Person:
    """Add a person without a role."""
    return add_person(actor, name, initials, licence_number=licence, licence_expires=expires)


def no_bench(_viewer: Person, _number: int) -> list[str]:
    """Find nothing in the way: for tests of what the records refuse by themselves."""
    return []
