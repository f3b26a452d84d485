"""What a server is started with."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

TLS_PORT, LOOPBACK_PORT = 8443, 8480
EVERYWHERE, THIS_MACHINE = "0.0.0.0", "127.0.0.1"


@dataclass(frozen=True)
class ServeOptions:
    """Folder, place to listen, whether for this machine alone, and by how many processes and workers."""

    data: Path
    port: int | None = None
    host: str | None = None
    loopback: bool = False
    backups: Path | None = None
    processes: int = 1
    workers: int = 0
    read_only: bool = False

    @property
    def listening_port(self) -> int:
        """Give the port, the usual one where none was named."""
        return self.port if self.port is not None else LOOPBACK_PORT if self.loopback else TLS_PORT

    @property
    def listening_host(self) -> str:
        """Give the address to listen at: all of the machine's, or its own loopback."""
        return THIS_MACHINE if self.loopback else self.host or EVERYWHERE

    @property
    def binding(self) -> str:
        """Give host and port as a server takes them."""
        host = self.listening_host
        return f"[{host}]:{self.listening_port}" if ":" in host else f"{host}:{self.listening_port}"
