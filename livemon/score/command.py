"""`livemon score`, without a terminal: arguments in, text out through what is handed in."""

import os
from argparse import ArgumentParser, Namespace
from collections.abc import Callable
from typing import Final

from livemon.score.run import FULL, QUICK, score
from livemon.score.seeds import Family
from livemon.score.table import as_json, as_text

_BAR_WIDTH: Final = 40


def add_arguments(parser: ArgumentParser) -> None:
    """Add what `livemon score` understands."""
    parser.add_argument(
        "--quick", action="store_true", help="a small part of the traces: a taste, no proof"
    )
    parser.add_argument("--traces", type=int, help="how many traces of each scenario")
    parser.add_argument("--json", action="store_true", help="figures for programs")
    parser.add_argument(
        "--workers",
        type=int,
        default=os.cpu_count() or 1,
        help="processes to share the work (default: one for each processor)",
    )
    parser.add_argument(
        "--family",
        choices=[family.value for family in Family],
        default=Family.FINAL.value,
        help="which traces: those nobody tuned on (default), or those for tuning",
    )


def run(
    arguments: Namespace, write: Callable[[str], object], write_progress: Callable[[str], object]
) -> int:
    """Score, write the table or the JSON; return 0 where every limit holds, else 1.

    A quick run rests on too few hours to break a limit: it always returns 0.
    """
    family = Family(arguments.family)
    each = arguments.traces or (QUICK if arguments.quick else FULL[family])

    def progress(done: int, total: int) -> None:
        filled = _BAR_WIDTH * done // total
        bar = "#" * filled + "." * (_BAR_WIDTH - filled)
        write_progress(f"\r{bar} {done} of {total} traces" + ("\n" if done == total else ""))

    result = score(family, each, workers=arguments.workers, progress=progress)
    write(as_json(result) if arguments.json else as_text(result))
    return 0 if arguments.quick or result.holds else 1
