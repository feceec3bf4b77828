"""Imports run one way: a part may import the lines above its own, and its own folder."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "livemon"
RANKS = [
    {"errors", "events"},
    {"decode"},
    {"series"},
    {"estimate"},
    {"warn"},
    {"monitor"},
    {"analyse", "synthetic"},
    {"score"},
    {"tongue"},
    {"reworded"},
    {"record", "link", "net", "view", "report", "exchange"},
    {"app"},
]
CORE = {"errors", "events", "decode", "series", "estimate", "warn", "monitor", "analyse"}
OUTSIDE = {
    "asyncio", "threading", "socket", "time", "datetime", "random", "logging", "secrets",
    "bleak", "aiomqtt", "PySide6", "pyqtgraph",
}  # fmt: skip

RANK = {part: rank for rank, parts in enumerate(RANKS) for part in parts}


def imports(source: str) -> Iterator[str]:
    """Yield every dotted name that `source` imports, wherever the import stands."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield f"relative to {node.module}" if node.level else node.module or ""


def violations(part: str, source: str) -> list[str]:
    """Return what a module of `part` imports against the rule."""
    found = []
    for name in imports(source):
        top, *rest = name.split(".")
        if name.startswith("relative"):
            found.append(name)
        elif top == "livemon" and rest and part in RANK:
            other = rest[0]
            if other != part and RANK[other] >= max(RANK[part], 1):
                found.append(name)
        elif part in CORE and top in OUTSIDE:
            found.append(name)
    return found


@pytest.mark.parametrize(
    "path", sorted(PACKAGE.rglob("*.py")), ids=lambda p: str(p.relative_to(PACKAGE))
)
def test_imports_only_look_down(path: Path) -> None:
    part = path.relative_to(PACKAGE).parts[0].removesuffix(".py")

    assert violations(part, path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    ("part", "planted"),
    [
        pytest.param("decode", "from livemon.monitor.snapshot import Trust", id="upward"),
        pytest.param("view", "from livemon.record.lines import read", id="sideways"),
        pytest.param("estimate", "import time", id="a clock in the core"),
        pytest.param("monitor", "def f():\n    import asyncio", id="hidden in a function"),
        pytest.param("series", "from . import ring", id="relative"),
    ],
)
def test_a_planted_violation_is_seen(part: str, planted: str) -> None:
    """The rule above would go red."""
    assert violations(part, planted) != []


def test_every_part_has_a_rank() -> None:
    parts = {p.name.removesuffix(".py") for p in PACKAGE.iterdir() if p.suffix in {"", ".py"}}

    assert parts - {"__init__", "__main__", "__pycache__", "adapters", "languages"} == set(RANK)
