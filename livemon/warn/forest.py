"""Weighs the evidence: a sum of small decision trees, in nats for a fall and against it.

No single question decides between a fall and what looks like one; which answers matter depends on
the others. Gradient boosting (Friedman 2001, Annals of Statistics 29:1189) learns from examples
which ones, and by how much. The trees in `fall_forest.json` and `end_forest.json` were learned from
invented traces that are used for nothing else (`python -m benchmarks.learn` does it again); here
they are only read.
"""

import json
from collections.abc import Sequence
from functools import cache
from importlib.resources import files
from typing import Any

#: A leaf's nats, or (index in the row, limit, branch up to the limit, branch beyond it).
Node = float | tuple[int, float, "Node", "Node"]


class Forest:
    """Trees, each of which adds its nats.

    Args:
        start: nats before anything is asked.
        trees: the root of each one.
    """

    __slots__ = ("_start", "_trees")

    def __init__(self, start: float, trees: Sequence[Node]) -> None:
        self._start = start
        self._trees = tuple(trees)

    def __call__(self, row: Sequence[float]) -> float:
        """Return the log-odds of a fall, given the numbers named `NAMES`."""
        nats = self._start
        for node in self._trees:
            while isinstance(node, tuple):
                node = node[2] if row[node[0]] <= node[1] else node[3]
            nats += node
        return nats


def grown(told: dict[str, Any]) -> Forest:
    """Return the forest that `told`, read from JSON, describes."""
    return Forest(told["start"], [_node(tree) for tree in told["trees"]])


def weigh_fall(row: Sequence[float]) -> float:
    """Return the nats for a fall, given `livemon.warn.evidence`."""
    return _shipped("fall_forest.json")(row)


def weigh_end(row: Sequence[float]) -> float:
    """Return the nats for the end of a told fall, given `livemon.warn.ending`."""
    return _shipped("end_forest.json")(row)


@cache
def _shipped(name: str) -> Forest:
    text = (files("livemon.warn") / name).read_text(encoding="utf-8")
    return grown(json.loads(text))


def _node(told: Any) -> Node:  # noqa: ANN401 - JSON
    if not isinstance(told, list):
        return float(told)
    asked, limit, up_to, beyond = told
    return (asked, limit, _node(up_to), _node(beyond))
