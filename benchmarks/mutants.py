"""Plant one small bug after another and see whether the tests notice.

    python -m benchmarks.mutants livemon/decode             every module of a room
    python -m benchmarks.mutants livemon/warn/judge.py      one module
    python -m benchmarks.mutants livemon/decode --every 10  a tenth of the bugs, spread evenly

A bug is a comparison, sign, number, `and` or `not` turned into its neighbour, or a statement left
out. The tests of the module run first, then those of its room, then the rooms above that use it;
the bug is found as soon as one test fails (most of them quickly, see mutants_warm.py). What
survives is printed with its line. Bugs that change nothing anybody could see are listed with their
reason in mutants.toml. Linux and macOS only: each bug lives in a fork of one warm process.
"""

import argparse
import ast
import contextlib
import copy
import importlib.abc
import importlib.machinery
import importlib.util
import io
import os
import signal
import sys
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf
from pathlib import Path
from types import ModuleType
from typing import Final

from benchmarks.mutants_warm import Change, FirstFailure, changed_functions, noticed_warm

ROOT: Final = Path(__file__).parents[1]
#: Processor time for a module's own tests, its room's and those above: a bug may make a loop
#: endless. They need a tenth of it.
LIMITS_S: Final = (15, 60, 150)
#: With --quick, the quickest tests that reach a bug are run for so long.
QUICK_S: Final = 10.0
#: Hypothesis is imported before pytest could rewrite it, which pytest would end the run for.
QUIET: Final = (
    "-x", "-q", "--no-header", "--tb=no", "-p", "no:cacheprovider", "-p", "no:pytest-qt",
    "-W", "ignore:Module already imported",
)  # fmt: skip
#: Sees what no behaviour of a single value shows.
VALUES: Final = "tests/test_core_values.py"
#: Tests that see a room's bugs from above, after its own.
ABOVE: Final = {
    "decode": ("tests/monitor",),
    "series": ("tests/monitor",),
    "estimate": ("tests/test_fixtures.py", "tests/warn", "tests/monitor"),
    "warn": ("tests/test_fixtures.py", "tests/monitor"),
}

