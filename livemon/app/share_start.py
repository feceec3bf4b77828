"""The way to a share for commands: says what to install before it imports any of it."""

from pathlib import Path
from typing import TYPE_CHECKING, Final

from livemon.app.share_options import ShareWish
from livemon.errors import UsageError
from livemon.net.share_limits import ShareLimits

if TYPE_CHECKING:
    from livemon.app.share import Share

#: One hub has a share, so its relays need no groups; it stands in their topics.
GROUP: Final = "shared"
_LIMITS: Final = ShareLimits()


def start_share(
    wish: ShareWish, folder: Path, *, group: str = GROUP, limits: ShareLimits = _LIMITS
) -> "Share":
    """Start to share as wished, and return how to join; relays may come at once.

    Args:
        wish: where and how.
        folder: of this user's own; keeps the certificate by which relays know this hub again.
        group: stands in the topics.
        limits: of the door.

    Raises:
        ConfigError: the certificate can't be kept.
        UsageError: it can't be done; `PortTaken` where another program is in the way.
    """
    try:
        from livemon.app.share import open_share
    except ImportError as error:
        raise UsageError(
            f"sharing needs {error.name}, which is missing; say: pip install 'livemon[share]'"
        ) from error
    return open_share(wish, folder, group, limits)
