"""Every text of the screens, found in the source: what `said`, `said_n` and `marked` are given."""

import ast
from collections.abc import Iterator
from pathlib import Path

from babel.messages import Catalog

import livemon

PACKAGE = Path(livemon.__file__).parent

#: One text, or one and many of it.
Text = str | tuple[str, str]


def template() -> Catalog:
    """Return a catalogue of all texts, with the files in which they stand."""
    catalogue = Catalog(project="livemon", charset="utf-8", fuzzy=False)
    for path in sorted(PACKAGE.rglob("*.py")):
        place = path.relative_to(PACKAGE.parent).as_posix()
        for line, text in texts(path.read_text(encoding="utf-8")):
            catalogue.add(text, locations=[(place, line)], flags=["python-brace-format"])
    return catalogue


def texts(source: str) -> Iterator[tuple[int, Text]]:
    """Yield line and text of each call with a literal; the rest are looked up by a marked text."""
    for node in ast.walk(ast.parse(source)):
        if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
            continue
        given = [one.value for one in node.args if isinstance(one, ast.Constant)]
        words = [one for one in given if isinstance(one, str)]
        if node.func.id in {"said", "marked"} and words:
            yield node.lineno, words[0]
        elif node.func.id in {"said_n", "marked_n"} and len(words) == 2:
            yield node.lineno, (words[0], words[1])
