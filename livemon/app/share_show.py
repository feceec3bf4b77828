"""How to join, for the hub's terminal. The window draws the same from `Share` and `qr_matrix`."""

import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING

from livemon.net.share_qr import qr_matrix, terminal_lines
from livemon.net.share_uri import Invitation, host_and_port

if TYPE_CHECKING:
    from livemon.app.share import Share


def place_and_reach(invitation: Invitation) -> tuple[str, str]:
    """Return address and port, and who can reach them."""
    reach = "this computer only" if invitation.host.is_loopback else "the local network"
    return host_and_port(invitation.host, invitation.port), reach


def relay_command(invitation: Invitation) -> str:
    """Return what to type on a relay."""
    place, _ = place_and_reach(invitation)
    return f"livemon relay --join {invitation.code}@{place}"


def invitation_lines(share: "Share", *, terminal: bool) -> Iterator[str]:
    """Yield what to print; the QR code only to a terminal, which can draw it."""
    place, reach = place_and_reach(share.invitation)
    yield f"Sharing at {place}, on {reach}. Join code: {share.code}"
    yield "Who has the code may send to this hub until it ends; the next start has another."
    yield f"A relay joins with: {relay_command(share.invitation)}"
    yield f"Or in one line: {share.uri}"
    if terminal:
        yield from terminal_lines(qr_matrix(share.uri))


def show_invitation(share: "Share") -> None:
    """Print how to join, to standard error as all that is said to people."""
    for line in invitation_lines(share, terminal=sys.stderr.isatty()):
        print(line, file=sys.stderr, flush=True)
