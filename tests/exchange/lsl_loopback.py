"""LSL kept to this machine's loopback, for tests: a real library, no multicast, bounded waits."""

import os
from pathlib import Path
from tempfile import mkdtemp
from typing import Any
from uuid import uuid4

# Read by liblsl when it is first used; keys as in "LSL configuration files",
# labstreaminglayer.readthedocs.io/info/lslapicfg.html. Only 127.0.0.1 is asked for streams.
_CONFIG = f"""
[ports]
IPv6 = disable
[multicast]
ResolveScope = machine
AddressesOverride = {{127.0.0.1}}
Interfaces = {{127.0.0.1}}
[lab]
KnownPeers = {{127.0.0.1}}
SessionID = livemon-test-{uuid4().hex}
[log]
level = -2
"""
WAIT_S = 10.0  # passes at once; only a failure takes so long


def loopback_lsl() -> Any:
    """Return pylsl, set so that nothing leaves this machine."""
    if "LSLAPICFG" not in os.environ:
        path = Path(mkdtemp(prefix="livemon-lsl-")) / "lsl_api.cfg"
        path.write_text(_CONFIG, encoding="utf-8")
        os.environ["LSLAPICFG"] = str(path)
    import pylsl

    return pylsl


def inlet_of(source: str) -> Any:
    """Return an open inlet of the stream with this source id.

    Raises:
        AssertionError: there is none.
    """
    pylsl = loopback_lsl()
    found = pylsl.resolve_byprop("source_id", source, 1, WAIT_S)
    assert found, f"no stream {source}"
    inlet = pylsl.StreamInlet(found[0], max_buflen=60, recover=False)
    inlet.open_stream(WAIT_S)
    return inlet
