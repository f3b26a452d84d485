"""The workshop's own certificate authority: what it may vouch for, and when its server's certificate is made anew."""

from __future__ import annotations

import ipaddress
import socket
import ssl
import stat
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec

from hingeline_app.serving.authority import KeyPair, dated, may_vouch, name_of, read_pair, write_pair
from hingeline_app.serving.certificate import ServerCertificate, the_certificate
from hingeline_app.serving.machine_names import MachineNames, names_of_this_machine

NOW = datetime.now(UTC)
NAMES = MachineNames(("fenholt.local", "fenholt", "localhost"), (ipaddress.ip_address("192.168.4.20"),))


def issuer_of(made: ServerCertificate) -> x509.Certificate:
    return x509.load_pem_x509_certificate(made.authority.read_bytes())


def serial(made: ServerCertificate) -> int:
    return read_pair(made.certificate, made.key).certificate.serial_number


def test_the_keys_are_readable_by_this_user_alone(tmp_path: Path) -> None:
    made = the_certificate(tmp_path / "tls", NAMES, NOW)
    for key in (made.key, made.authority.with_suffix(".key")):
        assert stat.S_IMODE(key.stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "tls").stat().st_mode) == 0o700


def test_the_certificate_names_what_the_server_is_reached_by(tmp_path: Path) -> None:
    made = the_certificate(tmp_path, NAMES, NOW)
    found = read_pair(made.certificate, made.key).certificate
    names = found.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert names.get_values_for_type(x509.DNSName) == list(NAMES.names)
    assert names.get_values_for_type(x509.IPAddress) == list(NAMES.addresses)
    found.verify_directly_issued_by(issuer_of(made))


def test_tablets_do_not_refuse_it_for_lasting_too_long(tmp_path: Path) -> None:
    """At most 398 days from beginning to end. Source: Apple, limits on trusted certificates (2020), from memory."""
    found = read_pair(*_paths(the_certificate(tmp_path, NAMES, NOW))).certificate
    assert found.not_valid_after_utc - found.not_valid_before_utc <= timedelta(days=398)


def _paths(made: ServerCertificate) -> tuple[Path, Path]:
    return made.certificate, made.key


@pytest.mark.parametrize(
    ("later", "names", "anew"),
    [
        (timedelta(days=1), NAMES, False),
        (timedelta(days=330), NAMES, False),
        (timedelta(days=340), NAMES, True),
        (timedelta(days=1000), NAMES, True),
        (timedelta(days=1), MachineNames(NAMES.names, (ipaddress.ip_address("192.168.4.21"),)), True),
    ],
)
def test_it_is_made_anew_before_it_ends_or_when_the_names_change(
    tmp_path: Path, later: timedelta, names: MachineNames, anew: bool
) -> None:
    """The authority stays the same: a tablet is told once."""
    first = the_certificate(tmp_path, NAMES, NOW)
    before, authority = serial(first), first.fingerprint
    second = the_certificate(tmp_path, names, NOW + later)
    assert (serial(second) != before) == anew
    assert second.fingerprint == authority


def test_a_lost_server_key_is_made_anew(tmp_path: Path) -> None:
    first = the_certificate(tmp_path, NAMES, NOW)
    first.key.unlink()
    assert the_certificate(tmp_path, NAMES, NOW).fingerprint == first.fingerprint


def test_it_vouches_for_no_name_and_address_of_the_world(tmp_path: Path) -> None:
    """Public names and addresses are left out of the certificate, and the authority's own certificate forbids them."""
    world = MachineNames(("fenholt.local", "bank.example"), (ipaddress.ip_address("93.184.216.34"), *NAMES.addresses))
    made = the_certificate(tmp_path, NAMES, NOW)
    assert may_vouch(issuer_of(made), world) == MachineNames(("fenholt.local",), NAMES.addresses)
    limits = issuer_of(made).extensions.get_extension_for_class(x509.NameConstraints)
    assert limits.critical


def test_a_stolen_key_poses_as_nobody_else(tmp_path: Path) -> None:
    """A certificate for a bank, signed with the authority's own key, is refused by whoever trusts the workshop.

    Reference: OpenSSL's own check of name constraints, as Python's ssl calls it.
    """
    made = the_certificate(tmp_path, NAMES, NOW)
    listening = socket.create_server(("127.0.0.1", 0))
    threading.Thread(target=_answer, args=(listening, _as_a_bank(made, tmp_path), 1), daemon=True).start()
    trusting = ssl.create_default_context(cafile=str(made.authority))
    plain = socket.create_connection(listening.getsockname())
    with plain, pytest.raises(ssl.SSLCertVerificationError, match="permitted subtree violation"):
        trusting.wrap_socket(plain, server_hostname="bank.example")
    listening.close()


def _as_a_bank(made: ServerCertificate, folder: Path) -> ssl.SSLContext:
    authority = read_pair(made.authority, made.authority.with_suffix(".key"))
    key = ec.generate_private_key(ec.SECP256R1())
    names = x509.SubjectAlternativeName([x509.DNSName("bank.example")])
    known = x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key())
    builder = dated(name_of("bank.example"), authority.certificate.subject, key, NOW, timedelta(days=30))
    builder = builder.add_extension(names, critical=False).add_extension(known, critical=False)
    signed = KeyPair(builder.sign(authority.key, hashes.SHA256()), key)
    write_pair(signed, folder / "bank.crt", folder / "bank.key")
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(folder / "bank.crt", folder / "bank.key")
    return context


def test_a_client_that_trusts_the_authority_talks_to_the_server(tmp_path: Path) -> None:
    """Whoever took the authority in connects by name; whoever did not is refused by their own library."""
    made = the_certificate(tmp_path, MachineNames(("localhost",), ()), NOW)
    listening = socket.create_server(("127.0.0.1", 0))
    port = listening.getsockname()[1]
    threading.Thread(target=_answer, args=(listening, made.context(), 2), daemon=True).start()
    trusting = ssl.create_default_context(cafile=str(made.authority))
    plain = socket.create_connection(("127.0.0.1", port))
    with plain, trusting.wrap_socket(plain, server_hostname="localhost") as talk:
        assert talk.version() in {"TLSv1.2", "TLSv1.3"}
    with socket.create_connection(("127.0.0.1", port)) as plain, pytest.raises(ssl.SSLCertVerificationError):
        ssl.create_default_context().wrap_socket(plain, server_hostname="localhost")
    listening.close()


def _answer(listening: socket.socket, context: ssl.SSLContext, times: int) -> None:
    for _ in range(times):
        connection, _where = listening.accept()
        try:
            context.wrap_socket(connection, server_side=True).close()
        except OSError:
            connection.close()


def test_the_machine_has_a_name_that_passkeys_can_be_bound_to() -> None:
    """The first name is one, not a number; the machine's own loopback is among the addresses."""
    found = names_of_this_machine()
    assert not found.spoken.replace(".", "").isdigit()
    assert ipaddress.ip_address("127.0.0.1") in found.addresses


def test_only_addresses_that_are_listened_to_are_offered() -> None:
    two = MachineNames(("fenholt.local",), (ipaddress.ip_address("192.168.4.20"), ipaddress.ip_address("fd00::2")))
    assert two.listened_to("0.0.0.0").hosts() == ["fenholt.local", "192.168.4.20"]
    assert two.listened_to("192.168.4.20").hosts() == ["fenholt.local", "192.168.4.20"]
