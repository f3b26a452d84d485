"""How the laws draw their examples: the same on every run, so that a check is the same for everybody.

A campaign looks further: ``pytest --hypothesis-profile=campaign``.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

from tests.private_postgresql import Server, private_server

# A busy machine is no fault of a law.
settings.register_profile("house", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("campaign", deadline=None, max_examples=1000, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("house")


@pytest.fixture(scope="session")
def postgresql() -> Iterator[Server]:
    """A database server of this run's own."""
    with private_server() as server:
        yield server
