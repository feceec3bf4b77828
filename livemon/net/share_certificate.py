"""A hub's certificate: made once for each of its addresses, and used again at every start.

It vouches for itself. Relays don't trust it for that: they were told its fingerprint or its mark.
That it stays the same lets a relay know a hub again to which it still owes a recording.
"""

import datetime
import ssl
from collections.abc import Callable
from dataclasses import dataclass
from hashlib import sha256
from ipaddress import IPv4Address, IPv6Address
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

#: No name of a person, a place or a computer.
_NAME: Final = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "livemon hub")])
#: Wide, because small computers without a battery think that it is any day. Who may join is decided
#: by the code, which is new at each start.
_FROM: Final = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)
_UNTIL: Final = datetime.datetime(2100, 1, 1, tzinfo=datetime.UTC)


@dataclass(frozen=True, slots=True)
class HubCertificate:
    """What a hub shows, and what it shows it with.

    Attributes:
        der: the certificate.
        context: for the listening side of TLS.
    """

    der: bytes
    context: ssl.SSLContext

    @property
    def fingerprint(self) -> bytes:
        """SHA-256 of the certificate."""
        return sha256(self.der).digest()


def new_certificate(host: IPv4Address | IPv6Address) -> str:
    """Return a certificate for a hub at `host` and its key, as PEM; both to be kept private."""
    key = ec.generate_private_key(ec.SECP256R1())
    secret = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    return (_self_signed(host, key).public_bytes(Encoding.PEM) + secret).decode("ascii")


def usable(pem: str, token: Callable[[], str]) -> HubCertificate:
    """Return what `new_certificate` made, ready to be shown; `token` makes passwords.

    Raises:
        ValueError: it is none.
    """
    certificate = x509.load_pem_x509_certificate(pem.encode("ascii"))
    key = load_pem_private_key(pem.encode("ascii"), None)
    password = token().encode()
    secret = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, BestAvailableEncryption(password))
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_3
    # ssl reads keys from files only. The folder is this user's alone, the key in it encrypted.
    with TemporaryDirectory(prefix="livemon-") as folder:
        both = Path(folder) / "hub.pem"
        both.write_bytes(certificate.public_bytes(Encoding.PEM) + secret)
        try:
            context.load_cert_chain(both, password=password)
        except ssl.SSLError as error:
            raise ValueError(f"certificate and key don't belong together: {error}") from error
    return HubCertificate(certificate.public_bytes(Encoding.DER), context)


def _self_signed(
    host: IPv4Address | IPv6Address, key: ec.EllipticCurvePrivateKey
) -> x509.Certificate:
    """Return a certificate that may be shown by a server, and may vouch for no other."""
    usage = dict.fromkeys(
        (
            "content_commitment",
            "key_encipherment",
            "data_encipherment",
            "key_agreement",
            "key_cert_sign",
            "crl_sign",
            "encipher_only",
            "decipher_only",
        ),
        False,
    )
    identifier = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    return (
        x509.CertificateBuilder()
        .subject_name(_NAME)
        .issuer_name(_NAME)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(_FROM)
        .not_valid_after(_UNTIL)
        .add_extension(x509.SubjectAlternativeName([x509.IPAddress(host)]), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.KeyUsage(digital_signature=True, **usage), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(identifier, critical=False)
        .sign(key, hashes.SHA256())
    )
