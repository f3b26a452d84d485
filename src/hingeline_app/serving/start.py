"""Starting the pages of a workshop: look, bring the database up to date, say where, serve until told to stop."""

from __future__ import annotations

import ipaddress
import socket
from collections.abc import Callable
from pathlib import Path

from hingeline.errors import InputRefused
from hingeline_app.serving.certificate import ServerCertificate, certificate_in
from hingeline_app.serving.machine_names import MachineNames, names_of_this_machine
from hingeline_app.serving.options import ServeOptions
from hingeline_app.serving.surroundings import set_up_django

Say = Callable[[str], None]


def serve(options: ServeOptions, say: Say) -> int:
    """Serve until stopped; give the exit status.

    Raises
    ------
    InputRefused
        The folder cannot be written, or the port is taken.
    """
    _refuse_a_folder_that_cannot_be_written(options.data)
    _refuse_what_is_no_address(options.listening_host)
    _refuse_a_taken_port(options)
    certificate = None if options.loopback else certificate_in(options.data)
    names = certificate.names if certificate else MachineNames(("localhost",), names_of_this_machine().addresses[-2:])
    set_up_django(options.data, names.hosts(), loopback=options.loopback)
    _prepare(say)
    _announce(options, names, certificate, say)
    from hingeline_app.serving.listening import listen

    return listen(options, certificate)


def _refuse_a_folder_that_cannot_be_written(folder: Path) -> None:
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        trial = folder / ".trial"
        trial.touch()
        trial.unlink()
    except OSError as fault:
        remedy = f"Name another folder, or give this user the right to write there ({fault.strerror})."
        raise InputRefused.of("--data", str(folder), "a folder that can be written", remedy) from None


def _refuse_what_is_no_address(host: str) -> None:
    try:
        ipaddress.ip_address(host)
    except ValueError:
        remedy = "Give it as a number, or leave it out to listen at all."
        raise InputRefused.of("--host", host, "an address of this machine", remedy) from None


def _refuse_a_taken_port(options: ServeOptions) -> None:
    family = socket.AF_INET6 if ":" in options.listening_host else socket.AF_INET
    try:
        with socket.socket(family) as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            trial.bind((options.listening_host, options.listening_port))
    except OSError as fault:
        remedy = f"Stop what listens there, or name another port ({fault.strerror})."
        raise InputRefused.of("--port", options.binding, "a free port of this machine", remedy) from None


def _prepare(say: Say) -> None:
    """Bring the tables up to date; let go of the database before the server forks."""
    from django.core.management import call_command
    from django.db import connections

    call_command("migrate", interactive=False, verbosity=0)
    connections.close_all()


def _announce(options: ServeOptions, names: MachineNames, certificate: ServerCertificate | None, say: Say) -> None:
    from hingeline_app.records.set_up_code import set_up_code_if_needed

    scheme = "https" if certificate else "http"
    say("Hingeline serves this workshop's pages. Open one of:")
    for host in names.listened_to(options.listening_host).hosts():
        say(f"    {scheme}://{host}:{options.listening_port}/")
    if certificate:
        say("A tablet has to trust this workshop once: open /trust there and compare this fingerprint (SHA-256):")
        say(f"    {certificate.fingerprint}")
    code = set_up_code_if_needed()
    if code:
        say("This workshop is not set up yet. The set-up page asks for this code, once:")
        say(f"    {code}")
    say("Stop with Ctrl-C.")
