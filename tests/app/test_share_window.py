"""What the hub's window is told of its share, and `livemon library bouts`."""

import socket
from collections import Counter
from pathlib import Path

import pytest

pytest.importorskip("amqtt", reason="the extra `share`")

from livemon.app import cli
from livemon.app.share_join import invitation_of
from livemon.app.share_options import ShareWish
from livemon.app.share_refused import refused_words
from livemon.app.share_start import start_share
from livemon.app.share_window import InvitationShown
from livemon.net.share_qr import qr_matrix
from livemon.net.share_refusals import Refusal


def test_the_window_shows_what_a_relay_can_follow() -> None:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    share = start_share(ShareWish(port=port), Path("/nowhere"))
    try:
        shown = InvitationShown(share)
        model = shown.model()

        assert model.code == share.code
        assert model.place == f"127.0.0.1:{port}"
        assert model.reach == "on this computer only"
        assert invitation_of(model.command.rpartition(" ")[2]) == share.invitation
        assert model.matrix == qr_matrix(share.uri)
        assert not model.trouble
        assert not model.refused
        assert shown.notices() == ()
    finally:
        share.stop()


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (1, "once"),
        (2, "2 times"),
        (9, "9 times"),
        (10, "more than 9 times"),
        (99, "more than 9 times"),
        (100, "more than 99 times"),
        (54_321, "more than 9999 times"),
    ],
)
def test_a_flood_at_the_door_is_no_flood_of_words(count: int, words: str) -> None:
    told = refused_words(Counter({Refusal.WRONG_CODE: count}))

    assert told == (f"somebody gave a wrong join code, {words}",)


def test_the_most_frequent_refusal_comes_first() -> None:
    first, second = refused_words(Counter({Refusal.FULL: 1, Refusal.WRONG_CODE: 3}))

    assert first == "somebody gave a wrong join code, 3 times"
    assert second == "somebody came when the places for relays were all taken, once"


def test_the_library_says_why_no_page_opens_without_a_screen(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    (tmp_path / "monday.jsonl").write_text("", encoding="utf-8")

    assert cli.main(["library", "--folder", str(tmp_path), "bouts", "monday.jsonl"]) != 0
    assert "livemon bouts RECORDING" in capsys.readouterr().err


def test_the_library_opens_the_page_on_what_was_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = []
    monkeypatch.setattr("livemon.app.commands.library.show_bouts", lambda wish: asked.append(wish))
    monkeypatch.setattr("livemon.app.commands.library.why_no_window", lambda environment: None)
    for name in ("march.jsonl", "may.jsonl"):
        (tmp_path / name).write_text("", encoding="utf-8")
    words = ["bouts", "march.jsonl", "may.jsonl", "--athlete", "Ada"]
    cli.main(["library", "--folder", str(tmp_path), *words])

    (wish,) = asked
    assert [path.name for path in wish.paths] == ["march.jsonl", "may.jsonl"]
    assert wish.athlete == "Ada"
    assert not wish.growing


def test_the_desktop_program_takes_the_options_of_a_session(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.argv", ["livemon-app", "--share-on", "8.8.8.8"])

    assert cli.main_window() != 0
    assert "not an address of a local network" in capsys.readouterr().err
