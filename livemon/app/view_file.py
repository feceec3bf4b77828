"""What a person chose about the screen, kept in one TOML file, and the size of the window.

    [view]
    window_s = 360.0
    theme = "dark"

Every key may be left out; its default then holds. The reasons for the defaults stand on the
settings page.
"""

import json
from dataclasses import fields, replace
from pathlib import Path
from typing import Final

from livemon.decode.toml_table import TomlTable, parse_toml
from livemon.errors import ConfigError
from livemon.view.settings import ThemeChoice, ViewSettings

_NAME: Final = "settings.toml"
_SIZE_NAME: Final = "window.json"

#: What the settings page offers, and a little more.
_LIMITS: Final = {
    "window_s": (60.0, 3600.0),
    "distance_m": (0.5, 10.0),
    "pixel_mm": (0.05, 2.0),
    "battery_low_pct": (0.0, 100.0),
}


def load_view(folder: Path) -> ViewSettings:
    """Return what was chosen, or the defaults.

    Raises:
        ConfigError: the file can't be read, or a key is unknown or out of range.
    """
    path = folder / _NAME
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ViewSettings()
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(str(path), "", f"can't be read: {error}") from error
    top = parse_toml(text, str(path), ConfigError)
    view = top.table("view")
    settings = _settings(view)
    view.end()
    top.end()
    return settings


def save_view(folder: Path, settings: ViewSettings) -> None:
    """Write what was chosen: the whole file or nothing.

    Raises:
        ConfigError: the file can't be written.
    """
    lines = ["# What you chose in livemon's settings.", "[view]"]
    for one in fields(settings):
        value = getattr(settings, one.name)
        if isinstance(value, ThemeChoice):
            lines.append(f'{one.name} = "{value.value}"')
        elif value is not None:
            lines.append(f"{one.name} = {json.dumps(value)}")
    _write(folder / _NAME, "\n".join(lines) + "\n")


def load_size(folder: Path) -> tuple[int, int] | None:
    """Return the window's size as remembered; None the first time, or if it makes no sense."""
    try:
        width, height = json.loads((folder / _SIZE_NAME).read_text(encoding="utf-8"))
    except (OSError, ValueError, TypeError):
        return None
    return (width, height) if isinstance(width, int) and isinstance(height, int) else None


def save_size(folder: Path, size: tuple[int, int]) -> None:
    """Remember the window's size."""
    _write(folder / _SIZE_NAME, f"{json.dumps(size)}\n")


def _settings(view: TomlTable) -> ViewSettings:
    """Read the keys that are there."""
    chosen: dict[str, object] = {}
    for key, (low, high) in _LIMITS.items():
        if view.has(key):
            value = view.checked_number(key, view.take(key, int, float))
            if not low <= value <= high:
                raise view.error(key, f"expected {low:g} to {high:g}, found {value:g}")
            chosen[key] = value
    if "battery_low_pct" in chosen:
        chosen["battery_low_pct"] = round(view.checked_number("", chosen["battery_low_pct"]))
    if view.has("theme"):
        chosen["theme"] = ThemeChoice(view.choice("theme", [t.value for t in ThemeChoice]))
    defaults = ViewSettings()
    for key in ("motion", "sound", "speech", "awake"):
        chosen[key] = view.flag(key, getattr(defaults, key))
    return replace(defaults, **chosen)  # type: ignore[arg-type]  # each key checked above


def _write(path: Path, text: str) -> None:
    fresh = path.with_name(f"{path.name}.new")
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        fresh.write_text(text, encoding="utf-8", newline="\n")
        fresh.replace(path)
    except OSError as error:
        raise ConfigError(str(path), "", f"can't be written: {error.strerror}") from error
