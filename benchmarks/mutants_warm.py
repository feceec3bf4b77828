"""Look for bugs inside functions without importing anything anew: a hundredth of the time.

The tests of a room are collected once. For each bug a fork puts the changed code into the functions
that are there already, and runs the tests until one fails. What was computed while importing keeps
its old value, so a bug that goes unnoticed here is no survivor yet; one that is noticed is found.
"""

import ast
import os
import signal
from collections.abc import Generator, Sequence
from gc import get_objects
from pathlib import Path
from types import CodeType, FunctionType
from typing import Final

import pytest

LIMIT_S: Final = 60  # of processor time

#: A module, and its changed code by the function's name and line.
Change = tuple[Path, dict[str, CodeType]]


def changed_functions(
    path: Path, before: ast.Module, after: ast.Module
) -> dict[str, CodeType] | None:
    """Return the changed code by qualified name; None if the module's own code has changed.

    `before` and `after` are the module's syntax trees.
    """
    old, new = (_codes(compile(tree, str(path), "exec")) for tree in (before, after))
    if old.keys() != new.keys():
        return None
    differ = {name for name in old if old[name] != new[name]}
    outermost = {name for name in differ if name != ("<module>", 0)}
    if not outermost or _bare(old["<module>", 0]) != _bare(new["<module>", 0]):
        return None
    return {f"{name}@{line}": new[name, line] for name, line in outermost}


def _codes(whole: CodeType) -> dict[tuple[str, int], CodeType]:
    found = {("<module>", 0): whole}
    waiting = [whole]
    while waiting:
        for one in waiting.pop().co_consts:
            if isinstance(one, CodeType):
                found[one.co_qualname, one.co_firstlineno] = one
                waiting.append(one)
    return found


def _bare(code: CodeType) -> tuple[object, ...]:
    """Return a module's code without that of its functions; a class body's counts as its own."""
    rest = tuple(
        _bare(one) if isinstance(one, CodeType) and not one.co_flags & 0x2 else one
        for one in code.co_consts
        if not (isinstance(one, CodeType) and one.co_flags & 0x2)  # functions have fast locals
    )
    return code.co_code, code.co_names, repr(rest)


class _Room:
    """Stands in for pytest's own loop over the tests."""

    def __init__(self, bugs: Sequence[Change], told: int) -> None:
        self._bugs = bugs
        self._told = told

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Try every bug in a fork of its own; tell of each by one octet, 1 if it was noticed."""
        functions = [one for one in get_objects() if isinstance(one, FunctionType)]
        for path, codes in self._bugs:
            child = os.fork()
            if not child:
                os._exit(_look(session, path, codes, functions))
            _, status = os.waitpid(child, 0)
            os.write(self._told, b"\1" if os.waitstatus_to_exitcode(status) else b"\0")
        return True


def _look(
    session: pytest.Session, path: Path, codes: dict[str, CodeType], there: Sequence[FunctionType]
) -> int:
    signal.setitimer(signal.ITIMER_PROF, LIMIT_S)
    for one in there:
        old = one.__code__
        code = codes.get(f"{old.co_qualname}@{old.co_firstlineno}")
        if code is not None and old.co_filename == str(path):
            if len(code.co_freevars) != len(old.co_freevars):
                return 0  # can't be put in: left to the slow way
            one.__code__ = code
    own = f"test_{path.stem}"
    items = sorted(session.items, key=lambda item: not item.path.stem.startswith(own))
    for item, following in zip(items, [*items[1:], None], strict=True):
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        if session.testsfailed:
            return 1
    return 0


def noticed_warm(bugs: Sequence[Change], options: Sequence[str]) -> Generator[bool, None, None]:
    """Yield of each bug whether a test noticed it; `options` name the tests.

    The first is told of after the tests have passed without a bug; if they don't, nothing is.
    """
    told, tell = os.pipe()
    child = os.fork()
    if not child:
        quiet = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(quiet, stream)
        pytest.main([*options], plugins=[_Room([(Path(), {}), *bugs], tell)])
        os._exit(0)
    os.close(tell)
    try:
        with os.fdopen(told, "rb", buffering=0) as answers:
            if answers.read(1) == b"\0":
                while answer := answers.read(1):
                    yield answer == b"\1"
    finally:
        os.waitpid(child, 0)
