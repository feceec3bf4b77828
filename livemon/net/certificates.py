"""Whom to trust, and what is wrong with a certificate, told by type and not by text.

There is no way to skip the check: whoever has one also uses it on the day when it matters.
"""

import asyncio
import ssl
from pathlib import Path
from typing import Final

from livemon.errors import UsageError

_WITHIN_S: Final = 5.0

#: X509_V_ERR_… of OpenSSL's x509_vfy.h.
_TROUBLE: Final = {
    9: "has a certificate that is not valid yet; check both computers' clocks",
    10: "has a certificate that has expired; make a new one",
    18: "has a certificate that vouches for itself; give its CA file, or join anew if it is a hub"
    " that started again",
    19: "has a certificate of an authority that we don't know; give its CA file",
    20: "has a certificate of an authority that we don't know; give its CA file",
    62: "has a certificate for another name; use the name that stands in it",
    64: "has a certificate for another address; use the name that stands in it",
}


def trusting(ca_file: Path | None) -> ssl.SSLContext:
    """Return what vouches for brokers: the authority in `ca_file`, or the system's.

    Raises:
        UsageError: the file can't be read, or holds no certificate.
    """
    try:
        return ssl.create_default_context(cafile=ca_file)
    except (OSError, ssl.SSLError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise UsageError(f"{ca_file} can't be used as CA file: {reason}") from error


async def certificate_trouble(host: str, port: int, trust: ssl.SSLContext) -> str | None:
    """Say what is wrong with the certificate of whoever answers there; None if nothing is.

    The MQTT library tells only that the connection failed, so we look for ourselves.
    """
    try:
        async with asyncio.timeout(_WITHIN_S):
            _, writer = await asyncio.open_connection(host, port, ssl=trust)
    except ssl.SSLCertVerificationError as error:
        said = f"has a certificate that can't be trusted: {error.verify_message}"
        return _TROUBLE.get(error.verify_code, said)
    except ssl.SSLError:
        return "does not speak TLS there; use its TLS port, or mqtt:// on this computer"
    except OSError:  # also a time-out: it is not the certificate that is the trouble
        return None
    writer.close()
    return None
