"""Lists as people say them: bouts by their numbers, loads from one to another."""

from collections.abc import Sequence

from livemon.report.figures import amount
from livemon.tongue import said


def and_so_on(parts: Sequence[str]) -> str:
    """Write a list as people say it."""
    if len(parts) == 1:
        return parts[0]
    return said("{list} and {last}", list=", ".join(parts[:-1]), last=parts[-1])


def numbered(numbers: Sequence[int]) -> str:
    """Write numbers as people say them; three or more in a row become a range."""
    runs: list[list[int]] = []
    for n in sorted(set(numbers)):
        if runs and runs[-1][-1] == n - 1:
            runs[-1].append(n)
        else:
            runs.append([n])
    return and_so_on([part for run in runs for part in _run(run)])


def from_to(values: Sequence[float], unit: str) -> str:
    """Write the lowest and the highest value with their unit, or the one that there is."""
    low, high = min(values), max(values)
    if low == high:
        return amount(low, unit)
    return said("{low} to {high}", low=f"{low:g}", high=amount(high, unit))


def _run(run: Sequence[int]) -> Sequence[str]:
    if len(run) > 2:
        return [said("{low} to {high}", low=run[0], high=run[-1])]
    return [str(n) for n in run]
