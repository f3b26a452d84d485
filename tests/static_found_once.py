"""The files that go beside the pages are looked for once in a process: each test client would look for all again."""

from __future__ import annotations

from typing import Any

from whitenoise.middleware import WhiteNoiseMiddleware


def find_static_files_once() -> None:
    """Let the first client look, and give every later one what it found; a file is still read when it is asked for."""
    look = WhiteNoiseMiddleware.add_files_from_finders
    known: dict[tuple[str, Any], dict[str, Any]] = {}

    def found(self: Any) -> None:
        kind = (self.static_prefix, self.max_age)
        if kind not in known:
            before, self.files = self.files, {}
            look(self)
            known[kind], self.files = self.files, before
        self.files.update(known[kind])

    WhiteNoiseMiddleware.add_files_from_finders = found
