"""Solve a few equations with as many unknowns, in plain arithmetic that every computer repeats."""

from collections.abc import Sequence

Matrix = Sequence[Sequence[float]]


def solve(matrix: Matrix, right: Sequence[float]) -> list[float] | None:
    """Solve matrix x = right by elimination with row exchange; None when it is singular."""
    n = len(right)
    rows = [[*matrix[i], right[i]] for i in range(n)]
    for k in range(n):
        pivot = max(range(k, n), key=lambda i: abs(rows[i][k]))
        if rows[pivot][k] == 0:
            return None
        rows[k], rows[pivot] = rows[pivot], rows[k]
        for i in range(k + 1, n):
            factor = rows[i][k] / rows[k][k]
            for j in range(k, n + 1):
                rows[i][j] -= factor * rows[k][j]
    x = [0.0] * n
    for i in reversed(range(n)):
        known = sum(rows[i][j] * x[j] for j in range(i + 1, n))
        x[i] = (rows[i][n] - known) / rows[i][i]
    return x


def inverse(matrix: Matrix) -> list[list[float]] | None:
    """Return the inverse of a symmetric matrix; None when it is singular."""
    n = len(matrix)
    columns = [solve(matrix, [float(i == k) for i in range(n)]) for k in range(n)]
    solved = [c for c in columns if c is not None]
    return solved if len(solved) == n else None
