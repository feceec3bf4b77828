"""What the core hands out can't be changed by whoever gets it."""

from dataclasses import is_dataclass
from importlib import import_module
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "livemon"
CORE = ("events", "errors", "decode", "series", "estimate", "warn", "monitor", "analyse")


def core_modules() -> list[str]:
    """Return the dotted names of all modules of the core."""
    paths = [path for part in CORE for path in (PACKAGE / part).glob("*.py")]
    paths += [path for part in CORE if (path := PACKAGE / f"{part}.py").exists()]
    return sorted(
        ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts).removesuffix(".__init__")
        for path in paths
    )


@pytest.mark.parametrize("name", core_modules())
def test_every_dataclass_is_frozen_and_takes_no_other_attribute(name: str) -> None:
    for kind in vars(import_module(name)).values():
        if isinstance(kind, type) and kind.__module__ == name and is_dataclass(kind):
            assert kind.__dataclass_params__.frozen, kind  # type: ignore[attr-defined]  # no stub
            assert "__slots__" in vars(kind), kind
