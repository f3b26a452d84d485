"""A second database for a while: a copy that is checked, a place that records are moved to."""

from __future__ import annotations

import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from django.db import connections


@contextmanager
def other_database(described: Mapping[str, Any]) -> Iterator[str]:
    """Open another database under a name of its own, and close and forget it afterwards."""
    alias = f"other-{uuid.uuid4().hex[:12]}"
    filled = connections.configure_settings({"default": {}, alias: dict(described)})
    connections.databases[alias] = filled[alias]
    try:
        yield alias
    finally:
        connections[alias].close()
        del connections[alias]
        del connections.databases[alias]
