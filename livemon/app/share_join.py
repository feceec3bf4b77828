"""`livemon relay --join`: from what a person typed or pasted to the hub, and to trust in it.

--join K7QM-3XHD-9PTR-W4NA                      looks for the hub on this network
--join K7QM-3XHD-9PTR-W4NA@192.168.1.20:8883    goes there
--join 'livemon://192.168.1.20:8883/join?…'     what the QR code says
--join                                          asks; nothing stays in the shell's history
"""

import argparse
import asyncio
import ssl
from collections.abc import Callable
from contextlib import aclosing
from dataclasses import dataclass
from ipaddress import IPv4Address
from typing import Final

from livemon.app.share_options import PLAIN_PORT, TLS_PORT
from livemon.app.share_start import GROUP
from livemon.errors import LivemonError, UsageError
from livemon.net.address import BrokerAddress
from livemon.net.share_code import JoinCode, read_code
from livemon.net.share_listen import read_place
from livemon.net.share_pin import invited_by_code, trust_of
from livemon.net.share_rules import password_of
from livemon.net.share_uri import Invitation, read_join_uri

_ASK: Final = "-"
_OWN_HUB: Final = "this computer"
_THIS_COMPUTER: Final = IPv4Address("127.0.0.1")
#: Announcements come within a second; a busy network may swallow the first.
_LOOK_S: Final = 8.0


@dataclass(frozen=True, slots=True)
class Joined:
    """The way to a hub that was joined.

    Attributes:
        address: of its broker.
        trust: what vouches for it; None where nothing leaves this computer.
        hub: which hub it is, wherever and whenever it is met again.
    """

    address: BrokerAddress
    trust: ssl.SSLContext | None
    hub: str


def add_join_option(ways: "argparse._MutuallyExclusiveGroup") -> None:
    """Add how to join a hub that shares, to the ways to a hub."""
    ways.add_argument(
        "--join",
        nargs="?",
        const=_ASK,
        metavar="CODE",
        help="join the hub that shows this code; CODE@ADDRESS where it does not announce itself, "
        "or all that its QR code says; without a code you are asked for it",
    )


def join(text: str, relay: str, token: str, *, ask: Callable[[str], str] = input) -> Joined:
    """Return the way to the hub for a relay of this id, whose own token is `token`.

    Raises:
        UsageError: the invitation can't be meant, or what answers is not its hub.
        BrokerLost: no hub answers.
    """
    if text == _ASK:
        text = ask("Join code, or the line that the hub shows: ")
    invitation = invitation_of(text.strip())
    address = BrokerAddress(
        host=str(invitation.host),
        port=invitation.port,
        tls=invitation.fingerprint is not None,
        group=GROUP,
        user=relay,
        password=password_of(invitation.code.secret, token),
    )
    hub = invitation.fingerprint.hex() if invitation.fingerprint is not None else _OWN_HUB
    return Joined(address, trust_of(invitation), hub)


def invitation_of(text: str) -> Invitation:
    """Return the invitation that is meant, after a look at the hub where only a code is known.

    Raises:
        UsageError: none can be meant, or what answers is not its hub.
        BrokerLost: no hub answers.
    """
    if "://" in text:
        return read_join_uri(text)
    letters, at, place = text.partition("@")
    code = read_code(letters)
    if at:
        return invited_by_code(*read_place(place, TLS_PORT), code)
    if code.mark is None:
        return invited_by_code(_THIS_COMPUTER, PLAIN_PORT, code)
    with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
        return runner.run(found(code, _LOOK_S))


async def found(code: JoinCode, within_s: float, on: str | None = None) -> Invitation:
    """Look for the hub that this code comes from; `on` names one network.

    Raises:
        UsageError: it is not to be found.
    """
    try:
        from livemon.net.share_announce import hubs_nearby
    except ImportError as error:
        raise UsageError(
            f"finding a hub needs {error.name}, which is missing; say: pip install"
            " 'livemon[share]', or give the hub's address: --join CODE@ADDRESS"
        ) from error
    others = 0
    try:
        async with aclosing(hubs_nearby(within_s, on)) as hubs:
            async for host, port in hubs:
                try:
                    return await asyncio.to_thread(invited_by_code, host, port, code)
                except LivemonError:
                    others += 1  # somebody else's, or gone
    except OSError as error:
        raise UsageError(
            f"the network can't be asked for hubs ({error}); give the hub's address:"
            " --join CODE@ADDRESS"
        ) from error
    seen = f"{others} other hubs answered" if others else "none answered"
    raise UsageError(
        f"no hub of this code announces itself here ({seen}). Look at the code again; start the"
        " hub with --announce; or, as networks for guests keep devices apart, give its address:"
        " --join CODE@ADDRESS"
    )
