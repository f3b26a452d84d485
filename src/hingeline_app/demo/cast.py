"""The people of the invented workshop: who they are, what they may do, and how they sign in."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple
from uuid import UUID

from hingeline_app.records.actions.accounts import add_account, set_pin
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.rights import confirm_right, give_right
from hingeline_app.records.actions.tablets import enrol_tablet
from hingeline_app.records.actions.workshop import set_up_workshop
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, ENGINEER, OWNER, SECOND_INSPECTOR
from hingeline_app.records.write_door import Actor

PASSWORD = "hinge line before lunch"
TABLET = "Bench 1"


class Role(NamedTuple):
    """One person of the workshop."""

    short: str
    name: str
    initials: str
    roles: tuple[str, ...]
    licence: str
    pin: str


CAST = (
    Role("ruth", "Ruth Fenholt", "RF", (ADMINISTRATOR, CERTIFYING), "FH.66.001", "204081"),
    Role("mara", "Mara Tarrow", "MT", (ENGINEER, ADMINISTRATOR), "FH.66.014", "730418"),
    Role("jon", "Jon Ashby", "JA", (ENGINEER,), "", "518290"),
    Role("ines", "Ines Holt", "IH", (SECOND_INSPECTOR,), "FH.66.022", "946137"),
    Role("dora", "Dora Lind", "DL", (OWNER,), "", "385502"),
)


@dataclass
class Workshop:
    """The workshop and who acts in it, by short name."""

    actors: dict[str, Actor] = field(default_factory=dict)
    tablet_token: str = ""

    def __getattr__(self, short: str) -> Actor:
        try:
            return self.actors[short]
        except KeyError:
            raise AttributeError(short) from None

    def person(self, short: str) -> UUID:
        """Give a person's identifier."""
        found = self.actors[short].person
        assert found is not None, "everybody of the cast is a person"
        return found.pk


def found_workshop() -> Workshop:
    """Set the workshop up with its people, each with password and PIN, and enrol one tablet."""
    first, *others = CAST
    founded = set_up_workshop(
        "Fenholt workshop", person=first.name, initials=first.initials, sign_in_name=first.short, password=PASSWORD,
        approval_number="FH.145.0001 (invented)", authority="Invented Aviation Authority", zone="Europe/Berlin",
    )  # fmt: skip
    shop = Workshop({first.short: Actor(founded.workshop, founded.person, founded.account)})
    for each in others:
        _join(shop, each)
    _may_certify(shop, first)
    for each in CAST:
        actor = shop.actors[each.short]
        assert actor.account is not None, "everybody of the cast has an account"
        set_pin(actor, actor.account.pk, each.pin)
    shop.tablet_token = enrol_tablet(shop.ruth, TABLET).token
    return shop


def _join(shop: Workshop, role: Role) -> None:
    person = add_person(shop.ruth, role.name, role.initials, licence_number=role.licence)
    account = add_account(shop.ruth, person.pk, role.short, PASSWORD)
    for each in role.roles:
        give_right(shop.ruth, person.pk, each)
    shop.actors[role.short] = Actor(shop.ruth.workshop, person, account)


def _may_certify(shop: Workshop, role: Role) -> None:
    """Let the founder certify: entered by one administrator, confirmed by the other."""
    from hingeline_app.records.actions.people import correct_person

    correct_person(
        shop.mara, shop.person(role.short), "licence entered", name=role.name, initials=role.initials,
        licence_number=role.licence, licence_expires=None,
    )  # fmt: skip
    right = give_right(shop.mara, shop.person(role.short), CERTIFYING)
    if right.confirmed_by_id is None:
        confirm_right(shop.ruth, right.pk)
