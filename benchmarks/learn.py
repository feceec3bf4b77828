"""Learn again how the evidence of a fall is weighed; writes livemon/warn/*_forest.json.

    pip install -e '.[test]'
    python -m benchmarks.learn                           half an hour on two cores
    python -m benchmarks.learn --traces 20 --to FOLDER   a taste

The examples are seconds of invented traces of the family `tuning`, with numbers that
`livemon score` never reaches: neither the thresholds nor the published figures are made on them.
They are watched twice. First nothing is told. Then a forest learned from that tells its
warnings. In one half they end late: what comes after the end of a fall teaches another forest when
one is over. In the other half both do their work, so that what comes after a warning is seen as it
will be; the forest that is shipped for falls learns from all but the late half.

Another machine may round a sum otherwise and learn a slightly different forest. Those that ship
differ in one more thing: while the examples after warnings were gathered, slow declines counted
three tenths.
"""

import argparse
import json
import os
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from multiprocessing import get_context
from pathlib import Path
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from sklearn.ensemble import HistGradientBoostingClassifier

import livemon.warn
from livemon.decode.samples import OxygenationSample
from livemon.monitor.athlete import Monitor
from livemon.score.event import Moment, Verdicts
from livemon.score.run import FULL
from livemon.score.seeds import Family, TraceKey, scenarios
from livemon.score.trace import Trace, trace
from livemon.warn.ending import NAMES as END_NAMES
from livemon.warn.evidence import NAMES as FALL_NAMES
from livemon.warn.forest import grown
from livemon.warn.settings import WarnSettings

SHIPPED: Final = Path(livemon.warn.__file__).parent
#: `livemon score` draws only the first few hundred numbers of this family.
FIRST_NUMBER: Final = 1000
assert max(FULL.values()) < FIRST_NUMBER
TRACES: Final = 1200  #: of each scenario
#: Only every third second teaches: the next one is nearly the same again, another trace is not.
EVERY_S: Final = 3
SURE_NATS: Final = 9.0
#: The plain rule for the end of a fall, until there is a better one: the line of 20 s is surely
#: milder. It has to say so for long, so that the seconds after an end are seen, too.
PLAINLY_SE: Final = 2.9
PLAINLY_PART: Final = 0.5
LATE_S: Final = 40
PART: Final = END_NAMES.index("line of 20 s: part of the told rate")
MILDER: Final = END_NAMES.index("line of 20 s: milder")
#: After that a warning has lingered too long to learn anything from it.
SOON_S: Final = 90.0
#: A fall younger than this can't be told by anybody; one older should have been.
YOUNGEST_S: Final = 6.0
OLD_S: Final = 120.0
OLD_WEIGHT: Final = 0.2
FALL_TREES: Final = 200
END_TREES: Final = 100
LEAVES: Final = 16
FEWEST_IN_LEAF: Final = 200
RATE: Final = 0.1
SHRINK: Final = 5.0

Forest = dict[str, Any]
Floats = NDArray[np.float64]
Examples = tuple[Floats, NDArray[np.bool_], Floats]
Weigh = Callable[[Sequence[float]], float]


@dataclass(slots=True)
class Rows:
    """What one forest was asked, and when."""

    rows: list[Sequence[float]] = field(default_factory=list)
    times_s: list[float] = field(default_factory=list)


@dataclass(slots=True)
class Recorder:
    """Stands where the forests stand: writes every row down, and answers.

    Attributes:
        falls: answers whether there is a fall; None never says so.
        ends: answers whether a told fall is over; None goes by a plain rule, and late.
    """

    falls: Forest | None
    ends: Forest | None
    now_s: float = 0.0
    of_falls: Rows = field(default_factory=Rows)
    of_ends: Rows = field(default_factory=Rows)

    def settings(self) -> WarnSettings:
        """Return settings that weigh with this."""
        fall = _never if self.falls is None else grown(self.falls)
        if self.ends is None:
            end, off_delay_s = _plainly_over, LATE_S
        else:
            end, off_delay_s = grown(self.ends), WarnSettings().off_delay_s
        return WarnSettings(
            weigh_fall=partial(self._written, self.of_falls, fall),
            weigh_end=partial(self._written, self.of_ends, end),
            off_delay_s=off_delay_s,
        )

    def _written(self, to: Rows, weigh: Weigh, row: Sequence[float]) -> float:
        to.rows.append(row)
        to.times_s.append(self.now_s)
        return weigh(row)


def _never(row: Sequence[float]) -> float:
    return -SURE_NATS


def _plainly_over(row: Sequence[float]) -> float:
    over = row[MILDER] > PLAINLY_SE and row[PART] < PLAINLY_PART
    return SURE_NATS if over else -SURE_NATS


def examples(
    forests: tuple[Forest | None, Forest | None], key: TraceKey
) -> tuple[Examples, Examples]:
    """Return the examples of falls and of ends that one trace gives."""
    drawn = trace(key)
    found = [_of_site(drawn, site, *forests) for site in range(len(drawn.truth.sites))]
    falls, ends = zip(*found, strict=True)
    return together(falls), together(ends)


def _of_site(
    drawn: Trace, site: int, falls: Forest | None, ends: Forest | None
) -> tuple[Examples, Examples]:
    recorder = Recorder(falls, ends)
    name = drawn.truth.sites[site].site
    monitor = Monitor(sites=(name,), settings=recorder.settings())
    for sample in drawn.samples:
        if isinstance(sample, OxygenationSample) and sample.site != name:
            continue
        while sample.t_s - recorder.now_s > 1.0:
            recorder.now_s += 1.0
            monitor.advance(recorder.now_s)
        recorder.now_s = max(recorder.now_s, sample.t_s)
        monitor.feed(sample)
    verdict = drawn.verdicts[site]
    return _fall_examples(drawn, verdict, recorder.of_falls), _end_examples(
        drawn, verdict, recorder.of_ends
    )


