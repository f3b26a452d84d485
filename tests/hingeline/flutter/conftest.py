"""Compiled loops are kept beside the tests' environment, so that they are compiled once and not on every run."""

from __future__ import annotations

import os
import sys
from pathlib import Path

os.environ.setdefault("NUMBA_CACHE_DIR", str(Path(sys.prefix) / "compiled"))
