"""Write the template, or check and compile what was translated: see docs/translating.md.

`python -m translations template`, `python -m translations compile`.
"""

import sys
from pathlib import Path

from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from livemon.tongue import LANGUAGES
from translations.places import complaints
from translations.texts import template

TEMPLATE = LANGUAGES / "livemon.pot"
CATALOGUES = "*/LC_MESSAGES/livemon.po"


def write_template() -> None:
    """Write every text that is to be translated."""
    TEMPLATE.parent.mkdir(exist_ok=True)
    with TEMPLATE.open("wb") as file:
        write_po(file, template(), width=100, include_lineno=False)


def compile_all() -> int:
    """Compile every catalogue that has nothing wrong with it; return how many are refused."""
    refused = 0
    for path in sorted(LANGUAGES.glob(CATALOGUES)):
        refused += not compiled(path)
    return refused


def compiled(path: Path) -> bool:
    """Compile one catalogue beside itself, or say on the error stream what is wrong with it."""
    with path.open("rb") as file:
        catalogue = read_po(file)
    wrong = complaints(catalogue)
    for line in wrong:
        sys.stderr.write(f"{path}: {line}\n")
    if wrong:
        return False
    with path.with_suffix(".mo").open("wb") as file:
        write_mo(file, catalogue)
    return True


if __name__ == "__main__":
    match sys.argv[1:]:
        case ["template"]:
            write_template()
        case ["compile"]:
            sys.exit(1 if compile_all() else 0)
        case _:
            sys.exit(__doc__)
