"""What is kept from one session to the next: view settings, the window's size, the sensors."""

import os
from pathlib import Path

import pytest

from livemon.app.remembered import load_sensors, save_sensors
from livemon.app.view_file import load_size, load_view, save_size, save_view
from livemon.errors import ConfigError
from livemon.link.identity import HostAddress, Remembered
from livemon.view.settings import ThemeChoice, ViewSettings

CHOSEN = ViewSettings(240.0, 2.0, 0.18, ThemeChoice.LIGHT, motion=False, sound=True)


@pytest.mark.parametrize("settings", [CHOSEN, ViewSettings()])
def test_what_was_chosen_comes_back(tmp_path: Path, settings: ViewSettings) -> None:
    save_view(tmp_path / "new" / "folder", settings)

    assert load_view(tmp_path / "new" / "folder") == settings


def test_nothing_chosen_gives_the_defaults(tmp_path: Path) -> None:
    assert load_view(tmp_path) == ViewSettings()
    assert load_size(tmp_path) is None
    assert load_sensors(tmp_path) == ()


@pytest.mark.parametrize(
    ("text", "path"),
    [
        pytest.param('[view]\ntheme = "blue"', "view.theme", id="no such theme"),
        pytest.param("[view]\nwindow_s = 1", "view.window_s", id="out of range"),
        pytest.param("[view]\nwindow = 1", "view.window", id="unknown key"),
        pytest.param("[view]\nmotion = 1", "view.motion", id="not true or false"),
        pytest.param("view = 1", "view", id="not a table"),
        pytest.param("[view", "", id="not TOML"),
    ],
)
def test_a_wrong_settings_file_is_told_with_its_key(tmp_path: Path, text: str, path: str) -> None:
    (tmp_path / "settings.toml").write_text(text, encoding="utf-8")

    with pytest.raises(ConfigError) as told:
        load_view(tmp_path)

    assert told.value.path == path
    assert "settings.toml" in told.value.where


def test_the_windows_size_comes_back(tmp_path: Path) -> None:
    save_size(tmp_path, (1366, 768))

    assert load_size(tmp_path) == (1366, 768)


@pytest.mark.parametrize("text", ["", "{}", "[1]", '["a", 2]', "null"])
def test_a_damaged_size_is_no_size(tmp_path: Path, text: str) -> None:
    (tmp_path / "window.json").write_text(text, encoding="utf-8")

    assert load_size(tmp_path) is None


def test_sensors_come_back_and_are_nobody_elses_to_read(tmp_path: Path) -> None:
    registry = (
        Remembered("s1", "belt", "HRM", None, (HostAddress("h", "C0:00:00:00:00:01"),), "sn"),
        Remembered("o1", "thigh", None, "invented-demo"),
    )
    save_sensors(tmp_path, registry)
    save_sensors(tmp_path, registry)

    assert load_sensors(tmp_path) == registry
    if os.name != "nt":
        assert (tmp_path / "sensors.toml").stat().st_mode & 0o777 == 0o600


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")

    with pytest.raises(ConfigError):
        save_view(tmp_path / "file" / "folder", CHOSEN)
    with pytest.raises(ConfigError):
        save_sensors(tmp_path / "file" / "folder", ())
