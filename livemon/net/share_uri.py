"""An invitation in one line: what a hub's QR code says, and what can be pasted instead.

    livemon://192.168.1.20:8883/join?code=K7QM-3XHD-9PTR-W4NA&sha256=mPrT…

`sha256` is the fingerprint of the hub's certificate, as base64url without padding (RFC 4648, 5). It
is missing only on this computer, where nothing leaves it. The code lets people in: whoever may read
the line may join.
"""

from base64 import urlsafe_b64decode, urlsafe_b64encode
from binascii import Error as Base64Error
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address, ip_address
from typing import Final
from urllib.parse import parse_qsl, urlencode, urlsplit

from livemon.errors import UsageError
from livemon.net.share_code import JoinCode, read_code

_SCHEME: Final = "livemon"
_PATH: Final = "/join"
_DIGEST_BYTES: Final = 32
_EXAMPLE: Final = "livemon://192.168.1.20:8883/join?code=…&sha256=…"


@dataclass(frozen=True, slots=True)
class Invitation:
    """Where the hub is, what lets a relay in, and how it knows the hub.

    Attributes:
        fingerprint: SHA-256 of the certificate in DER; None for plain text on this computer.
    """

    host: IPv4Address | IPv6Address
    port: int
    code: JoinCode
    fingerprint: bytes | None

    def __post_init__(self) -> None:
        if not 1 <= self.port <= 0xFFFF:
            raise UsageError(f"{self.port} is no port; ports go from 1 to 65535")
        if self.fingerprint is None and not self.host.is_loopback:
            raise UsageError("an invitation to another computer names the hub's certificate")
        if self.fingerprint is not None and len(self.fingerprint) != _DIGEST_BYTES:
            raise UsageError(f"a fingerprint of {len(self.fingerprint)} bytes; SHA-256 has 32")


def join_uri(invitation: Invitation) -> str:
    """Return the line that says `invitation`."""
    asked = {"code": str(invitation.code)}
    if invitation.fingerprint is not None:
        asked["sha256"] = urlsafe_b64encode(invitation.fingerprint).decode().rstrip("=")
    place = host_and_port(invitation.host, invitation.port)
    return f"{_SCHEME}://{place}{_PATH}?{urlencode(asked)}"


def read_join_uri(text: str) -> Invitation:
    """Return the invitation that `text` says.

    Raises:
        UsageError: it says none, or one that is not to be followed.
    """
    try:
        parts = urlsplit(text.strip())
        host, port = ip_address(parts.hostname or ""), parts.port
        asked = parse_qsl(
            parts.query, keep_blank_values=True, strict_parsing=True, max_num_fields=2
        )
    except ValueError as error:
        raise _no_invitation(str(error)) from error
    if parts.scheme != _SCHEME or parts.path != _PATH or parts.fragment or "@" in parts.netloc:
        raise _no_invitation(f"expected one like {_EXAMPLE}")
    said = dict(asked)
    if len(said) != len(asked) or not {"code"} <= set(said) <= {"code", "sha256"}:
        raise _no_invitation(f"expected one like {_EXAMPLE}")
    if port is None:
        raise _no_invitation("it does not say which port")
    fingerprint = _fingerprint(said["sha256"]) if "sha256" in said else None
    return Invitation(host, port, read_code(said["code"]), fingerprint)


def host_and_port(host: IPv4Address | IPv6Address, port: int) -> str:
    """Return both as they stand in an address (RFC 3986, 3.2.2)."""
    return f"[{host}]:{port}" if host.version == 6 else f"{host}:{port}"


def _fingerprint(text: str) -> bytes:
    try:
        return urlsafe_b64decode(text + "=" * (-len(text) % 4))
    except (Base64Error, ValueError) as error:
        raise _no_invitation("its sha256 can't be read") from error


def _no_invitation(problem: str) -> UsageError:
    """Say what is wrong, without the code that may stand in it."""
    return UsageError(f"this is no invitation of a hub: {problem}")
