"""The private bus of the make-believe service: one user's only, and gone at the end."""

import asyncio
import os
import shutil
import sys
from pathlib import Path

import pytest

pytest.importorskip("dbus_fast", reason="comes with bleak on Linux only")

from dbus_fast.aio import MessageBus

from livemon.errors import RadioError
from livemon.link.fake_bluez.bus import private_bus
from livemon.link.fake_bluez.service import fake_bluez


async def test_a_second_service_on_the_bus_is_turned_away(bluez, bluez_bus) -> None:
    """The machine's own Bluetooth is never shadowed."""
    await bluez(())

    with pytest.raises(RadioError, match="already answers"):
        async with fake_bluez(bluez_bus):
            pytest.fail("it should not have come this far")


async def test_a_missing_daemon_is_named_with_its_package(monkeypatch, tmp_path) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))

    with pytest.raises(RadioError, match="install the package dbus-daemon"):
        async with private_bus():
            pytest.fail("it should not have come this far")


async def test_a_daemon_that_cannot_start_says_why(monkeypatch, tmp_path) -> None:
    broken = tmp_path / "dbus-daemon"
    broken.write_text("#!/bin/sh\necho 'no room left' >&2\nexit 1\n")
    broken.chmod(0o755)
    monkeypatch.setenv("PATH", f"{tmp_path}:{os.environ['PATH']}")

    with pytest.raises(RadioError, match="no room left"):
        async with private_bus():
            pytest.fail("it should not have come this far")


def permissions(folder: Path) -> int | None:
    """Return the folder's permission bits; None if it isn't there."""
    return folder.stat().st_mode & 0o777 if folder.exists() else None


async def test_the_bus_is_for_this_user_only_and_leaves_nothing_behind(bluez_bus) -> None:
    async with private_bus() as address:
        folder = Path(address.partition("path=")[2].partition(",")[0]).parent
        assert permissions(folder) == 0o700

    assert permissions(folder) is None


KILLED_WITH_A_BUS = """
import asyncio
from livemon.link.fake_bluez.bus import private_bus

async def main():
    async with private_bus() as address:
        print(address, flush=True)
        await asyncio.sleep(3600)

asyncio.run(main())
"""


@pytest.mark.skipif(shutil.which("setpriv") is None, reason="setpriv is missing (util-linux)")
async def test_the_bus_ends_with_a_killed_program(bluez_bus) -> None:
    program = await asyncio.create_subprocess_exec(
        sys.executable, "-c", KILLED_WITH_A_BUS, stdout=asyncio.subprocess.PIPE
    )
    assert program.stdout is not None
    address = (await program.stdout.readline()).decode().strip()
    client = await MessageBus(address).connect()

    program.kill()
    await program.wait()

    with pytest.raises(EOFError):
        await client.wait_for_disconnect()
    folder = Path(address.partition("path=")[2].partition(",")[0]).parent
    shutil.rmtree(folder)  # which nobody was left to do
