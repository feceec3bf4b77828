"""The command line: what it says when asked, and when it can't do what was asked."""

import subprocess
import sys

import pytest

from livemon.app.cli import COMMANDS, FAILED, main, overview

SLOW = {"numpy", "PySide6", "bleak", "pyqtgraph", "aiomqtt", "asyncio"}


def test_help_lists_every_command_and_the_caution(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0

    text = capsys.readouterr().out
    assert all(name in text for name in COMMANDS)
    assert "not a medical device" in text
    assert max(map(len, overview().splitlines())) <= 100


def test_help_needs_none_of_the_slow_libraries() -> None:
    """A person who asks for help gets it at once."""
    code = (
        "import sys; from livemon.app.cli import main; main(['--help']); "
        f"print(sorted({SLOW!r} & set(sys.modules)), file=sys.stderr)"
    )

    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)

    assert done.stderr.strip() == "[]"


def test_an_unknown_command_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["relpay"]) == FAILED

    assert "'relpay'" in capsys.readouterr().err


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as left:
        main([name, "--help"])

    assert left.value.code == 0
    assert f"livemon {name}" in capsys.readouterr().out
