"""Parquet, read back by pandas; units by Arrow's own schema reader."""

from collections import defaultdict
from io import BytesIO

import pandas as pd
import pyarrow.parquet as pq
import pytest
from known_session import SECONDS, SITE, bpm_at, oximeter_ns, smo2_at
from texts import KeptBytes, export_to

from livemon.exchange.parquet import ParquetTables
from livemon.exchange.sink import AsList

STARTED = "2026-03-02T17:30:00.250+01:00"


@pytest.fixture(scope="module")
def files() -> dict[str, bytes]:
    made: dict[str, KeptBytes] = defaultdict(KeptBytes)
    export_to(ParquetTables(lambda name: made[name], STARTED))
    return {name: file.content for name, file in made.items()}


def test_values_are_the_same_to_the_last_bit(files: dict[str, bytes]) -> None:
    read = pd.read_parquet(BytesIO(files["oxygenation"]))

    assert read["smo2_pct"].tolist() == [smo2_at(second) for second in range(SECONDS)]
    assert set(read["site"]) == {SITE}
    assert read["t_s"].tolist() == [oximeter_ns(second) / 1e9 for second in range(SECONDS)]


def test_wall_clock_is_the_same_to_the_nanosecond(files: dict[str, bytes]) -> None:
    read = pd.read_parquet(BytesIO(files["oxygenation"]))
    since = read["time_utc"] - pd.Timestamp(STARTED)

    assert [one.value for one in since] == [oximeter_ns(second) for second in range(SECONDS)]


def test_whole_numbers_stay_whole_and_flags_flags(files: dict[str, bytes]) -> None:
    heart = pd.read_parquet(BytesIO(files["heart_rate"]))
    bouts = pd.read_parquet(BytesIO(files["bouts"]))

    assert heart[heart["athlete"] == "a1"]["bpm"].tolist() == list(map(bpm_at, range(SECONDS)))
    assert heart["contact"].dtype == bool
    assert bouts["number"].dtype == "int64"


@pytest.mark.parametrize(
    ("table", "column", "unit"),
    [
        ("oxygenation", "smo2_pct", b"%"),
        ("oxygenation", "t_s", b"s"),
        ("oxygenation", "time_utc", b"UTC"),
        ("heart_rate", "bpm", b"bpm"),
        ("intensity", "speed_m_per_s", b"m/s"),
    ],
)
def test_units_stand_in_the_schema(
    files: dict[str, bytes], table: str, column: str, unit: bytes
) -> None:
    schema = pq.read_schema(BytesIO(files[table]))

    assert schema.field(column).metadata[b"unit"] == unit
    assert schema.metadata[b"table"] == table.encode()


def test_an_unknown_start_leaves_wall_clock_null() -> None:
    file = KeptBytes()
    export_to(AsList(ParquetTables(lambda _: file, "yesterday"), names=False))

    assert pd.read_parquet(BytesIO(file.content))["time_utc"].isna().all()
