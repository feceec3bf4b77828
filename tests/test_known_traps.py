"""Calls that look harmless, and have cost programs of this kind their sensors or their ends.

Each is kept out of the whole package by its name; why is said beside it, with who found out.
"""

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "livemon"

#: Loses a cancellation on Python 3.11 (https://github.com/python/cpython/issues/86296).
WAIT_FOR = "asyncio.wait_for"
#: A second loop inside the first; of bleak's objects only one may ever be used (its
#: docs/troubleshooting.rst), and MQTT needs a selector loop on Windows: a Runner is told which.
RUN = "asyncio.run"
#: A guess on Linux until it is asked for (https://github.com/hbldh/bleak/issues/1497).
MTU = "mtu_size"
#: A loop inside the loop: a dialog is opened, and says when it is done (Qt's own advice, QDialog).
#: Only the application itself runs one.
EXEC = "exec"


def traps(source: str) -> list[str]:
    """Return the traps in a source, each with its line."""
    found = []
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Attribute):
            continue
        whole = ast.unparse(node)
        own_loop = whole in {"application.exec", "QApplication.exec"}
        if whole in {WAIT_FOR, RUN} or (node.attr in {MTU, EXEC} and not own_loop):
            found.append(f"{whole} in line {node.lineno}")
    return found


@pytest.mark.parametrize(
    "source",
    ["await asyncio.wait_for(x, 1)", "asyncio.run(x)", "client.mtu_size", "BoutForm().exec()"],
)
def test_each_trap_is_noticed(source: str) -> None:
    assert len(traps(source)) == 1


def test_the_applications_own_loop_is_none() -> None:
    assert traps("code = application.exec()") == []


def test_nobody_steps_into_one() -> None:
    # A stand-in for bleak's client has to have what bleak's has.
    files = [path for path in PACKAGE.rglob("*.py") if path.parent.name != "simulated"]

    found = {path.name: traps(path.read_text(encoding="utf-8")) for path in files}

    assert {name: lines for name, lines in found.items() if lines} == {}
