"""Words in the source that look as if people read them, and that no translator will see."""

import ast
import re
from collections.abc import Iterator

_MARKS = {"said", "said_n", "marked", "marked_n"}
#: Tags of a page, whole or cut at a place, unless they carry words themselves.
_TAGS = re.compile(r"<(?![^>]*\b(?:alt|title|aria-label)=)[^>]*(?:>|$)")


def unmarked(source: str) -> Iterator[tuple[int, str]]:
    """Yield line and text of literals with two letters or more, and a space or a capital."""
    tree = ast.parse(source)
    passed = {id(one) for node in ast.walk(tree) for one in _not_words(node)}
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or id(node) in passed:
            continue
        if isinstance(node.value, str) and _reads(_TAGS.sub("", node.value)):
            yield node.lineno, node.value


def _reads(text: str) -> bool:
    letters = sum(one.isalpha() for one in text)
    return letters >= 2 and (" " in text or any(one.isupper() for one in text))


def _is_shown(node: ast.Raise) -> bool:
    """Whether it is told to whoever wished for something."""
    made = node.exc.func if isinstance(node.exc, ast.Call) else node.exc
    return isinstance(made, ast.Name) and made.id == "UsageError"


def _not_words(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what stands in `node` and is marked, or read by nobody at a screen."""
    if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
        yield node.value  # a docstring
    elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in _MARKS:
        yield from node.args
    elif isinstance(node, ast.Raise) and not _is_shown(node):
        yield from ast.walk(node)  # a mistake in the program
    elif isinstance(node, ast.FunctionDef) and node.returns is not None:
        yield from ast.walk(node.returns)
    elif isinstance(node, ast.arg | ast.AnnAssign) and node.annotation is not None:
        yield from ast.walk(node.annotation)
