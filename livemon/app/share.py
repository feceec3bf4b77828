"""A hub's own broker: start it, show how to join, stop it.

It has a thread and a loop of its own: a slow disk or screen must not make it late, and a crowd at
its door must not make the hub late. It needs the extra `share`; share_start.py says so in words.
"""

import asyncio
import logging
import secrets
from collections import Counter
from ipaddress import IPv4Address
from pathlib import Path
from typing import Final

from livemon.app.engine import Engine
from livemon.app.share_kept import kept_certificate
from livemon.app.share_options import ShareWish
from livemon.monitor.snapshot import SessionSnapshot
from livemon.net.address import BrokerAddress
from livemon.net.share_announce import announced
from livemon.net.share_code import JoinCode, mark_of, new_secret
from livemon.net.share_limits import ShareLimits
from livemon.net.share_listen import listen
from livemon.net.share_refusals import Refusal, RefusalLog
from livemon.net.share_rules import Keys
from livemon.net.share_run import Entrance, run_share
from livemon.net.share_uri import Invitation, join_uri
from livemon.net.topics import HUB
from livemon.tongue import said

_log = logging.getLogger(__name__)

_THIS_COMPUTER: Final = IPv4Address("127.0.0.1")
_ANY_FREE: Final = 0
_HUB_KEY_BYTES: Final = 32
_ANNOUNCED_AS_BYTES: Final = 4


class Share:
    """A running share; made by `open_share`.

    Attributes:
        invitation: what lets relays in.
        address: where this computer's hub connects, with a name and a key of its own.
        notice: what a person should know, in words; empty if nothing.
    """

    #: Fulfils `Program`; a share has nothing to draw.
    latest: SessionSnapshot | None = None

    def __init__(
        self,
        invitation: Invitation,
        keys: Keys,
        entrances: tuple[Entrance, ...],
        limits: ShareLimits,
        *,
        announce: bool,
    ) -> None:
        self.invitation = invitation
        self.notice = ""
        own_port = entrances[-1].listening.getsockname()[1]
        self.address = BrokerAddress(
            str(_THIS_COMPUTER), own_port, False, keys.group, HUB, keys.hub_key
        )
        self._keys = keys
        self._entrances = entrances
        self._limits = limits
        self._announce = announce
        self._log = RefusalLog()
        self._engine = Engine(self, name="livemon-share")
        self._engine.start()

    @property
    def code(self) -> str:
        """What a person types."""
        return str(self.invitation.code)

    @property
    def uri(self) -> str:
        """What the QR code says."""
        return join_uri(self.invitation)

    @property
    def refused(self) -> Counter[Refusal]:
        """How often somebody was refused, by reason."""
        return self._log.counts.copy()

    @property
    def failure(self) -> BaseException | None:
        """What ended it, if it ended by itself."""
        return self._engine.failure

    def stop(self) -> None:
        """End all connections and set the ports free; waits until that is done."""
        self._engine.stop()

    async def run(self) -> None:
        """Serve until cancelled; see `Program`."""
        serve = run_share(self._keys, self._entrances, self._log, limits=self._limits)
        async with asyncio.TaskGroup() as together:
            together.create_task(serve)
            together.create_task(self._be_found())

    async def _be_found(self) -> None:
        """Say that a hub is here, if so wished; a network that takes no such word costs no more."""
        if not self._announce:
            return
        host, port = self.invitation.host, self.invitation.port
        try:
            async with announced(host, port, secrets.token_hex(_ANNOUNCED_AS_BYTES)):
                await asyncio.Event().wait()
        except OSError as error:
            self.notice = said("the network takes no announcements: {why}", why=error)
            _log.warning("the network takes no announcements: %s", error)


def open_share(wish: ShareWish, folder: Path, group: str, limits: ShareLimits) -> Share:
    """Start to share; see `start_share`."""
    keys = Keys(group, new_secret(secrets.randbelow), secrets.token_urlsafe(_HUB_KEY_BYTES))
    listening = listen(wish.host, wish.port)
    port = listening.getsockname()[1]
    if wish.host == _THIS_COMPUTER:
        invitation = Invitation(wish.host, port, JoinCode(keys.secret), None)
        return Share(invitation, keys, (Entrance(listening, None),), limits, announce=False)
    certificate = kept_certificate(folder, wish.host)
    code = JoinCode(keys.secret, mark_of(certificate.der))
    invitation = Invitation(wish.host, port, code, certificate.fingerprint)
    # The hub's own way in; relays could use it, too, but only from this computer.
    own = listen(_THIS_COMPUTER, _ANY_FREE)
    entrances = (Entrance(listening, certificate.context), Entrance(own, None))
    return Share(invitation, keys, entrances, limits, announce=wish.announce)
