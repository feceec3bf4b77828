"""Names that are known at the hub only."""

from pathlib import Path

import pytest

from livemon.app.hub_names import named, read_names
from livemon.errors import ConfigError
from livemon.events import Athlete, AthleteChanged, LinkUp


def test_names_are_read_and_given_where_a_relay_left_them_out(tmp_path: Path) -> None:
    path = tmp_path / "names.toml"
    path.write_text('[names]\n"gym-1.a1" = "Ada"\n')
    events = [
        AthleteChanged(1, Athlete("gym-1.a1", "", (142, 154))),
        AthleteChanged(1, Athlete("gym-1.a2", "")),
        AthleteChanged(1, Athlete("gym-1.a1", "as the relay says")),
        LinkUp(1, "gym-1.strap"),
    ]

    first, *others = named(events, read_names(path))

    assert first == AthleteChanged(1, Athlete("gym-1.a1", "Ada", (142, 154)))
    assert others == events[1:]


@pytest.mark.parametrize(
    "text", ["nonsense", "", '[names]\n"a" = 1\n', '[names]\n"a" = ""\n', '[other]\n"a" = "b"\n']
)
def test_a_file_that_says_something_else_is_told(tmp_path: Path, text: str) -> None:
    path = tmp_path / "names.toml"
    path.write_text(text)

    with pytest.raises(ConfigError, match=r"names\.toml"):
        read_names(path)


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(ConfigError, match="can't be read"):
        read_names(tmp_path / "gone.toml")
