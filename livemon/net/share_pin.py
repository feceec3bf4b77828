"""A relay's side: trust exactly the hub that the invitation means.

The certificate is fetched first, over a connection on which nothing else is said, and compared with
what a person brought over from the hub's screen. Only then is it trusted, and nothing beside it: no
authority of the system, and the check of each later connection stays on.
"""

import ssl
from hashlib import sha256
from hmac import compare_digest
from ipaddress import IPv4Address, IPv6Address
from typing import Final

from livemon.errors import UsageError
from livemon.net.share_code import JoinCode, mark_of, same
from livemon.net.share_uri import Invitation, host_and_port
from livemon.net.trouble import BrokerLost

#: On a local network it takes some hundredths.
_WITHIN_S: Final = 5.0


def trust_of(invitation: Invitation) -> ssl.SSLContext | None:
    """Return what vouches for the hub of this invitation; None where it is plain text.

    Raises:
        BrokerLost: nobody answers there.
        UsageError: somebody else answers there.
    """
    if invitation.fingerprint is None:
        return None
    der = _shown(invitation.host, invitation.port)
    if not compare_digest(sha256(der).digest(), invitation.fingerprint):
        raise _other_hub(invitation.host, invitation.port)
    return _trusting_only(der)


def invited_by_code(host: IPv4Address | IPv6Address, port: int, code: JoinCode) -> Invitation:
    """Return the full invitation to the hub there, if its certificate has the mark of the code.

    Raises:
        BrokerLost: nobody answers there.
        UsageError: somebody else answers there, or the code is half of one.
    """
    if code.mark is None:
        if host.is_loopback:
            return Invitation(host, port, code, None)
        raise UsageError(
            "this join code is for relays on the hub's own computer; start sharing with"
            " --share-on and the hub's address, and take the code that it shows then"
        )
    der = _shown(host, port)
    if not same(mark_of(der), code.mark):
        raise _other_hub(host, port)
    return Invitation(host, port, code, sha256(der).digest())


def _shown(host: IPv4Address | IPv6Address, port: int) -> bytes:
    """Return the certificate that is shown there, not trusted yet."""
    where = host_and_port(host, port)
    try:
        pem = ssl.get_server_certificate((str(host), port), timeout=_WITHIN_S)
    except ssl.SSLError as error:
        raise UsageError(f"what answers at {where} does not speak TLS; is it a hub?") from error
    except OSError as error:
        raise BrokerLost(f"no hub answers at {where}: {error.strerror or error}") from error
    return ssl.PEM_cert_to_DER_cert(pem)


def _trusting_only(der: bytes) -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)  # verifies, host name too
    context.minimum_version = ssl.TLSVersion.TLSv1_3
    context.load_verify_locations(cadata=der)
    return context


def _other_hub(host: IPv4Address | IPv6Address, port: int) -> UsageError:
    return UsageError(
        f"the hub at {host_and_port(host, port)} is not the one that this invitation comes from:"
        " it shows another certificate. Each start of a hub has a new invitation; take the one on"
        " its screen. If that is the one, somebody stands between"
    )
