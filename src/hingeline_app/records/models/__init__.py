"""The tables of the records. Nobody outside ``hingeline_app.records`` imports them."""

from hingeline_app.records.models.ledger import Entry
from hingeline_app.records.models.people import Account, Person, Right, Tablet
from hingeline_app.records.models.workshop import Workshop

__all__ = ["Account", "Entry", "Person", "Right", "Tablet", "Workshop"]
