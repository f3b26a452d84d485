"""Which fields of a form are worth keeping as a draft: what was typed, never a secret."""

from __future__ import annotations

from django.http import QueryDict

SECRETS = ("password", "pin", "proof", "code", "csrfmiddlewaretoken", "assertion", "command_key")
LONGEST_FIELD, MOST_FIELDS = 5000, 200


def fields_worth_keeping(sent: QueryDict) -> dict[str, list[str]]:
    """Give the fields of a form without its secrets, within bounds."""
    kept = {
        name: [value[:LONGEST_FIELD] for value in values]
        for name, values in list(sent.lists())[:MOST_FIELDS]
        if not is_secret(name) and any(values)
    }
    return kept


def is_secret(name: str) -> bool:
    """Whether a field's value stays with the person."""
    return any(word in name.lower() for word in SECRETS)
