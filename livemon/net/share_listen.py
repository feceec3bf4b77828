"""Sockets that a share listens on. Never all addresses at once: the coach says which network."""

import errno
import os
import socket
from ipaddress import IPv4Address, IPv6Address, ip_address
from typing import Final

from livemon.errors import UsageError
from livemon.net.share_uri import host_and_port

#: As many as come while one is being taken.
_BACKLOG: Final = 128


class PortTaken(UsageError):  # noqa: N818 - what is the matter, in the words of the screen
    """Another program listens there already."""

    def __init__(self, host: IPv4Address | IPv6Address, port: int) -> None:
        super().__init__(
            f"port {port} of {host} is taken by another program, perhaps another hub or a broker;"
            f" end that one, or choose another port: --share-on {host_and_port(host, port + 1)}"
        )
        self.host = host
        self.port = port


def listen(host: IPv4Address | IPv6Address, port: int) -> socket.socket:
    """Return a socket that listens there; with port 0 on any that is free.

    Raises:
        PortTaken: not on that one.
        UsageError: this computer does not have the address, or no right to the port.
    """
    family = socket.AF_INET6 if host.version == 6 else socket.AF_INET
    listening = socket.socket(family, socket.SOCK_STREAM)
    try:
        _take_alone(listening)
        listening.bind((str(host), port))
        listening.listen(_BACKLOG)
    except OSError as error:
        listening.close()
        raise _said(error, host, port) from error
    return listening


def _take_alone(listening: socket.socket) -> None:
    """Let a new start have the port at once, and nobody share it.

    On Windows SO_REUSEADDR would let any other program take the port over.
    """
    if os.name == "nt":
        listening.setsockopt(socket.SOL_SOCKET, getattr(socket, "SO_EXCLUSIVEADDRUSE"), 1)  # noqa: B009 - not on other systems
    else:
        listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)


def _said(error: OSError, host: IPv4Address | IPv6Address, port: int) -> UsageError:
    if error.errno == errno.EADDRINUSE:
        return PortTaken(host, port)
    if error.errno == errno.EADDRNOTAVAIL:
        others = ", ".join(map(str, own_addresses())) or "none on any network"
        return UsageError(f"this computer has no address {host}; it has: {others}")
    if error.errno == errno.EACCES:
        return UsageError(f"port {port} may not be used by this user; choose one above 1023")
    return UsageError(f"can't listen on {host_and_port(host, port)}: {error.strerror or error}")


def own_addresses() -> tuple[IPv4Address | IPv6Address, ...]:
    """Return this computer's addresses on its networks, IPv4 first.

    Raises:
        UsageError: the library that knows is missing.
    """
    try:
        from ifaddr import get_adapters
    except ImportError as error:
        raise UsageError(
            "which addresses this computer has can't be told without: pip install 'livemon[share]'"
        ) from error
    found = []
    for adapter in get_adapters():
        for address in adapter.ips:
            text = address.ip if isinstance(address.ip, str) else address.ip[0]
            found.append(ip_address(text))
    usable = {each for each in found if not each.is_loopback and not each.is_link_local}
    return tuple(sorted(usable, key=lambda each: (each.version, int(each))))


def read_place(text: str, default_port: int) -> tuple[IPv4Address | IPv6Address, int]:
    """Return address and port out of `192.168.1.20`, `192.168.1.20:8883` or `[fd00::1]:8883`.

    Raises:
        UsageError: it is none that can be listened on.
    """
    host, _, port = text.rpartition(":") if _has_port(text) else (text, "", "")
    try:
        address = ip_address(host.removeprefix("[").removesuffix("]"))
        number = int(port) if port else default_port
    except ValueError as error:
        raise UsageError(
            f"{text!r} is no address like 192.168.1.20 or 192.168.1.20:8883"
        ) from error
    if not 0 < number <= 0xFFFF:
        raise UsageError(f"{number} is no port; ports go from 1 to 65535")
    return address, number


def _has_port(text: str) -> bool:
    return text.count(":") == 1 or (text.startswith("[") and "]:" in text)
