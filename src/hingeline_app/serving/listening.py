"""The web server itself: processes of eight threads, workers beside them, TLS with the newest certificate."""

from __future__ import annotations

import ssl
from collections.abc import Callable
from typing import Any

from gunicorn.app.base import BaseApplication

from hingeline_app.serving.certificate import ServerCertificate
from hingeline_app.serving.options import ServeOptions
from hingeline_app.serving.workers_kept import WorkersKept

THREADS = 8
CLEAN_STOP_SECONDS = 30


class PagesServer(BaseApplication):  # type: ignore[misc]
    """The pages, as the web server runs them."""

    def __init__(self, options: dict[str, Any]) -> None:
        self._options = options
        super().__init__()

    def load_config(self) -> None:
        """Hand our options over; no file and no variable of the surroundings counts."""
        for name, value in self._options.items():
            self.cfg.set(name, value)

    def load(self) -> Any:
        """Load the pages, in the process that serves them."""
        from hingeline_app.web.wsgi import application

        return application


def listen(options: ServeOptions, certificate: ServerCertificate | None, say: Callable[[str], None]) -> int:
    """Serve until a signal says stop."""
    kept = WorkersKept(options.workers, options.data, say)
    kept.start()
    try:
        PagesServer(server_options(options, certificate)).run()
    except SystemExit as left:
        return left.code if isinstance(left.code, int) else 0
    finally:
        kept.end()
    return 0


def server_options(options: ServeOptions, certificate: ServerCertificate | None) -> dict[str, Any]:
    """Give the web server's options."""
    from hingeline_app.serving.beside import start_beside

    chosen: dict[str, Any] = {
        "bind": options.binding,
        "workers": options.processes,
        "threads": THREADS,
        "worker_class": "hingeline_app.serving.slow_clients.UnhurriedWorker",
        "proc_name": "hingeline",
        "graceful_timeout": CLEAN_STOP_SECONDS,
        "timeout": 120,
        "keepalive": 5,
        "limit_request_line": 4096,
        "limit_request_fields": 60,
        "forwarded_allow_ips": "",
        "accesslog": None,
        "loglevel": "warning",
        "post_worker_init": lambda _worker: start_beside(options),
    }
    if certificate:
        chosen |= {
            "certfile": str(certificate.certificate),
            "keyfile": str(certificate.key),
            "ssl_context": newest_context(certificate),
        }
    return chosen


def newest_context(certificate: ServerCertificate) -> Callable[..., ssl.SSLContext]:
    """Give a maker of contexts that reads the certificate anew only when its file changed."""
    seen: dict[str, Any] = {}

    def context(_configuration: Any, _usual: Callable[[], ssl.SSLContext]) -> ssl.SSLContext:
        changed = certificate.certificate.stat().st_mtime_ns
        if seen.get("changed") != changed:
            seen.update(changed=changed, context=certificate.context())
        found: ssl.SSLContext = seen["context"]
        return found

    return context
