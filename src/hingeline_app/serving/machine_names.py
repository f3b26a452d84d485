"""By which names and addresses this machine is reached on the workshop's network."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Iterator
from dataclasses import dataclass

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
# Documentation addresses (RFC 5737, RFC 3849): asking for a way there sends nothing.
FAR_AWAY = ((socket.AF_INET, "192.0.2.1"), (socket.AF_INET6, "2001:db8::1"))


@dataclass(frozen=True)
class MachineNames:
    """Names and addresses, each once, in the order in which they are offered."""

    names: tuple[str, ...]
    addresses: tuple[Address, ...]

    @property
    def spoken(self) -> str:
        """Give the name to open from a tablet: passkeys need a name, not an address."""
        return self.names[0]

    def listened_to(self, host: str) -> MachineNames:
        """Leave out the addresses that a server listening at ``host`` does not answer at."""
        named = ipaddress.ip_address(host)
        kept = [each for each in self.addresses if each.version == named.version]
        return MachineNames(self.names, tuple(kept if named.is_unspecified else [named]))

    def hosts(self) -> list[str]:
        """Give all as they stand in an address line."""
        return [*self.names, *(f"[{each}]" if each.version == 6 else str(each) for each in self.addresses)]


def names_of_this_machine() -> MachineNames:
    """Ask the machine for its own names and addresses; nothing is sent."""
    own = socket.gethostname().strip(".").lower()
    names = [f"{own.partition('.')[0]}.local", own, socket.getfqdn().strip(".").lower(), "localhost"]
    wanted = tuple(dict.fromkeys(name for name in names if _is_name(name)))
    return MachineNames(wanted, tuple(dict.fromkeys([*_own_addresses(own), *_loopbacks()])))


def _is_name(text: str) -> bool:
    letters = text.replace(".", "").replace("-", "")
    return letters.isascii() and letters.isalnum() and not letters.isdigit() and not text.endswith(".arpa")


def _loopbacks() -> list[Address]:
    return [ipaddress.ip_address("127.0.0.1"), ipaddress.ip_address("::1")]


def _own_addresses(own: str) -> Iterator[Address]:
    for family, far in FAR_AWAY:
        yield from _address_towards(family, far)
    try:
        found = socket.getaddrinfo(own, None, type=socket.SOCK_STREAM)
    except OSError:
        return
    for *_rest, where in found:
        yield from _usable(str(where[0]))


def _address_towards(family: socket.AddressFamily, far: str) -> Iterator[Address]:
    try:
        with socket.socket(family, socket.SOCK_DGRAM) as asked:
            asked.connect((far, 9))
            yield from _usable(str(asked.getsockname()[0]))
    except OSError:
        return


def _usable(text: str) -> Iterator[Address]:
    address = ipaddress.ip_address(text.partition("%")[0])
    if not (address.is_loopback or address.is_unspecified or address.is_multicast or "%" in text):
        yield address
