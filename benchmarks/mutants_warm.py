"""Look for bugs inside functions without importing anything anew: a hundredth of the time.

The tests are collected once, and run once to learn which of them reach which line. For each bug a
fork puts the changed code into the functions that are there already, and runs the tests that reach
it until one fails: first those that noticed most bugs so far, then the quickest. What was computed
while importing keeps its old value, so a bug that goes unnoticed here is no survivor yet; one that
is noticed is found.
"""

import ast
import gc
import json
import os
import signal
import tempfile
import time
from collections.abc import Callable, Generator, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import accumulate, zip_longest
from mmap import mmap
from pathlib import Path
from types import CodeType, FunctionType
from typing import Final

import coverage
import pytest
from hypothesis import Phase, settings

from benchmarks.mutants_values import CannotPlantError, plant

#: Of processor time: a bug may make a loop endless.
LEAST_S: Final = 5.0
#: Times what the tests need, so that a bug isn't "found" because the machine is busy.
PATIENCE: Final = 5.0


@dataclass(frozen=True, slots=True)
class Change:
    """A bug that can be put into functions that are there already."""

    path: Path
    lines: tuple[int, int]  #: first and last of the changed statement
    codes: dict[str, CodeType]  #: the changed code by the function's name and line
    module: CodeType | None = None  #: all of it, where the module's own code has changed


@dataclass(slots=True)
class _Run:
    """What one test did as long as there was no bug, and since."""

    took_s: float
    reached: dict[str, list[int]] = field(default_factory=dict)  #: lines by path
    saw: int = 0  #: how many bugs it was the first to notice


class FirstFailure:
    """Lets Hypothesis stop at a failing example: nobody reads a shorter one."""

    def pytest_configure(self) -> None:
        """Take the project's settings, without what serves a reader."""
        phases = (Phase.explicit, Phase.generate)
        settings.register_profile(
            "first failure", settings(), phases=phases, report_multiple_bugs=False
        )
        settings.load_profile("first failure")


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


class _Rooms:
    """Stands in for pytest's own loop over the tests."""

    def __init__(self, bugs: Sequence[Change], told: int, enough_s: float) -> None:
        self._bugs = bugs
        self._told = told
        self._enough_s = enough_s

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Try every bug in a fork of its own; tell of each by one octet.

        One octet goes before them, if the tests pass without a bug.
        """
        paths = {str(bug.path) for bug in self._bugs}
        runs = _runs(session, sorted(paths))
        if runs is None:
            return True
        os.write(self._told, b"\0")
        functions = [
            one
            for one in gc.get_objects()
            if isinstance(one, FunctionType) and one.__code__.co_filename in paths
        ]
        gc.freeze()  # so that no fork copies all memory to tidy it
        seer = mmap(-1, 4)  # a fork writes here which test failed
        for bug in self._bugs:
            seer[:] = bytes(4)
            noticed = _in_fork(partial(_look, session, bug, runs, functions, self._enough_s, seer))
            if seen_by := int.from_bytes(seer):
                runs[seen_by - 1].saw += 1
            os.write(self._told, b"\1" if noticed != 0 else b"\0")
        return True


def _in_fork(work: Callable[[], int]) -> int:
    child = os.fork()
    if not child:
        os._exit(work())
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status)


def _runs(session: pytest.Session, paths: Sequence[str]) -> list[_Run] | None:
    """Return what each test reaches; None if one fails."""
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder) / "runs.json"
        if _in_fork(partial(_record, session, paths, page)) != 0:
            return None
        return [_Run(*one) for one in json.loads(page.read_text("utf-8"))]


def _record(session: pytest.Session, paths: Sequence[str], page: Path) -> int:
    seen = coverage.Coverage(data_file=None, config_file=False, include=[*paths])
    seen.start()
    took_s = []
    items = session.items
    for number, (item, following) in enumerate(zip_longest(items, items[1:])):
        seen.switch_context(str(number))
        began_s = time.process_time()
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        took_s.append(time.process_time() - began_s)
        if session.testsfailed:
            return 1
    seen.stop()
    data = seen.get_data()
    runs = []
    for number, one_s in enumerate(took_s):
        data.set_query_context(str(number))
        files = data.measured_files()
        runs.append((one_s, {path: at for path in files if (at := data.lines(path))}))
    page.write_text(json.dumps(runs), "utf-8")
    return 0


def _look(
    session: pytest.Session,
    bug: Change,
    runs: Sequence[_Run],
    there: Sequence[FunctionType],
    enough_s: float,
    seer: mmap,
) -> int:
    signal.setitimer(signal.ITIMER_PROF, LEAST_S)
    try:
        if bug.module is None:
            numbers = _reaching_lines(bug, runs)
        else:
            numbers = _reaching_values(session, bug, bug.module, runs)
    except CannotPlantError:
        return 0  # left to the slow way
    numbers.sort(key=lambda number: (-runs[number].saw, runs[number].took_s))
    until_s = list(accumulate(runs[number].took_s for number in numbers))
    limit_s = LEAST_S + PATIENCE * min(sum(until_s[-1:]), enough_s)
    signal.setitimer(signal.ITIMER_PROF, limit_s)
    for one in there:
        old = one.__code__
        code = bug.codes.get(f"{old.co_qualname}@{old.co_firstlineno}")
        if code is not None and old.co_filename == str(bug.path):
            if len(code.co_freevars) != len(old.co_freevars):
                return 0  # can't be put in: left to the slow way
            one.__code__ = code
    numbers = [number for number, end_s in zip(numbers, until_s, strict=True) if end_s <= enough_s]
    for number, following in zip_longest(numbers, numbers[1:]):
        item = session.items[number]
        after = None if following is None else session.items[following]
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=after)
        if session.testsfailed:
            seer[:] = (number + 1).to_bytes(4)
            return 1
    return 0


def _reaching_lines(bug: Change, runs: Sequence[_Run]) -> list[int]:
    first, last = bug.lines
    return [
        number
        for number, run in enumerate(runs)
        if any(first <= line <= last for line in run.reached.get(str(bug.path), ()))
    ]


def _reaching_values(
    session: pytest.Session, bug: Change, module: CodeType, runs: Sequence[_Run]
) -> list[int]:
    """Put the changed values in; return the tests that can tell of them.

    A test whose parameters may have been made of an old number can't: it would fail for that alone.
    """
    planted = plant(bug.path, module)
    numbers = []
    for number, (run, item) in enumerate(zip(runs, session.items, strict=True)):
        file = str(item.path)
        if file not in planted.files and planted.files.isdisjoint(run.reached):
            continue
        params: dict[str, object] = getattr(getattr(item, "callspec", None), "params", {})
        if params and file in planted.with_plain:
            continue
        params.update({name: planted.now(value) for name, value in params.items()})
        numbers.append(number)
    return numbers


def noticed_warm(
    bugs: Sequence[Change], options: Sequence[str], enough_s: float
) -> Generator[bool, None, None]:
    """Yield of each bug whether a test noticed it; `options` name the tests.

    For each bug the quickest tests are run, for `enough_s` at most.

    If the tests fail without a bug, nothing is yielded.
    """
    told, tell = os.pipe()
    child = os.fork()
    if not child:
        quiet = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(quiet, stream)
        pytest.main([*options], plugins=[FirstFailure(), _Rooms(bugs, tell, enough_s)])
        os._exit(0)
    os.close(tell)
    try:
        with os.fdopen(told, "rb", buffering=0) as answers:
            if answers.read(1) == b"\0":
                while answer := answers.read(1):
                    yield answer == b"\1"
    finally:
        os.waitpid(child, 0)