def _fall_examples(drawn: Trace, verdict: Verdicts, asked: Rows) -> Examples:
    times_s = np.array(asked.times_s)
    moments = _moments(drawn, verdict, asked)
    # A decline too slow for a fall is a border case when it is scored, but nothing to be told.
    weights = np.where((moments == Moment.FALSE) | (moments == Moment.SLOW), 1.0, 0.0)
    for fall in verdict.falls:
        since_s = times_s - fall.start_s
        inside = (since_s >= 0) & (times_s < fall.end_s) & (moments == Moment.FALL)
        weights[inside & (since_s > YOUNGEST_S)] = 1.0
        weights[inside & (since_s > OLD_S)] = OLD_WEIGHT
    return _kept(asked, moments == Moment.FALL, weights, len(FALL_NAMES))


def _end_examples(drawn: Trace, verdict: Verdicts, asked: Rows) -> Examples:
    times_s = np.array(asked.times_s)
    falling = _moments(drawn, verdict, asked) == Moment.FALL
    weights = np.where(falling, 1.0, 0.0)
    for fall in verdict.falls:
        since_s = times_s - fall.end_s
        weights[(since_s >= 0) & (since_s < SOON_S) & ~falling] = 1.0
    return _kept(asked, ~falling, weights, len(END_NAMES))


def _moments(drawn: Trace, verdict: Verdicts, asked: Rows) -> NDArray[np.int64]:
    return np.array([verdict.moments[drawn.index(t_s)] for t_s in asked.times_s], dtype=int)


def _kept(asked: Rows, true: NDArray[np.bool_], weights: Floats, width: int) -> Examples:
    seconds = np.array(asked.times_s, dtype=int)
    used = (weights > 0) & (seconds % EVERY_S == 0)
    rows = np.array(asked.rows, dtype=np.float32).reshape(-1, width)
    return rows[used], true[used], weights[used]


def together(parts: Sequence[Examples]) -> Examples:
    """Return all examples as one."""
    rows, true, weights = (np.concatenate(one) for one in zip(*parts, strict=True))
    return rows, true, weights


def watched(
    falls: Forest | None, ends: Forest | None, numbers: range, workers: int
) -> tuple[Examples, Examples]:
    """Return the examples of falls and of ends from the traces so numbered of every scenario."""
    keys = [TraceKey(Family.TUNING, name, n) for n in numbers for name in scenarios(Family.TUNING)]
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        found = list(pool.map(partial(examples, (falls, ends)), keys, chunksize=8))
    of_falls, of_ends = zip(*found, strict=True)
    return together(of_falls), together(of_ends)


def learned(names: Sequence[str], examples: Examples, trees: int) -> Forest:
    """Return the forest that tells these examples apart."""
    rows, true, weights = examples
    model = HistGradientBoostingClassifier(
        max_iter=trees, learning_rate=RATE, max_leaf_nodes=LEAVES, early_stopping=False,
        min_samples_leaf=FEWEST_IN_LEAF, l2_regularization=SHRINK, random_state=0,
    )  # fmt: skip
    return written(names, model.fit(rows, true, sample_weight=weights))


def written(names: Sequence[str], model: HistGradientBoostingClassifier) -> Forest:
    """Return the trees of `model` as `livemon.warn.forest` reads them."""
    trees = [_branches(one[0].nodes, 0) for one in model._predictors]
    start = float(np.ravel(model._baseline_prediction)[0])
    return {"names": list(names), "start": round(start, 5), "trees": trees}


def _branches(nodes: Any, at: int) -> Any:
    node = nodes[at]
    if node["is_leaf"]:
        return round(float(node["value"]), 5)
    branches = (_branches(nodes, int(node[side])) for side in ("left", "right"))
    return [int(node["feature_idx"]), float(node["num_threshold"]), *branches]


def save(forest: Forest, to: Path) -> None:
    """Write `forest`, a tree a line."""
    trees = ",\n".join(json.dumps(tree, separators=(",", ":")) for tree in forest["trees"])
    names = json.dumps(forest["names"], indent=1)
    to.write_text(
        f'{{"names": {names},\n"start": {forest["start"]},\n"trees": [\n{trees}\n]}}\n',
        encoding="utf-8",
    )


def main() -> None:
    """Learn and write."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--traces", type=int, default=TRACES, help="of each scenario")
    parser.add_argument("--to", type=Path, default=SHIPPED, help="folder that is written to")
    chosen = parser.parse_args()
    workers = os.cpu_count() or 1
    half, last = FIRST_NUMBER + chosen.traces // 2, FIRST_NUMBER + chosen.traces
    quiet, _ = watched(None, None, range(FIRST_NUMBER, last), workers)
    print(f"nothing told: {len(quiet[0])} seconds", flush=True)
    first = learned(FALL_NAMES, quiet, FALL_TREES)
    _, late = watched(first, None, range(FIRST_NUMBER, half), workers)
    print(f"warnings that end late: {len(late[0])} seconds", flush=True)
    ends = learned(END_NAMES, late, END_TREES)
    save(ends, chosen.to / "end_forest.json")
    told, _ = watched(first, ends, range(half, last), workers)
    print(f"warnings that end in time: {len(told[0])} seconds", flush=True)
    save(learned(FALL_NAMES, together([quiet, told]), FALL_TREES), chosen.to / "fall_forest.json")
    print(f"written to {chosen.to}")


if __name__ == "__main__":
    main()