_COMPARISONS: Final = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
_OPERATORS: Final = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult, ast.Mod: ast.FloorDiv, ast.LShift: ast.RShift, ast.RShift: ast.LShift,
    ast.BitAnd: ast.BitOr, ast.BitOr: ast.BitAnd, ast.Pow: ast.Mult,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Mutant:
    """One planted bug: where it is, and what the line has become."""

    path: Path
    line: int
    text: str  #: the first line of the changed statement, as it is written
    becomes: str
    tree: ast.Module
    lines: tuple[int, int] = (0, 0)  #: first and last of the changed statement

    @property
    def key(self) -> str:
        """Name the bug so that moving the line doesn't change the name."""
        return f"{self.path.relative_to(ROOT)} | {self.text} | {self.becomes}"


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Yield every small bug that can be planted in a module."""
    source = path.read_text("utf-8")
    lines = source.splitlines()
    whole = ast.parse(source)
    named = {id(node.value) for node in ast.walk(whole) if isinstance(node, ast.keyword)}
    types = {id(part) for node in ast.walk(whole) for part in _types_in(node)}
    statements = _statements(whole)
    for place, node in enumerate(ast.walk(whole)):
        if id(node) in types:
            continue  # nothing reads them while the code runs
        if isinstance(node, ast.Constant) and id(node) in named:
            continue  # its keyword stands for it: "frozen=False" says more than "False"
        for change in range(len(_changes(node))):
            tree = ast.parse(source)  # ten times as fast as a deep copy
            target = next(n for i, n in enumerate(ast.walk(tree)) if i == place)
            told = _changes(target)[change]
            becomes = _apply(tree, target, told)
            line: int = vars(node)["lineno"]  # what can be changed has one
            stands = statements[id(node)]
            yield Mutant(path, line, lines[line - 1].strip(), becomes, tree, stands)


def _statements(whole: ast.Module) -> dict[int, tuple[int, int]]:
    """Return for each node the first and last line of the statement it is part of."""
    found: dict[int, tuple[int, int]] = {}
    waiting: list[tuple[ast.AST, tuple[int, int]]] = [(whole, (0, 0))]
    while waiting:
        node, lines = waiting.pop()
        if isinstance(node, ast.stmt):
            body = getattr(node, "body", None)
            last = body[0].lineno - 1 if body else node.end_lineno or node.lineno
            lines = (node.lineno, max(node.lineno, last))
        found[id(node)] = lines
        waiting.extend((child, lines) for child in ast.iter_child_nodes(node))
    return found


def _types_in(node: ast.AST) -> list[ast.AST]:
    """Return all of what a statement says of types."""
    said = [getattr(node, name, None) for name in ("annotation", "returns")]
    return [part for one in said if one is not None for part in ast.walk(one)]


def _changes(node: ast.AST) -> list[ast.AST | None]:
    """Return what may stand in the place of `node`; None leaves a statement out."""
    match node:
        case ast.Compare(ops=[op]) if type(op) in _COMPARISONS:
            return [_with(node, ops=[_COMPARISONS[type(op)]()])]
        case ast.BinOp(op=op) if type(op) in _OPERATORS:
            return [_with(node, op=_OPERATORS[type(op)]())]
        case ast.AugAssign(op=op) if type(op) in _OPERATORS:
            return [_with(node, op=_OPERATORS[type(op)]())]
        case ast.BoolOp(op=op):
            return [_with(node, op=ast.Or() if isinstance(op, ast.And) else ast.And())]
        case ast.UnaryOp(op=ast.Not() | ast.USub(), operand=operand):
            return [operand]
        case ast.keyword(value=ast.Constant() as value):
            return [_with(node, value=other) for other in _changes(value) if other is not None]
        case ast.Constant(value=bool() as value):
            return [_with(node, value=not value)]
        case ast.Constant(value=int() as value):
            return [_with(node, value=value + 1)]
        case ast.Constant(value=float() as value):
            return [_with(node, value=value * 1.5 if value else 1.0)]
        case ast.IfExp(test=test) | ast.If(test=test) if not isinstance(test, ast.Compare):
            return [_with(node, test=ast.UnaryOp(ast.Not(), test))]
        case ast.Expr(value=ast.Call()):
            return [None]
        case ast.Continue():
            return [ast.Break()]
        case ast.Break():
            return [ast.Continue()]
    return []


def _with(node: ast.AST, **fields: object) -> ast.AST:
    """Return a copy of `node` with other fields."""
    other = copy.copy(node)
    for name, value in fields.items():
        setattr(other, name, value)
    return other


def _apply(tree: ast.Module, target: ast.AST, other: ast.AST | None) -> str:
    """Put `other` in the place of `target`; return how that reads."""
    new = ast.copy_location(ast.Pass() if other is None else other, target)

    class Swap(ast.NodeTransformer):
        def visit(self, node: ast.AST) -> ast.AST:
            return new if node is target else self.generic_visit(node)

    Swap().visit(tree)
    ast.fix_missing_locations(tree)
    return "left out" if other is None else ast.unparse(new).splitlines()[0]


class _Planted(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Imports the module with the bug, and leaves all others alone."""

    def __init__(self, mutant: Mutant) -> None:
        self._mutant = mutant
        parts = mutant.path.relative_to(ROOT).with_suffix("").parts
        self._name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        """Claim the one module."""
        if name != self._name:
            return None
        return importlib.util.spec_from_file_location(name, self._mutant.path, loader=self)

    def exec_module(self, module: ModuleType) -> None:
        """Run the changed code."""
        exec(compile(self._mutant.tree, str(self._mutant.path), "exec"), module.__dict__)


def start(mutant: Mutant) -> int:
    """Let a fork look for the bug; return its process id."""
    child = os.fork()
    if child:
        return child
    sys.meta_path.insert(0, _Planted(mutant))
    quiet = os.open(os.devnull, os.O_RDWR)
    for stream in range(3):
        os.dup2(quiet, stream)
    os._exit(int(_some_test_fails(mutant.path)))


def tried(bugs: Sequence[Mutant], at_once: int) -> Iterator[tuple[Mutant, bool]]:
    """Try all bugs, some at once; yield each with whether a test noticed it."""
    running: dict[int, Mutant] = {}
    waiting = iter(bugs)
    while True:
        while len(running) < at_once and (bug := next(waiting, None)) is not None:
            running[start(bug)] = bug
        if not running:
            return
        child, status = os.wait()
        # Out of time, a crash or a failing test: all are noticed.
        yield running.pop(child), os.waitstatus_to_exitcode(status) != 0


