"""A share from its start to its end, and a relay that joins it, over real sockets on loopback."""

import asyncio
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from ipaddress import ip_address
from pathlib import Path

import pytest

pytest.importorskip("amqtt", reason="the extra `share`")

from livemon.app.headless import snapshots_of
from livemon.app.share import Share
from livemon.app.share_join import found, invitation_of, join
from livemon.app.share_kept import kept_certificate
from livemon.app.share_options import ShareWish
from livemon.app.share_show import invitation_lines
from livemon.app.share_start import GROUP, start_share
from livemon.app.share_token import own_token
from livemon.errors import ConfigError, UsageError
from livemon.events import Notification
from livemon.net.mqtt import MqttBroker
from livemon.net.share_code import read_code
from livemon.net.share_listen import PortTaken
from livemon.net.topics import Leaf, Topic
from livemon.net.trouble import BrokerLost
from livemon.record.reader import open_recording

#: An invented athlete; see its head.
FIXTURE = Path(__file__).parents[2] / "replay_fixtures" / "over-the-line.jsonl"
THIS_COMPUTER = ip_address("127.0.0.1")
#: A second loopback address stands for one on a network: there a share speaks TLS.
NETWORK = ip_address("127.0.0.2")
on_linux = pytest.mark.skipif(sys.platform != "linux", reason="only there 127.0.0.2 is set up")


def free_port(host: str = "127.0.0.1") -> int:
    with socket.socket() as probe:
        probe.bind((host, 0))
        return probe.getsockname()[1]


@contextmanager
def sharing(wish: ShareWish, folder: Path = Path("/nowhere")) -> Iterator[Share]:
    share = start_share(wish, folder)
    try:
        yield share
        assert share.failure is None
    finally:
        share.stop()


async def carried(share: Share, relay: MqttBroker) -> bytes:
    """Send a line from a relay r1 to the hub."""
    place = str(Topic(GROUP, "r1", Leaf.LIVE))
    async with (
        MqttBroker(share.address, "hub").connection() as hub,
        relay.connection() as connection,
    ):
        await hub.subscribe([(f"livemon/1/{GROUP}/+/live", 0)])
        await connection.publish(place, b"a batch", qos=1)
        return (await anext(hub.arrivals())).payload


def in_selector_loop(work):
    with asyncio.Runner(loop_factory=asyncio.SelectorEventLoop) as runner:
        return runner.run(work)


def test_on_this_computer_a_short_code_is_enough() -> None:
    with sharing(ShareWish(port=free_port())) as share:
        assert len(share.code) == len("K7QM-3XHD")
        joined = join(f"{share.code}@127.0.0.1:{share.invitation.port}", "r1", "token")
        assert joined.trust is None
        relay = MqttBroker(joined.address, "relay-r1")

        assert in_selector_loop(carried(share, relay)) == b"a batch"


@on_linux
@pytest.mark.parametrize("way", ["{uri}", "{code}@127.0.0.2:{port}"])
def test_beyond_it_the_relay_knows_the_hub_by_its_certificate(way: str, tmp_path: Path) -> None:
    with sharing(ShareWish(NETWORK, free_port("127.0.0.2")), tmp_path) as share:
        text = way.format(uri=share.uri, code=share.code, port=share.invitation.port)
        joined = join(text, "r1", "token")
        assert joined.address.tls
        relay = MqttBroker(joined.address, "relay-r1", trust=joined.trust)

        assert in_selector_loop(carried(share, relay)) == b"a batch"


@on_linux
def test_another_hub_at_the_same_address_is_not_told_the_code(tmp_path: Path) -> None:
    port = free_port("127.0.0.2")
    with sharing(ShareWish(NETWORK, port), tmp_path / "ours") as share:
        ours, typed = share.uri, f"{share.code}@127.0.0.2:{port}"
    with sharing(ShareWish(NETWORK, port), tmp_path / "another") as share:
        for text in (ours, typed):
            with pytest.raises(UsageError, match="another certificate"):
                join(text, "r1", "token")
        assert not share.refused  # the code was not even told


@on_linux
def test_who_trusts_one_hub_does_not_trust_another(tmp_path: Path) -> None:
    port = free_port("127.0.0.2")
    with sharing(ShareWish(NETWORK, port), tmp_path / "ours") as share:
        joined = join(share.uri, "r1", "token")
    with sharing(ShareWish(NETWORK, port), tmp_path / "another") as share:
        relay = MqttBroker(joined.address, "relay-r1", trust=joined.trust)
        with pytest.raises(UsageError, match="join anew"):
            in_selector_loop(carried(share, relay))


@on_linux
def test_a_hub_is_the_same_after_a_new_start_but_its_code_is_new(tmp_path: Path) -> None:
    port = free_port("127.0.0.2")
    with sharing(ShareWish(NETWORK, port), tmp_path) as share:
        first = join(share.uri, "r1", "token")
    with sharing(ShareWish(NETWORK, port), tmp_path) as share:
        again = join(share.uri, "r1", "token")
        relay = MqttBroker(first.address, "relay-r1", trust=first.trust)
        with pytest.raises(UsageError, match="user name or password"):
            in_selector_loop(carried(share, relay))

    assert again.hub == first.hub
    assert again.address.password != first.address.password
    (kept,) = tmp_path.glob("hub-*.pem")
    assert kept.stat().st_mode & 0o077 == 0


