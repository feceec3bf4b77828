"""What `python -m benchmarks.learn` writes down is what scikit-learn has learned."""

import json
from pathlib import Path

import numpy as np
import pytest
from sklearn.ensemble import HistGradientBoostingClassifier

from benchmarks import learn
from livemon.score.event import Moment
from livemon.score.seeds import Family, TraceKey
from livemon.score.trace import trace
from livemon.warn import evidence
from livemon.warn.forest import grown


def model() -> tuple[HistGradientBoostingClassifier, np.ndarray]:
    """Three numbers, of which two decide together."""
    rng = np.random.default_rng(7)
    rows = rng.normal(size=(3000, 3)).astype(np.float32)
    true = rows[:, 0] * rows[:, 1] + rng.normal(0, 0.3, 3000) > 0
    kind = HistGradientBoostingClassifier(max_iter=20, max_leaf_nodes=8, early_stopping=False)
    return kind.fit(rows, true), rows


def test_a_forest_says_what_the_library_says_of_the_same_rows() -> None:
    fitted, rows = model()
    forest = grown(learn.written(("a", "b", "c"), fitted))

    ours = [forest(row) for row in rows[:500].tolist()]

    assert ours == pytest.approx(fitted.decision_function(rows[:500]), abs=2e-4)


def test_what_is_saved_is_read_as_it_was(tmp_path: Path) -> None:
    fitted, _ = model()
    written = learn.written(("a", "b", "c"), fitted)

    learn.save(written, tmp_path / "forest.json")

    assert json.loads((tmp_path / "forest.json").read_text(encoding="utf-8")) == written


#: Used for nothing else; with nothing told, or with a forest that always or never says so.
KEY = TraceKey(Family.TUNING, "over the line", learn.FIRST_NUMBER + learn.TRACES)
ALWAYS, NEVER = ({"start": nats, "trees": []} for nats in (9.0, -9.0))


def test_seconds_in_a_fall_are_examples_of_one_and_quiet_ones_are_not() -> None:
    (rows, falls, weights), (ends, _, _) = learn.examples((None, None), KEY)
    truth_s = sum(fall.seconds for verdict in trace(KEY).verdicts for fall in verdict.falls)

    assert rows.shape == (len(falls), len(evidence.NAMES))
    assert len(ends) == 0
    assert 0.5 * truth_s < learn.EVERY_S * falls.sum() <= truth_s - learn.YOUNGEST_S + 3
    assert not falls.all()
    assert set(weights) <= {1.0, learn.OLD_WEIGHT}
    assert rows[:, evidence.NAMES.index("best: certainty")].min() > 1.2


def test_the_end_of_a_fall_teaches_when_one_is_over() -> None:
    _, (rows, over, _) = learn.examples((ALWAYS, None), KEY)

    assert over.any()
    assert not over.all()
    assert np.median(rows[over, learn.MILDER]) > np.median(rows[~over, learn.MILDER])


def test_a_warning_that_ends_at_once_leaves_little_to_learn() -> None:
    kept, ended = (len(learn.examples((ALWAYS, ends), KEY)[1][0]) for ends in (NEVER, ALWAYS))

    assert ended < kept


def test_what_is_learned_from_is_scored_nowhere() -> None:
    drawn = trace(KEY)

    assert 2 * max(learn.FULL.values()) <= learn.FIRST_NUMBER
    assert any((verdict.moments == Moment.FALL).any() for verdict in drawn.verdicts)
