"""SNIRF: valid for the format's own validator, read back by h5py and by MNE."""

import subprocess
import sys
from pathlib import Path

import h5py
import mne
import numpy as np
import pytest
from known_session import EVENTS, HEAD, SECONDS, SITE, bpm_at, oximeter_ns, smo2_at, thb_at
from texts import export_to

from livemon.exchange.gather import Gathered
from livemon.exchange.rows import Wish
from livemon.exchange.snirf import snirf_image
from livemon.exchange.snirf_subject import subjects_of
from livemon.exchange.tables import WARNINGS
from livemon.monitor.changes import WarningOff, WarningOn
from livemon.monitor.session import Told
from livemon.warn.priority import Priority


def warned() -> list[Told]:
    """Return a warning, which the known session is too short for."""
    return [
        ("a1", WarningOn(SITE, 40.0, Priority.DRAIN, 6.5, 30.0, 150.0)),
        ("a1", WarningOff(SITE, 65.5, "level")),
    ]


def file_of(folder: Path, *, even: bool, names: bool = False) -> Path:
    gathered = Gathered()
    export_to(gathered, Wish(names=names), warned)
    path = folder / ("even.snirf" if even else "as-it-came.snirf")
    path.write_bytes(snirf_image(subjects_of(gathered, even=even), HEAD.started_utc))
    return path


@pytest.fixture(scope="module")
def as_it_came(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return file_of(tmp_path_factory.mktemp("snirf"), even=False)


@pytest.fixture(scope="module")
def even(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return file_of(tmp_path_factory.mktemp("snirf"), even=True)


#: In a process of its own: the validator leaves temporary files open.
VALIDATE = """
import sys
from snirf import validateSnirf
for path in sys.argv[1:]:
    result = validateSnirf(path)
    print(result.is_valid(), [issue.name for issue in [*result.warnings, *result.errors]])
"""


def validated(*paths: Path) -> list[str]:
    """Return what the validator says of each file; it leaves a log where it is started."""
    done = subprocess.run(
        [sys.executable, "-W", "ignore", "-c", VALIDATE, *map(str, paths)],
        capture_output=True,
        text=True,
        check=True,
        cwd=paths[0].parent,
    )
    return done.stdout.splitlines()


def test_the_validator_finds_nothing_to_say(as_it_came: Path, even: Path) -> None:
    assert validated(as_it_came, even) == ["True []", "True []"]


def test_the_validator_would_have_something_to_say(as_it_came: Path, tmp_path: Path) -> None:
    broken = tmp_path / "broken.snirf"
    broken.write_bytes(as_it_came.read_bytes())
    with h5py.File(broken, "r+") as file:
        del file["nirs/data1/time"]

    assert validated(broken)[0].startswith("False")


def test_saturation_is_tissue_saturation_at_the_times_it_came(as_it_came: Path) -> None:
    with h5py.File(as_it_came) as file:
        block = file["nirs/data1"]
        labels = [block[f"measurementList{n}/dataTypeLabel"][()] for n in (1, 2)]
        units = [block[f"measurementList{n}/dataUnit"][()] for n in (1, 2)]
        values, t_s = block["dataTimeSeries"][()], block["time"][()]

    assert labels == [b"StO2", b"HbT"]
    assert units == [b"%", b"g/dL"]
    assert values[:, 0].tolist() == [smo2_at(second) for second in range(SECONDS)]
    assert values[:, 1].tolist() == [thb_at(second) for second in range(SECONDS)]
    assert t_s.tolist() == [oximeter_ns(second) / 1e9 for second in range(SECONDS)]


def test_heart_rate_and_power_stand_beside_it(as_it_came: Path) -> None:
    with h5py.File(as_it_came) as file:
        aux = [file[f"nirs/{name}"] for name in file["nirs"] if name.startswith("aux")]
        series = {one["name"][()].decode(): one["dataTimeSeries"][:, 0].tolist() for one in aux}

    assert series["heart rate"] == [bpm_at(second) for second in range(SECONDS)]
    assert series["RR interval"] == [0.5, 0.75] * SECONDS
    assert series["power"] == [200 - second for second in range(SECONDS)]


def test_what_happened_is_there_with_its_figures(as_it_came: Path) -> None:
    with h5py.File(as_it_came) as file:
        stims = [file[f"nirs/{name}"] for name in file["nirs"] if name.startswith("stim")]
        rows = {one["name"][()].decode(): one["data"][()].tolist() for one in stims}

    assert rows == {
        "work: rowing, +5 %": [[10.0, 60.0, 1.0, 1.0]],
        "recovery": [[70.0, 50.0, 1.0, 1.0]],
        f"drain warning: {SITE}": [[40.0, 25.5, 1.0, 6.5]],
        "lactate, mmol/L": [[90.0, 0.0, 4.2]],
        "RPE, CR10": [[80.0, 0.0, 7.0]],
    }


def test_names_stay_at_home_unless_asked_for(as_it_came: Path, tmp_path: Path) -> None:
    assert "Zoë".encode() not in as_it_came.read_bytes()
    with h5py.File(file_of(tmp_path, even=False, names=True)) as file:
        assert file["nirs/metaDataTags/AthleteName"][()].decode() == "=Zoë; Invented"


def test_mne_reads_the_even_form_with_the_same_annotations(even: Path) -> None:
    raw = mne.io.read_raw_snirf(even, verbose="error")
    oxygenated, deoxygenated = raw.get_data()

    # By definition: O2Hb is that share of total haemoglobin.
    true = [smo2_at(second) / 100 * thb_at(second) for second in range(SECONDS)]
    assert raw.ch_names == ["S1_D1 hbo", "S1_D1 hbr"]
    assert raw.info["sfreq"] == pytest.approx(1.0)
    assert oxygenated == pytest.approx(true, rel=1e-12)
    assert oxygenated + deoxygenated == pytest.approx(list(map(thb_at, range(SECONDS))))
    assert {(a["description"], a["onset"], a["duration"]) for a in raw.annotations} == {
        ("work: rowing, +5 %", 10.0, 60.0),
        ("recovery", 70.0, 50.0),
        (f"drain warning: {SITE}", 40.0, 25.5),
        ("lactate, mmol/L", 90.0, 0.0),
        ("RPE, CR10", 80.0, 0.0),
    }
    assert raw.info["meas_date"].isoformat() == "2026-03-02T16:30:00+00:00"


def test_whoever_has_no_oximeter_is_not_in_the_file(as_it_came: Path) -> None:
    with h5py.File(as_it_came) as file:
        assert [name for name in file if name.startswith("nirs")] == ["nirs"]


def test_nobody_with_an_oximeter_means_no_subjects() -> None:
    gathered = Gathered()
    export_to(gathered, Wish(frozenset({"a2"})))

    assert subjects_of(gathered, even=False) == ()


def test_a_warning_that_is_still_on_ends_with_the_recording() -> None:
    gathered = Gathered()
    export_to(gathered, more=lambda: warned()[:1])

    assert gathered.columns(WARNINGS)["end_s"].tolist() == [EVENTS[-1].t_ns / 1e9]
    assert np.array_equal(gathered.columns(WARNINGS)["ended_by"], [None])
