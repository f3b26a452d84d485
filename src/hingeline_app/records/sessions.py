"""Sessions in the database, written in turn with everything else, so that no save is told "locked"."""

from __future__ import annotations

from typing import Any

from django.contrib.sessions.backends.db import SessionStore as InDatabase

from hingeline_app.records.locking import one_writer


class SessionStore(InDatabase):
    """Django's own, behind the one lock of all writers."""

    def save(self, must_create: bool = False) -> None:
        """Save in turn; a session without a key is created, which comes back here with one."""
        if self.session_key is None:
            self.create()
            return
        with one_writer():
            super().save(must_create)

    def delete(self, session_key: str | None = None) -> None:
        """Delete in turn."""
        with one_writer():
            super().delete(session_key)

    @classmethod
    def get_model_class(cls) -> Any:
        """Keep them where Django keeps them."""
        return InDatabase.get_model_class()

    @classmethod
    def clear_expired(cls) -> None:
        """Take out those that are over."""
        with one_writer():
            super().clear_expired()
