"""Mosquitto on loopback with the configuration that docs/mosquitto gives to people."""

import asyncio
import getpass
import shutil
import socket
import subprocess
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs" / "mosquitto"
#: User names of the tests, each with "code of " and the name as password.
USERS = ("hub", "r0", "r1", "r2", "screen")


def program(name: str) -> str:
    found = shutil.which(name) or shutil.which(name, path="/usr/sbin")
    if found is None:
        pytest.skip(f"{name} is missing; install the package mosquitto")
    return found


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Mosquitto:
    """A broker that can be killed and started again."""

    def __init__(self, folder: Path, *, tls: bool) -> None:
        self.port, self.tls_port = free_port(), free_port()
        self._configuration = folder / "mosquitto.conf"
        self._configuration.write_text(self._edited(folder, tls=tls))
        shutil.copy(DOCS / "acl", folder / "acl")
        (folder / "acl").chmod(0o600)
        passwords = folder / "passwords"
        passwords.touch(mode=0o600)
        for user in USERS:
            command = [program("mosquitto_passwd"), "-b", passwords, user, f"code of {user}"]
            subprocess.run(command, check=True)
        self._process: asyncio.subprocess.Process | None = None

    async def start(self) -> None:
        self._process = await asyncio.create_subprocess_exec(
            program("mosquitto"),
            "-c",
            self._configuration,
            stdout=asyncio.subprocess.DEVNULL,
            stderr=asyncio.subprocess.DEVNULL,
        )
        while not await self._answers():
            assert self._process.returncode is None, "mosquitto did not start"
            await asyncio.sleep(0.01)

    async def kill(self) -> None:
        assert self._process is not None
        if self._process.returncode is None:
            self._process.kill()
        await self._process.wait()

    async def _answers(self) -> bool:
        try:
            _, writer = await asyncio.open_connection("127.0.0.1", self.port)
        except OSError:
            return False
        writer.close()
        await writer.wait_closed()
        return True

    def _edited(self, folder: Path, *, tls: bool) -> str:
        """Return the documented configuration with this test's paths and ports."""
        text = (DOCS / "mosquitto.conf").read_text()
        if not tls:
            before, _, rest = text.partition("# TLS for everything")
            text = before + rest[rest.index("# Plain text") :]
        return (
            text.replace("/etc/mosquitto/livemon", str(folder))
            .replace("/var/lib/mosquitto/", f"{folder}/")
            .replace("listener 8883 0.0.0.0", f"listener {self.tls_port} 127.0.0.1")
            .replace("listener 1883", f"listener {self.port}")
            + f"\nuser {getpass.getuser()}\n"
        )


@asynccontextmanager
async def running(folder: Path, *, tls: bool = False) -> AsyncIterator[Mosquitto]:
    broker = Mosquitto(folder, tls=tls)
    await broker.start()
    try:
        yield broker
    finally:
        await broker.kill()


@pytest.fixture
async def mosquitto(tmp_path: Path) -> AsyncIterator[Mosquitto]:
    async with running(tmp_path) as broker:
        yield broker
