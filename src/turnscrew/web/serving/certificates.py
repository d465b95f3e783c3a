"""Who vouches for this machine on the room's network?"""

import ipaddress
import os
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from turnscrew.errors import BadArgumentError

AUTHORITY_VALID = timedelta(days=5 * 365)
SERVER_VALID = timedelta(days=365)
RENEWED_BEFORE = timedelta(days=30)
# Clocks of tablets go wrong by hours; a certificate not valid yet locks them out.
BACKDATED = timedelta(days=1)


@dataclass(frozen=True)
class Certificates:
    """Where the papers of this machine are."""

    authority: Path
    chain: Path
    key: Path
    fingerprint: str
    is_new_authority: bool


def certificates(folder: Path, names: tuple[str, ...], now: datetime) -> Certificates:
    """Give certificates for names; made where missing, running out or for others."""
    wanted = [_name(name) for name in names]
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    authority, is_new = _authority(folder, wanted, now)
    _server(folder, authority, wanted, now)
    return Certificates(
        folder / "authority.crt",
        folder / "server.pem",
        folder / "server.key",
        authority.fingerprint(SHA256()).hex(":"),
        is_new,
    )


def _name(text: str) -> x509.GeneralName:
    try:
        return x509.IPAddress(ipaddress.ip_address(text))
    except ValueError:
        pass
    labels = text.split(".")
    is_host = all(
        label.isascii() and label.replace("-", "").isalnum() for label in labels
    )
    if not is_host or len(text) > 253:
        raise BadArgumentError(
            f"--share: found {text!r}, wanted the name or address of this machine"
        )
    return x509.DNSName(text.lower())


def _constraint(name: x509.GeneralName) -> x509.GeneralName:
    if isinstance(name, x509.IPAddress):
        address = name.value
        return x509.IPAddress(ipaddress.ip_network(str(address)))
    return name


def _authority(
    folder: Path, names: list[x509.GeneralName], now: datetime
) -> tuple[x509.Certificate, bool]:
    path = folder / "authority.crt"
    allowed = [_constraint(name) for name in names]
    if path.is_file() and (folder / "authority.key").is_file():
        kept = x509.load_pem_x509_certificate(path.read_bytes())
        limits = kept.extensions.get_extension_for_class(x509.NameConstraints).value
        within = set(allowed) <= set(limits.permitted_subtrees or ())
        if within and now + SERVER_VALID < kept.not_valid_after_utc:
            return kept, False
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name(
        [x509.NameAttribute(NameOID.COMMON_NAME, "Turnscrew workshop authority")]
    )
    made = (
        _builder(subject, subject, key, now, AUTHORITY_VALID)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        # Who steals this key can pretend to be this machine, and nothing else.
        .add_extension(x509.NameConstraints(allowed, None), critical=True)
        .sign(key, SHA256())
    )
    _write(folder / "authority.key", _pem(key), 0o600)
    _write(path, made.public_bytes(Encoding.PEM), 0o644)
    return made, True


def _server(
    folder: Path,
    authority: x509.Certificate,
    names: list[x509.GeneralName],
    now: datetime,
) -> None:
    path = folder / "server.pem"
    if path.is_file() and (folder / "server.key").is_file():
        kept = x509.load_pem_x509_certificate(path.read_bytes())
        told = kept.extensions.get_extension_for_class(x509.SubjectAlternativeName)
        is_ours = kept.issuer == authority.subject and _is_signed_by(kept, authority)
        is_fresh = now + RENEWED_BEFORE < kept.not_valid_after_utc
        if is_ours and is_fresh and set(told.value) == set(names):
            return
    signer = load_pem_private_key((folder / "authority.key").read_bytes(), None)
    assert isinstance(signer, ec.EllipticCurvePrivateKey)
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Turnscrew records")])
    made = (
        _builder(subject, authority.subject, key, now, SERVER_VALID)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(
            x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False
        )
        .add_extension(x509.SubjectAlternativeName(names), critical=False)
        .add_extension(
            x509.AuthorityKeyIdentifier.from_issuer_public_key(signer.public_key()),
            critical=False,
        )
        .sign(signer, SHA256())
    )
    _write(folder / "server.key", _pem(key), 0o600)
    _write(path, made.public_bytes(Encoding.PEM), 0o644)


def _is_signed_by(one: x509.Certificate, authority: x509.Certificate) -> bool:
    try:
        one.verify_directly_issued_by(authority)
    except Exception:  # noqa: BLE001 - whatever is wrong with it, a new one is made
        return False
    return True


def _builder(
    subject: x509.Name,
    issuer: x509.Name,
    key: ec.EllipticCurvePrivateKey,
    now: datetime,
    valid: timedelta,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - BACKDATED)
        .not_valid_after(now + valid)
        .add_extension(
            x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False
        )
    )


def _usage(*, signs_certificates: bool) -> x509.KeyUsage:
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


def _pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def _write(path: Path, content: bytes, mode: int) -> None:
    partial = path.with_name(path.name + ".partial")
    partial.unlink(missing_ok=True)
    fresh = os.open(partial, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    with os.fdopen(fresh, "wb") as file:
        file.write(content)
    partial.replace(path)
