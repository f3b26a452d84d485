"""One spelling for one document: canonical JSON (RFC 8785), text composed (NFC)."""

from __future__ import annotations

import hashlib
import unicodedata
from collections.abc import Mapping
from typing import Any

import rfc8785

Document = Mapping[str, Any]


def canonical(document: Document) -> bytes:
    """Write a document in its one spelling.

    Raises
    ------
    ValueError
        It holds what has no JSON number (NaN, infinity, an integer beyond 2^53) or is no JSON at all.
    """
    return rfc8785.dumps(composed(document))


def composed(value: Any) -> Any:
    """Compose every text (NFC), so that two spellings of one name are one."""
    if isinstance(value, str):
        return unicodedata.normalize("NFC", value)
    if isinstance(value, Mapping):
        return {composed(key): composed(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [composed(each) for each in value]
    return value


def digest_of(data: bytes) -> str:
    """Give the SHA-256 digest as text."""
    return hashlib.sha256(data).hexdigest()
