"""A hub's certificate on its own disk: one for each address, readable by this user alone."""

import secrets
from ipaddress import IPv4Address, IPv6Address
from pathlib import Path

from livemon.app.private_file import write_private
from livemon.errors import ConfigError
from livemon.net.share_certificate import HubCertificate, new_certificate, usable


def kept_certificate(folder: Path, host: IPv4Address | IPv6Address) -> HubCertificate:
    """Return this computer's certificate for a hub at `host`, made on first use.

    Raises:
        ConfigError: it can't be read or written.
    """
    path = folder / f"hub-{str(host).replace(':', '-')}.pem"
    try:
        return usable(path.read_text(encoding="ascii"), secrets.token_urlsafe)
    except FileNotFoundError:
        pass
    except (OSError, ValueError) as error:
        raise ConfigError(
            str(path),
            "",
            f"can't be read ({error}); if it is deleted, a new one is made, and relays no longer "
            "send by themselves what they still owe to this hub",
        ) from error
    pem = new_certificate(host)
    write_private(path, pem)
    return usable(pem, secrets.token_urlsafe)
