"""Who is notified of which characteristic, and how: by signal or through a socket.

The rules of refusal are those of BlueZ's src/gatt-client.c.
"""

import asyncio
import socket

from dbus_fast import Variant

from livemon.link.fake_bluez.objects import CHARACTERISTIC
from livemon.link.fake_bluez.refusals import failed, in_progress, not_permitted, not_supported
from livemon.link.fake_bluez.tree import ObjectTree


class Subscriptions:
    """Subscribers by path of the characteristic."""

    def __init__(self, tree: ObjectTree) -> None:
        self._tree = tree
        self._clients: dict[str, set[str]] = {}
        self._sockets: dict[str, socket.socket] = {}

    def start(self, path: str, client: str) -> None:
        """Notify a client by signals from now on (StartNotify)."""
        if path in self._sockets:
            raise not_permitted("Notify acquired")
        self._check(path)
        clients = self._clients.setdefault(path, set())
        if client in clients:
            raise failed("Already notifying")
        clients.add(client)
        if len(clients) == 1:
            self._show(path, "Notifying", on=True)

    def stop(self, path: str, client: str) -> None:
        """End what `start` began (StopNotify)."""
        clients = self._clients.get(path, set())
        if client not in clients:
            raise failed("No notify session started")
        clients.remove(client)
        if not clients:
            del self._clients[path]
            self._show(path, "Notifying", on=False)

    def acquire(self, path: str) -> socket.socket:
        """Return the client's end of a socket that carries the notifications (AcquireNotify)."""
        if path in self._sockets:
            raise not_permitted("Notify acquired")
        if path in self._clients:
            raise in_progress()
        self._check(path)
        ours, theirs = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        ours.setblocking(False)
        self._sockets[path] = ours
        asyncio.get_running_loop().add_reader(ours, self._release, path)  # they only ever hang up
        self._show(path, "NotifyAcquired", on=True)
        return theirs

    def deliver(self, path: str, payload: bytes) -> bool:
        """Notify whoever subscribed; False if nobody did or the socket was full."""
        if path in self._clients:
            self._tree.change(path, CHARACTERISTIC, {"Value": Variant("ay", payload)})
            return True
        if path not in self._sockets:
            return False
        try:
            self._sockets[path].send(payload)
        except (BlockingIOError, ConnectionError):
            return False  # a real adapter would lose it just so
        return True

    def has(self, path: str) -> bool:
        """Whether anybody is notified."""
        return path in self._clients or path in self._sockets

    def forget_client(self, client: str) -> None:
        """The client left the bus."""
        for path in [path for path, clients in self._clients.items() if client in clients]:
            self.stop(path, client)

    def clear(self, path: str) -> None:
        """The link is gone, and every subscription to this characteristic with it."""
        self._clients.pop(path, None)
        if path in self._sockets:
            self._release(path)

    def _release(self, path: str) -> None:
        ours = self._sockets.pop(path)
        asyncio.get_running_loop().remove_reader(ours)
        ours.close()
        self._show(path, "NotifyAcquired", on=False)

    def _check(self, path: str) -> None:
        if "Notifying" not in self._tree.properties(path, CHARACTERISTIC):
            raise not_supported()

    def _show(self, path: str, name: str, *, on: bool) -> None:
        self._tree.change(path, CHARACTERISTIC, {name: Variant("b", on)})
