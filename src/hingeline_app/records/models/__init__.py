"""The tables of the records. Nobody outside ``hingeline_app.records`` imports them."""

from hingeline_app.records.models.drafts import Draft
from hingeline_app.records.models.ledger import Entry
from hingeline_app.records.models.passkeys import Passkey
from hingeline_app.records.models.people import Account, Person, Right, Tablet
from hingeline_app.records.models.workshop import Workshop

__all__ = ["Account", "Draft", "Entry", "Passkey", "Person", "Right", "Tablet", "Workshop"]
