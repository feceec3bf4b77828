"""Trees are read as they were learned, and those that are shipped ask what the rows tell."""

import json
from importlib.resources import files
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from livemon.warn import ending, evidence, forest
from livemon.warn.forest import Forest, grown

#: Asks the second number, then the first: 1 up to 5, beyond it 2 up to 0 and 4 beyond that.
TREE: Any = [1, 5.0, 1.0, [0, 0.0, 2.0, 4.0]]


@pytest.mark.parametrize(
    ("row", "nats"), [((9, 5), 1.0), ((0, 5.1), 2.0), ((0.1, 5.1), 4.0), ((-99, -99), 1.0)]
)
def test_a_tree_branches_beyond_its_limit(row: tuple[float, float], nats: float) -> None:
    assert grown({"start": 0.0, "trees": [TREE]})(row) == nats


def test_trees_add_up_to_where_they_start() -> None:
    assert grown({"start": -0.5, "trees": [TREE, TREE, 8.0]})((9, 5)) == -0.5 + 1 + 1 + 8


def test_a_forest_without_trees_says_what_it_starts_with() -> None:
    assert Forest(0.25, ())(()) == 0.25


@given(st.lists(st.tuples(st.floats(-9, 9), st.floats(-9, 9)), max_size=5), st.floats(-9, 9))
def test_stumps_add_up_as_steps_do(stumps: list[tuple[float, float]], value: float) -> None:
    trees = [[0, limit, -nats, nats] for limit, nats in stumps]

    found = grown({"start": 0.0, "trees": trees})((value,))

    assert found == pytest.approx(
        sum(float(np.copysign(1, value - limit)) * nats if value != limit else -nats
            for limit, nats in stumps)
    )  # fmt: skip


SHIPPED = [
    pytest.param("fall_forest.json", evidence.NAMES, forest.weigh_fall, id="falls"),
    pytest.param("end_forest.json", ending.NAMES, forest.weigh_end, id="ends"),
]


@pytest.mark.parametrize(("name", "names", "weigh"), SHIPPED)
def test_what_is_shipped_was_learned_from_rows_as_they_are_now(
    name: str, names: tuple[str, ...], weigh: Any
) -> None:
    told = json.loads((files("livemon.warn") / name).read_text(encoding="utf-8"))

    assert tuple(told["names"]) == names
    assert weigh([evidence.UNKNOWN] * len(names)) == grown(told)([evidence.UNKNOWN] * len(names))


@pytest.mark.parametrize(("name", "names", "weigh"), SHIPPED)
def test_names_are_told_apart(name: str, names: tuple[str, ...], weigh: Any) -> None:
    assert len(set(names)) == len(names)
