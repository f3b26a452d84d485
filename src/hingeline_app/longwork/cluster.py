"""The distributed engine, which is an extra: a scheduler somewhere, workers on any machine, reached by an address.

It runs whatever code reaches its port: on a network, only under certificates (docs/growth.md).
"""

from __future__ import annotations

import os
import platform
from collections.abc import Iterator, Mapping
from concurrent.futures import Executor
from contextlib import contextmanager
from typing import Any

import numpy as np

import hingeline
from hingeline.errors import InputRefused, MissingExtra

FOUND_WITHIN = 10
CERTIFICATES = "HINGELINE_CLUSTER_KEYS"
"""Folder with ``authority.pem``, ``certificate.pem`` and ``key.pem``, for an address that begins with tls."""


@contextmanager
def executor_of(address: str) -> Iterator[Executor]:
    """Reach a cluster, and let go of it at the end.

    Raises
    ------
    MissingExtra
        What reaches it is not installed.
    InputRefused
        Nobody answers there, no worker is there, or a worker is not of this version.
    """
    try:
        import distributed
    except ImportError:
        raise MissingExtra('A cluster needs the package distributed: pip install "hingeline[cluster]".') from None
    try:
        client = _untyped(distributed).Client(
            address, timeout=FOUND_WITHIN, security=_security(address), set_as_default=False
        )
    except (OSError, ValueError) as fault:
        remedy = f"Start its scheduler, or name the right address ({type(fault).__name__})."
        raise InputRefused.of("--cluster", address, "a scheduler that answers, as tcp://host:8786", remedy) from None
    try:
        _refuse_other_versions(address, client.run(what_counts))
        yield client.get_executor()
    finally:
        client.close()


def what_counts() -> dict[str, str]:
    """Give the versions that a number can depend on."""
    return {"hingeline": hingeline.__version__, "numpy": np.__version__, "python": platform.python_version()}


def _refuse_other_versions(address: str, found: Mapping[str, Mapping[str, str]]) -> None:
    if not found:
        raise InputRefused.of("--cluster", address, "at least one worker", "Start a worker that names this scheduler.")
    ours = what_counts()
    for worker, theirs in found.items():
        if theirs != ours:
            value = ", ".join(f"{name} {version}" for name, version in theirs.items())
            expected = ", ".join(f"{name} {version}" for name, version in ours.items())
            raise InputRefused.of(f"worker {worker}", value, expected, "Install the same versions on every machine.")


def _security(address: str) -> Any:
    if not address.startswith("tls://"):
        return None
    import distributed

    folder = os.environ.get(CERTIFICATES, "")
    names = {"tls_ca_file": "authority.pem", "tls_client_cert": "certificate.pem", "tls_client_key": "key.pem"}
    paths = {name: os.path.join(folder, file) for name, file in names.items()}
    if not folder or not all(map(os.path.isfile, paths.values())):
        remedy = f"Set {CERTIFICATES} to a folder that holds them."
        raise InputRefused.of("--cluster", address, f"a folder with {', '.join(names.values())}", remedy)
    return _untyped(distributed).Security(require_encryption=True, **paths)


def _untyped(package: Any) -> Any:
    """Take a package whose functions say nothing of their types."""
    return package
