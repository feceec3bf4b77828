"""What the README tells people to type is what is checked."""

import re
from pathlib import Path

from livemon.app.cli import COMMANDS

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_ci_runs_the_readme_test_command() -> None:
    commands = re.findall(r"^python3 -m venv .*pytest$", README, flags=re.MULTILINE)

    assert len(commands) == 1
    assert commands[0] in (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()


def test_every_link_leads_somewhere() -> None:
    pages = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").glob("*.md")]
    broken = [
        f"{page.name}: {target}"
        for page in pages
        for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8"))
        if not (page.parent / target).exists()
    ]

    assert broken == []


def test_the_readme_names_only_commands_that_exist() -> None:
    blocks = re.findall(r"```sh\n(.*?)```", README, flags=re.DOTALL)
    typed = [*re.findall(r"`(livemon [^`]+)`", README), *"\n".join(blocks).splitlines()]
    named = {found[1] for line in typed if (found := re.search(r"\blivemon ([a-z]+)", line))}

    assert {"demo", "live", "replay"} <= named <= set(COMMANDS)