def test_a_certificate_that_can_not_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / "hub-127.0.0.2.pem").write_text("half a certi", encoding="ascii")

    with pytest.raises(ConfigError, match="relays no longer send"):
        kept_certificate(tmp_path, NETWORK)


@on_linux
def test_a_hub_that_announces_itself_is_found_by_its_code(tmp_path: Path) -> None:
    """Multicast on loopback; nothing leaves this computer."""
    wish = ShareWish(NETWORK, free_port("127.0.0.2"), announce=True)
    with sharing(wish, tmp_path) as share:
        invitation = in_selector_loop(found(read_code(share.code), 8.0, on="127.0.0.2"))
        assert invitation == share.invitation
        other = read_code(share.code[:-4] + ("3333" if share.code[-4:] != "3333" else "4444"))
        with pytest.raises(UsageError, match="1 other hubs answered"):
            in_selector_loop(found(other, 0.8, on="127.0.0.2"))


def test_a_port_that_is_taken_is_told_with_what_to_do() -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        with pytest.raises(PortTaken, match=f"--share-on 127.0.0.1:{port + 1}") as told:
            start_share(ShareWish(port=port), Path("/nowhere"))
    assert (told.value.host, told.value.port) == (THIS_COMPUTER, port)


def test_ten_starts_on_one_port_leave_nothing_behind() -> None:
    port, threads = free_port(), threading.active_count()
    codes = set()
    for _ in range(10):
        with sharing(ShareWish(port=port)) as share:
            codes.add(share.code)
    assert len(codes) == 10
    assert threading.active_count() == threads
    with pytest.raises(BrokerLost):
        in_selector_loop(carried(share, MqttBroker(share.address, "relay-r1")))


def test_nothing_that_can_be_printed_by_mistake_tells_the_keys() -> None:
    with sharing(ShareWish(port=free_port())) as share:
        secret = share.invitation.code.secret
        assert share.address.password is not None
        for text in (repr(share.address), repr(share.invitation)):
            assert secret not in text
            assert share.address.password not in text


def test_what_is_shown_can_be_followed() -> None:
    with sharing(ShareWish(port=free_port())) as share:
        shown = "\n".join(invitation_lines(share, terminal=False))
        command = next(line for line in shown.splitlines() if "livemon relay --join" in line)
        assert invitation_of(command.rpartition(" ")[2]) == share.invitation
        line = next(line for line in shown.splitlines() if "livemon://" in line)
        assert invitation_of(line.rpartition(" ")[2]) == share.invitation


def test_a_relay_is_asked_for_the_code_where_none_was_given() -> None:
    with sharing(ShareWish(port=free_port())) as share:
        joined = join("-", "r1", "token", ask=lambda _: f" {share.uri} ")
    assert joined.address.port == share.invitation.port


def test_a_token_is_made_once_and_nobody_else_reads_it(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    token = own_token(folder)

    assert own_token(folder) == token
    assert own_token(tmp_path / "other") != token
    if os.name == "posix":
        assert (folder / "relay-token").stat().st_mode & 0o077 == 0


def test_a_token_that_can_not_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / "relay-token").mkdir()
    with pytest.raises(ConfigError, match="relay-token"):
        own_token(tmp_path)


def livemon(folder: Path, *words: str) -> "subprocess.Popen[str]":
    places = {name: str(folder / name) for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "HOME")}
    return subprocess.Popen(
        [sys.executable, "-m", "livemon", *words],
        env=os.environ | places,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def event_lines(path: Path) -> list[str]:
    lines = path.read_text().splitlines()
    return [line for line in lines if not line.startswith('{"livemon"')]


def recordings(folder: Path) -> list[Path]:
    return sorted(folder.rglob("recordings/*.jsonl"))


@pytest.mark.skipif(sys.platform != "linux", reason="folders are told by XDG_DATA_HOME")
def test_the_commands_carry_a_session_once_and_in_order(tmp_path: Path) -> None:
    """`livemon live --share-on …` and `livemon relay --join …`, each a process of its own."""
    port = free_port()
    hub = livemon(tmp_path / "hub", "live", "--share-on", f"127.0.0.1:{port}", "--json")
    assert hub.stderr is not None
    uri = next(line for line in hub.stderr if "livemon://" in line).split()[-1]
    relay = livemon(
        tmp_path / "relay", "relay", "--join", uri, "--id", "gym-1", "--recording", str(FIXTURE)
    )
    give_up_s = time.monotonic() + 20
    while not (begun := recordings(tmp_path / "relay")) or len(readings(begun[0])) < 8:
        assert relay.poll() is None
        assert time.monotonic() < give_up_s
        time.sleep(0.05)  # another process is looked at
    for process in (relay, hub):
        process.send_signal(signal.SIGINT)
        process.communicate(timeout=20)

    (theirs,) = recordings(tmp_path / "relay")
    copy = next(path for path in recordings(tmp_path / "hub") if path.name.startswith("gym-1-"))
    session = next(path for path in recordings(tmp_path / "hub") if path != copy)
    assert event_lines(copy) == event_lines(theirs)
    assert shown(copy) == shown(theirs)
    # What the hub's own session was fed is what the relay read, each once and in its order.
    read = readings(theirs)
    assert readings(session)
    assert readings(session) == read[-len(readings(session)) :]


def readings(path: Path) -> list[tuple[str, bytes]]:
    events = open_recording(path).events()
    return [(event.sensor, event.payload) for event in events if isinstance(event, Notification)]


def shown(path: Path) -> list[str]:
    recording = open_recording(path)
    return list(snapshots_of(recording.head, recording.events()))
