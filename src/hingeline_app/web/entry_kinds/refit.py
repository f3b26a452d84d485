"""Entries of the step Refit."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hingeline_app.web.entry_kinds.told import Told

KINDS: dict[str, Callable[[Told], Any]] = {}
