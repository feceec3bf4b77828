"""How to join, for the hub's window, and whom its door has refused, for its edge."""

from collections import Counter
from typing import TYPE_CHECKING

from livemon.app.share_show import place_and_reach, relay_command
from livemon.errors import UsageError
from livemon.net.share_qr import qr_matrix
from livemon.net.share_refusals import Refusal
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
        place, reach = place_and_reach(share.invitation)
        return InvitationModel(
            share.code,
            place,
            f"on {reach}",
            relay_command(share.invitation),
            self._matrix,
            self._trouble,
            refused_words(share.refused),
        )

    def notices(self) -> tuple[str, ...]:
        """Return what the edge of the screen says of the door."""
        words = refused_words(self._share.refused)
        return (f"refused: {'; '.join(words)}",) if words else ()


def refused_words(counts: Counter[Refusal]) -> tuple[str, ...]:
    """Say how often somebody was refused, the most frequent first."""
    return tuple(f"{_times(count)} somebody {why.value}" for why, count in counts.most_common())


def _times(count: int) -> str:
    """Say it roughly from ten on: a flood at the door is no flood of words."""
    if count == 1:
        return "once"
    if count < 10:
        return f"{count} times"
    return f"more than {10 ** (len(str(count)) - 1) - 1} times"
