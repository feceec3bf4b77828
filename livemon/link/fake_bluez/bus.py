"""A D-Bus of our own: one dbus-daemon, one socket, both gone afterwards."""

import asyncio
import shutil
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import IO, Final

from livemon.errors import RadioError

#: Our own configuration, because the distribution's may be missing or start services of its own.
#: bleak opens one connection per device and the daemon allows a user 256 unless told otherwise.
_CONFIGURATION: Final = """\
<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig>
  <type>session</type>
  <listen>unix:path={socket}</listen>
  <auth>EXTERNAL</auth>
  <policy context="default">
    <allow send_destination="*" eavesdrop="true"/>
    <allow eavesdrop="true"/>
    <allow own="*"/>
  </policy>
  <limit name="max_connections_per_user">4096</limit>
  <limit name="max_completed_connections">4096</limit>
</busconfig>
"""


@asynccontextmanager
async def private_bus() -> AsyncIterator[str]:
    """Run a bus that only this user can reach; yield its address.

    A program sees it as its system bus when DBUS_SYSTEM_BUS_ADDRESS is that address.

    Raises:
        RadioError: dbus-daemon is missing or won't start.
    """
    program = shutil.which("dbus-daemon")
    if program is None:
        raise RadioError(
            "dbus-daemon is missing; install the package dbus-daemon (on some systems: dbus)"
        )
    with TemporaryDirectory(prefix="livemon-bus-") as folder, _log(folder) as log:
        daemon = await asyncio.create_subprocess_exec(
            *_with_us(),
            program,
            "--nofork",
            "--nopidfile",
            "--nosyslog",
            "--print-address=1",
            f"--config-file={_configuration(folder)}",
            stdout=asyncio.subprocess.PIPE,
            stderr=log,
            start_new_session=True,  # a Ctrl-C is for us; the bus goes last
        )
        try:
            yield await _address(daemon, log)
        finally:
            if daemon.returncode is None:
                daemon.terminate()
            await daemon.wait()


def _with_us() -> tuple[str, ...]:
    """Return what lets a command end with this process, however that ends."""
    setpriv = shutil.which("setpriv")  # from util-linux; without it only a kill leaves the bus
    return () if setpriv is None else (setpriv, "--pdeathsig", "TERM", "--")


def _configuration(folder: str) -> Path:
    path = Path(folder, "bus.conf")
    path.write_text(_CONFIGURATION.format(socket=Path(folder, "bus")), encoding="utf-8")
    return path


def _log(folder: str) -> IO[bytes]:
    return Path(folder, "log").open("w+b")


async def _address(daemon: asyncio.subprocess.Process, log: IO[bytes]) -> str:
    assert daemon.stdout is not None  # asked for above
    address = (await daemon.stdout.readline()).decode().strip()
    if not address:
        log.seek(0)
        raise RadioError(f"dbus-daemon did not start: {log.read().decode(errors='replace')}")
    return address
