"""The workshop's own certificate authority: made once, known to the tablets, good for this workshop's names alone.

Its certificate names what it may vouch for (RFC 5280, 4.2.1.10): names under ``.local`` and
of this machine, and private addresses. A thief of its key cannot pose as anybody else.
"""

from __future__ import annotations

import ipaddress
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from hingeline_app.serving.kept_files import kept_whole
from hingeline_app.serving.machine_names import Address, MachineNames

AUTHORITY_YEARS = 20
Range = ipaddress.IPv4Network | ipaddress.IPv6Network
# Clocks of tablets run ahead and behind.
BACKDATED = timedelta(days=1)
PRIVATE_RANGES = (
    "10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "100.64.0.0/10", "127.0.0.0/8",
    "fc00::/7", "fe80::/10", "::1/128",
)  # fmt: skip
PRIVATE_NAMES = ("local", "localhost", "home.arpa", "internal", "lan")


@dataclass(frozen=True)
class KeyPair:
    """A certificate and the key that belongs to it."""

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey


def the_authority(folder: Path, names: MachineNames, now: datetime) -> KeyPair:
    """Read the authority; make it the first time."""
    certificate, key = folder / "authority.crt", folder / "authority.key"
    if not certificate.exists():
        write_pair(_new_authority(names, now), certificate, key)
    return read_pair(certificate, key)


def fingerprint(certificate: x509.Certificate) -> str:
    """Give the SHA-256 fingerprint as tablets show it: pairs of signs."""
    return certificate.fingerprint(hashes.SHA256()).hex(" ").upper()


def may_vouch(authority: x509.Certificate, names: MachineNames) -> MachineNames:
    """Leave out what the authority's certificate does not let it vouch for."""
    allowed = authority.extensions.get_extension_for_class(x509.NameConstraints).value.permitted_subtrees or []
    trees = [each.value for each in allowed if isinstance(each, x509.DNSName)]
    ranges = [ipaddress.ip_network(str(each.value)) for each in allowed if isinstance(each, x509.IPAddress)]
    return MachineNames(
        tuple(name for name in names.names if any(name == tree or name.endswith(f".{tree}") for tree in trees)),
        tuple(address for address in names.addresses if _lies_in(address, ranges)),
    )


def _lies_in(address: Address, ranges: list[Range]) -> bool:
    return any(address in each for each in ranges)


def _new_authority(names: MachineNames, now: datetime) -> KeyPair:
    key = ec.generate_private_key(ec.SECP256R1())
    subject = name_of(f"Hingeline, workshop authority on {names.spoken.partition('.')[0]}")
    public = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    builder = (
        dated(subject, subject, key, now, timedelta(days=365 * AUTHORITY_YEARS))
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(usage(signs_certificates=True), critical=True)
        .add_extension(public, critical=False)
        .add_extension(_vouches_for(names), critical=True)
    )
    return KeyPair(builder.sign(key, hashes.SHA256()), key)


def _vouches_for(names: MachineNames) -> x509.NameConstraints:
    trees = dict.fromkeys([*PRIVATE_NAMES, *names.names])
    ranges = [ipaddress.ip_network(each) for each in PRIVATE_RANGES]
    permitted: list[x509.GeneralName] = [x509.DNSName(each) for each in trees]
    permitted += [x509.IPAddress(each) for each in ranges]
    return x509.NameConstraints(permitted_subtrees=permitted, excluded_subtrees=None)


def name_of(common: str) -> x509.Name:
    """Give a certificate's name; 64 signs is its longest."""
    return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, common[:64])])


def dated(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, now: datetime, lasts: timedelta
) -> x509.CertificateBuilder:
    """Begin a certificate: whose, by whom, from when to when."""
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - BACKDATED)
        .not_valid_after(now + lasts)
    )


def usage(*, signs_certificates: bool) -> x509.KeyUsage:
    """Say what a key is for: certificates, or a server's talk."""
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=signs_certificates,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )


def for_servers() -> x509.ExtendedKeyUsage:
    """Say that a certificate is a server's."""
    return x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH])


def write_pair(pair: KeyPair, certificate: Path, key: Path) -> None:
    """Write the key, then the certificate: whoever sees the certificate finds the key."""
    encoded = pair.key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    kept_whole(key, encoded)
    kept_whole(certificate, pair.certificate.public_bytes(serialization.Encoding.PEM))


def read_pair(certificate: Path, key: Path) -> KeyPair:
    """Read a certificate and its key."""
    private = serialization.load_pem_private_key(key.read_bytes(), password=None)
    assert isinstance(private, ec.EllipticCurvePrivateKey), f"{key} holds another kind of key"
    return KeyPair(x509.load_pem_x509_certificate(certificate.read_bytes()), private)
