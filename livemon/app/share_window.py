"""How to join, for the hub's window, and whom its door has refused, for its edge."""

from typing import TYPE_CHECKING

from livemon.app.share_refused import refused_words
from livemon.app.share_show import place_and_reach, relay_command
from livemon.errors import UsageError
from livemon.net.share_qr import qr_matrix
from livemon.tongue import said
from livemon.view.invitation import InvitationModel, Matrix

if TYPE_CHECKING:
    from livemon.app.share import Share


class InvitationShown:
    """The invitation of a share; its QR code is drawn once."""

    def __init__(self, share: "Share") -> None:
        self._share = share
        self._matrix: Matrix = ()
        self._trouble = ""
        try:
            self._matrix = qr_matrix(share.uri)
        except UsageError as error:
            self._trouble = str(error)

    def model(self) -> InvitationModel:
        """Return it as it is now."""
        share = self._share
        place, _ = place_and_reach(share.invitation)
        here_only = share.invitation.host.is_loopback
        return InvitationModel(
            share.code,
            place,
            said("on this computer only") if here_only else said("on the local network"),
            relay_command(share.invitation),
            self._matrix,
            self._trouble,
            refused_words(share.refused),
        )

    def notices(self) -> tuple[str, ...]:
        """Return what the edge of the screen says of the door."""
        words = refused_words(self._share.refused)
        return (said("refused: {who}", who="; ".join(words)),) if words else ()
