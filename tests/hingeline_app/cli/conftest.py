"""A way to run the command that keeps its fault records in the test's own folder."""

from tests.faults.running import runner

__all__ = ["runner"]
