"""`livemon live --share`: a hub that is its relays' broker, too."""

import argparse

from livemon.app.hub_start import run_hub
from livemon.app.places import data_folder
from livemon.app.share_options import ShareWish
from livemon.app.share_show import show_invitation
from livemon.app.share_start import start_share
from livemon.app.share_window import InvitationShown
from livemon.errors import UsageError


def run_sharing_hub(arguments: argparse.Namespace, wish: ShareWish) -> int:
    """Share, and show what relays send, until somebody ends it; return the exit code.

    Raises:
        LivemonError: it can't be done.
    """
    if arguments.hub_from is not None:
        raise UsageError(
            "--share and --from exclude each other: either this computer is the broker, or another"
        )
    share = start_share(wish, data_folder())
    shown = InvitationShown(share)

    def notices() -> tuple[str, ...]:
        failed = f"Relays can't reach this hub: {share.failure}" if share.failure else ""
        return tuple(words for words in (failed, share.notice, *shown.notices()) if words)

    try:
        show_invitation(share)
        return run_hub(arguments, share.address, more=notices, invitation=shown.model)
    finally:
        share.stop()