def sound(paths: Sequence[Path]) -> bool:
    """Say whether all tests that would look for bugs pass as long as there is none."""
    rooms = {path.parent: path for path in paths}.values()
    untouched = [Mutant(path, 0, "", "", ast.parse(path.read_text("utf-8"))) for path in rooms]
    return not any(noticed for _, noticed in tried(untouched, 1))


def _some_test_fails(path: Path) -> bool:
    import pytest

    room = path.parent.name
    own = sorted(str(test) for test in (ROOT / "tests" / room).glob(f"test_{path.stem}*.py"))
    os.chdir(ROOT)
    stages = ([*own, VALUES], [f"tests/{room}"], list(ABOVE.get(room, ())))
    for tests, limit_s in zip(stages, LIMITS_S, strict=True):
        if not tests:
            continue
        signal.setitimer(signal.ITIMER_PROF, limit_s)
        with contextlib.redirect_stdout(io.StringIO()):
            code = pytest.main([*QUIET, *tests], plugins=[FirstFailure()])
        if code != 0:
            return True
    return False


def tried_warm(bugs: Sequence[Mutant], enough_s: float) -> Iterator[Mutant]:
    """Yield the bugs that the quick way doesn't find, or can't plant."""
    for room in dict.fromkeys(bug.path.parent for bug in bugs):
        quick: list[tuple[Mutant, Change]] = []
        for bug in bugs:
            if bug.path.parent == room:
                before = ast.parse(bug.path.read_text("utf-8"))
                codes = changed_functions(bug.path, before, bug.tree)
                module = compile(bug.tree, str(bug.path), "exec") if codes is None else None
                quick.append((bug, Change(bug.path, bug.lines, codes or {}, module)))
        tests = (f"tests/{room.name}", VALUES, *ABOVE.get(room.name, ()))
        answers = noticed_warm([change for _, change in quick], [*QUIET, *tests], enough_s)
        for number, (bug, _) in enumerate(quick, 1):
            if not next(answers, False):
                yield bug
            if number % 50 == 0:
                print(f"{room.name}: {number} of {len(quick)} tried quickly", file=sys.stderr)
        answers.close()


def explained() -> dict[str, str]:
    """Return the bugs that change nothing, and why."""
    page = tomllib.loads((ROOT / "benchmarks" / "mutants.toml").read_text("utf-8"))
    told = ((one.get("bugs") or [one["bug"]], one["why"]) for one in page.get("same", ()))
    return {bug: why for bugs, why in told for bug in bugs}


def tell(bug: Mutant) -> None:
    """Print a survivor."""
    print(f"{bug.path.relative_to(ROOT)}:{bug.line}\n  {bug.key}", flush=True)


def main() -> int:
    """Try the bugs; print what survived; return 1 if anything did."""
    parser = argparse.ArgumentParser(prog="python -m benchmarks.mutants", description=__doc__)
    parser.add_argument("where", nargs="+", type=Path)
    parser.add_argument("--every", type=int, default=1, metavar="N", help="only each Nth bug")
    parser.add_argument("--at-once", type=int, default=os.cpu_count(), metavar="N")
    parser.add_argument(
        "--quick", action="store_true", help="print what the quick way misses, don't try it again"
    )
    wished = parser.parse_args()
    paths = [path.resolve() for path in wished.where]
    files = [f for path in paths for f in (sorted(path.rglob("*.py")) if path.is_dir() else [path])]
    known = explained()
    bugs = [bug for file in files for bug in mutants_of(file) if bug.key not in known]
    bugs = bugs[:: wished.every]
    # Warm, so that each fork starts with the slow imports done, and with nothing of ours.
    for heavy in ("numpy", "scipy.stats", "hypothesis", "pytest", "statsmodels.api"):
        importlib.import_module(heavy)
    if not sound(files):
        print("the tests fail without any bug: nothing can be learnt", file=sys.stderr)
        return 2
    survived = 0
    left = []
    for bug in tried_warm(bugs, QUICK_S if wished.quick else inf):
        if wished.quick:
            survived += 1
            tell(bug)
        else:
            left.append(bug)
    for number, (bug, noticed) in enumerate(tried(left, wished.at_once), 1):
        if not noticed:
            survived += 1
            tell(bug)
        if number % 50 == 0:
            print(f"{number} of {len(left)} tried again, {survived} survived", file=sys.stderr)
    print(f"{len(bugs)} bugs planted, {survived} survived; {len(known)} known to change nothing")
    return int(survived > 0)


if __name__ == "__main__":
    raise SystemExit(main())
