"""The server's certificate: for the names it is reached by, renewed before it ends or when they change."""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec

from hingeline_app.serving.authority import (
    KeyPair,
    dated,
    fingerprint,
    for_servers,
    may_vouch,
    name_of,
    read_pair,
    the_authority,
    usage,
    write_pair,
)
from hingeline_app.serving.machine_names import MachineNames, names_of_this_machine

# Makers of tablets refuse a server's certificate that lasts longer than 825 days (Apple's rule of 2019).
LASTS = timedelta(days=397)
CERTIFICATES = Path("keys") / "tls"
RENEWED_BEFORE = timedelta(days=60)


@dataclass(frozen=True)
class ServerCertificate:
    """What the server shows, and what a tablet compares."""

    certificate: Path
    key: Path
    authority: Path
    fingerprint: str
    names: MachineNames
    ends: datetime

    def context(self) -> ssl.SSLContext:
        """Give what a TLS server speaks with: version 1.2 or later."""
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        context.minimum_version = ssl.TLSVersion.TLSv1_2
        context.load_cert_chain(self.certificate, self.key)
        return context


def certificate_in(data: Path) -> ServerCertificate:
    """Give the certificate of a folder's server, for this machine's names of now."""
    return the_certificate(data / CERTIFICATES, names_of_this_machine(), datetime.now(UTC))


def the_certificate(folder: Path, names: MachineNames, now: datetime) -> ServerCertificate:
    """Read the server's certificate; make it, or make it anew, where it does not serve any more."""
    authority = the_authority(folder, names, now)
    vouched = may_vouch(authority.certificate, names)
    paths = folder / "server.crt", folder / "server.key"
    if not _still_serves(*paths, authority, vouched, now):
        write_pair(_new_certificate(authority, vouched, now), *paths)
    ends = read_pair(*paths).certificate.not_valid_after_utc
    return ServerCertificate(*paths, folder / "authority.crt", fingerprint(authority.certificate), vouched, ends)


def _still_serves(certificate: Path, key: Path, authority: KeyPair, names: MachineNames, now: datetime) -> bool:
    if not (certificate.exists() and key.exists()):
        return False
    found = read_pair(certificate, key).certificate
    return (
        found.issuer == authority.certificate.subject
        and found.not_valid_before_utc <= now < found.not_valid_after_utc - RENEWED_BEFORE
        and set(_general_names(names)) <= set(_names_in(found))
    )


def _names_in(certificate: x509.Certificate) -> list[x509.GeneralName]:
    return list(certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value)


def _general_names(names: MachineNames) -> list[x509.GeneralName]:
    return [*map(x509.DNSName, names.names), *map(x509.IPAddress, names.addresses)]


def _new_certificate(authority: KeyPair, names: MachineNames, now: datetime) -> KeyPair:
    key = ec.generate_private_key(ec.SECP256R1())
    known = x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key())
    builder = (
        dated(name_of(names.spoken), authority.certificate.subject, key, now, LASTS)
        .add_extension(x509.SubjectAlternativeName(_general_names(names)), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(usage(signs_certificates=False), critical=True)
        .add_extension(for_servers(), critical=False)
        .add_extension(known, critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )
    return KeyPair(builder.sign(authority.key, hashes.SHA256()), key)
