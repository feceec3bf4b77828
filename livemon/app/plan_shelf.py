"""The plans there are to choose from: files of one's own in a folder, and the ready-made ones."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from livemon.errors import ConfigError
from livemon.monitor.plan import Plan
from livemon.monitor.plan_file import parse_plan, ready_made_plans

_SUFFIX: Final = ".toml"


@dataclass(frozen=True, slots=True)
class Shelved:
    """One plan; `plan` is None where the file is wrong, and `problem` then says what."""

    name: str  #: to ask for it
    own: bool
    plan: Plan | None
    problem: str = ""


def shipped_plans() -> dict[str, str]:
    """Return the text of each ready-made plan by the name to ask for it."""
    return {file.removesuffix(_SUFFIX).replace("_", "-"): text for file, text in ready_made_plans()}


def own_plans(folder: Path) -> dict[str, Path]:
    """Return the files in the folder for one's own plans by name; there need not be one."""
    try:
        found = sorted(path for path in folder.iterdir() if path.suffix == _SUFFIX)
    except OSError:
        return {}
    return {path.stem: path for path in found}


def plan_file_text(path: Path) -> str:
    """Return the text of a plan file.

    Raises:
        ConfigError: it can't be read.
    """
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise ConfigError(str(path), "", f"can't be read: {error}") from error


def shelf(folder: Path) -> tuple[Shelved, ...]:
    """Return all plans, own ones first; a file that is wrong hides no other."""
    own = [_own(name, path) for name, path in own_plans(folder).items()]
    names = {one.name for one in own}
    ready = [
        Shelved(name, own=False, plan=parse_plan(text, name))
        for name, text in shipped_plans().items()
        if name not in names
    ]
    return (*own, *ready)


def _own(name: str, path: Path) -> Shelved:
    try:
        return Shelved(name, own=True, plan=parse_plan(plan_file_text(path), path.name))
    except ConfigError as error:
        return Shelved(name, own=True, plan=None, problem=str(error))
