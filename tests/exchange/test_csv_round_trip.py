"""A recording whose values are known goes out as CSV and is read back by pandas."""

from collections import defaultdict
from io import StringIO
from zoneinfo import ZoneInfo

import pandas as pd
import pytest
from known_session import SECONDS, SITE, bpm_at, oximeter_ns, smo2_at, thb_at
from texts import Kept, export_to

from livemon.exchange.csv_dialect import Dialect
from livemon.exchange.csv_tables import CsvTables
from livemon.exchange.rows import Wish
from livemon.exchange.sink import AsList
from livemon.exchange.stamps import Stamps

STARTED = "2026-03-02T17:30:00.250+01:00"
MS = 0.000501


def written(dialect: Dialect, wish: Wish | None = None) -> dict[str, str]:
    files: dict[str, Kept] = defaultdict(Kept)
    stamps = Stamps(STARTED, ZoneInfo("Europe/Berlin"), dialect.decimal)
    export_to(CsvTables(lambda name: files[name], dialect, stamps), wish)
    return {name: file.content for name, file in files.items()}


@pytest.fixture(scope="module", params=[Dialect(), Dialect(",", ";"), Dialect(",", "\t")])
def frames(request: pytest.FixtureRequest) -> dict[str, pd.DataFrame]:
    dialect: Dialect = request.param
    return {
        name: pd.read_csv(
            StringIO(text.removeprefix("\ufeff")), sep=dialect.separator, decimal=dialect.decimal
        )
        for name, text in written(dialect).items()
    }


def test_saturation_and_haemoglobin_are_what_went_in(frames: dict[str, pd.DataFrame]) -> None:
    read = frames["oxygenation"]

    assert read["smo2_pct"].tolist() == [smo2_at(second) for second in range(SECONDS)]
    assert read["thb"].tolist() == [thb_at(second) for second in range(SECONDS)]
    assert set(read["thb_unit"]) == {"g/dL"}
    assert set(read["site"]) == {f"'{SITE}"}
    assert read["refused"].isna().all()


def test_times_are_kept_to_a_millisecond(frames: dict[str, pd.DataFrame]) -> None:
    read = frames["oxygenation"]
    true_s = [oximeter_ns(second) / 1e9 for second in range(SECONDS)]

    assert max(abs(read["t_s"] - true_s)) < MS
    utc = pd.to_datetime(read["time_utc"])
    since_s = (utc - pd.Timestamp(STARTED)).dt.total_seconds()
    assert max(abs(since_s - true_s)) < MS


def test_heart_rate_and_rr_are_what_went_in(frames: dict[str, pd.DataFrame]) -> None:
    heart = frames["heart_rate"]
    own = heart[heart["athlete"] == "a1"]

    assert own["bpm"].tolist() == [bpm_at(second) for second in range(SECONDS)]
    assert own["contact"].all()
    assert frames["rr_intervals"]["rr_s"].tolist() == [0.5, 0.75] * SECONDS


def test_power_is_what_went_in_below_zero_too(frames: dict[str, pd.DataFrame]) -> None:
    assert frames["intensity"]["power_w"].tolist() == [200 - second for second in range(SECONDS)]


def test_bouts_have_what_was_noted_and_corrected(frames: dict[str, pd.DataFrame]) -> None:
    bouts = frames["bouts"]

    assert bouts["phase"].tolist() == ["work", "recovery"]
    assert bouts["work"].tolist()[0] == "rowing, +5 %"
    assert bouts["start_s"].tolist() == [10.0, 70.0]
    assert bouts["end_s"].tolist() == [70.0, 120.0]
    assert bouts["load"].tolist()[0] == 185.0
    assert bouts["load_unit"].tolist()[0] == "W"
    assert bouts["rpe_cr10"].tolist()[0] == 7.0


def test_one_list_holds_every_value_with_its_unit() -> None:
    file = Kept()
    stamps = Stamps(STARTED, None)
    export_to(AsList(CsvTables(lambda _: file, Dialect(), stamps), names=False))

    read = pd.read_csv(StringIO(file.content))
    smo2 = read[read["quantity"] == "smo2_pct"]
    assert smo2["value"].tolist() == [smo2_at(second) for second in range(SECONDS)]
    assert set(smo2["unit"]) == {"%"}
    assert set(read[read["quantity"] == "thb"]["unit"]) == {"g/dL"}
    assert read[read["quantity"] == "lactate_mmol_l"]["value"].tolist() == [4.2]


def test_lines_end_as_the_standard_says() -> None:
    """RFC 4180, 2.1: CRLF after each line; no line holds a bare one."""
    for text in written(Dialect()).values():
        assert text.endswith("\r\n")
        assert text.count("\n") == text.count("\r\n")


def test_names_and_notes_stay_at_home() -> None:
    everything = "".join(written(Dialect()).values())

    assert "Zoë" not in everything
    assert "Yan" not in everything
    assert "knee" not in everything
    assert "athlete_name" not in everything


def test_names_and_notes_come_on_request_and_run_nowhere() -> None:
    files = written(Dialect(), Wish(names=True))

    assert "'=Zoë; Invented" in files["oxygenation"]
    assert "Zoë's knee again" in files["bouts"]
    assert "Zoë's knee again" in files["marks"]


def test_only_the_athletes_asked_for_are_written() -> None:
    files = written(Dialect(), Wish(frozenset({"Yan Invented"})))

    assert set(files) == {"heart_rate"}
    assert ",a1," not in files["heart_rate"]


def test_a_spreadsheet_with_decimal_comma_is_told_the_encoding() -> None:
    assert all(text.startswith("\ufeff") for text in written(Dialect(",", ";")).values())
    assert not any(text.startswith("\ufeff") for text in written(Dialect()).values())
