"""How the operating system holds a process to its limits: called first thing, before anything else is loaded.

Memory, processor time, the size of files and their number are limits of the process. A network of its
own, without any connection, is made where the kernel lets an ordinary user do so.
"""

from __future__ import annotations

import ctypes
import sys
from contextlib import suppress
from typing import Any

NEW_USER, NEW_NETWORK = 0x10000000, 0x40000000  # as in the kernel's sched.h
NO_NEW_PRIVILEGES = 38  # as in the kernel's prctl.h


def can_confine() -> bool:
    """Say whether this operating system enforces the limits."""
    return sys.platform.startswith("linux")


def confine(limits: dict[str, Any]) -> bool:
    """Hold this process to the limits for good, and give whether it is cut off from the network.

    Parameters
    ----------
    limits : dict
        ``memory``, ``cpu_seconds``, ``open_files``.
    """
    import resource

    cpu = int(limits["cpu_seconds"])
    for kind, soft, hard in (
        (resource.RLIMIT_AS, int(limits["memory"]), int(limits["memory"])),
        (resource.RLIMIT_CPU, cpu, cpu + 1),
        (resource.RLIMIT_FSIZE, 0, 0),
        (resource.RLIMIT_CORE, 0, 0),
        (resource.RLIMIT_NOFILE, int(limits["open_files"]), int(limits["open_files"])),
    ):
        highest = resource.getrlimit(kind)[1]
        if highest != resource.RLIM_INFINITY:
            soft, hard = min(soft, highest), min(hard, highest)
        resource.setrlimit(kind, (soft, hard))
    return _cut_off()


def _cut_off() -> bool:
    """Leave the network, and give up ever gaining a right; some kernels allow neither."""
    with suppress(OSError, AttributeError):
        kernel = ctypes.CDLL(None)
        kernel.prctl(NO_NEW_PRIVILEGES, 1, 0, 0, 0)
        return bool(kernel.unshare(NEW_USER | NEW_NETWORK) == 0)
    return False
