"""What a relay owes is remembered by where it was meant to go."""

from pathlib import Path

import pytest

from livemon.app.relay_owed import MOST, Owed, OwedFile
from livemon.errors import ConfigError


def recordings(folder: Path, count: int) -> list[str]:
    paths = [folder / f"{n}.jsonl" for n in range(count)]
    for path in paths:
        path.touch()
    return [str(path) for path in paths]


def test_it_is_remembered_until_it_is_done(tmp_path: Path) -> None:
    one, two = recordings(tmp_path, 2)
    owed = OwedFile(tmp_path)
    owed.add(Owed("here", "s1", one))
    owed.add(Owed("here", "s2", two))
    assert [one.session for one in OwedFile(tmp_path).to("here")] == ["s2", "s1"]
    OwedFile(tmp_path).done("s2")

    assert OwedFile(tmp_path).to("here") == (Owed("here", "s1", one),)


def test_one_classs_recordings_never_go_to_another_broker(tmp_path: Path) -> None:
    (one,) = recordings(tmp_path, 1)
    OwedFile(tmp_path).add(Owed("here:1883/class-a/gym-1", "s1", one))

    assert OwedFile(tmp_path).to("there:1883/class-a/gym-1") == ()
    assert OwedFile(tmp_path).to("here:1883/class-b/gym-1") == ()


def test_recordings_that_were_deleted_are_not_owed(tmp_path: Path) -> None:
    OwedFile(tmp_path).add(Owed("here", "s1", str(tmp_path / "gone.jsonl")))

    assert OwedFile(tmp_path).to("here") == ()


def test_no_more_are_sent_at_a_time_than_a_hub_takes(tmp_path: Path) -> None:
    owed = OwedFile(tmp_path)
    for number, path in enumerate(recordings(tmp_path, MOST + 5)):
        owed.add(Owed("here", f"s{number}", path))

    assert len(owed.to("here")) == MOST


@pytest.mark.parametrize("text", ["nonsense", "[1]", '[{"to":"x"}]', "{}x"])
def test_a_damaged_list_is_told(tmp_path: Path, text: str) -> None:
    (tmp_path / "owed.json").write_text(text)

    with pytest.raises(ConfigError, match=r"owed\.json"):
        OwedFile(tmp_path)
