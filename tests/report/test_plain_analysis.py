"""An analysis as JSON."""

import json

import numpy as np
import pytest

from livemon.analyse.bout import Bout, Intensity
from livemon.analyse.series import Series
from livemon.analyse.session import AthleteRecord, analyse_athlete
from livemon.report.plain import plain


def test_an_analysis_goes_through_json_unchanged() -> None:
    t_s = np.arange(0.0, 700.0)
    values = np.where((t_s > 100) & (t_s < 400), 50.0, 70.0) + np.sin(t_s)
    bout = Bout(1, 100, 400, "ride", intensity=Intensity(250, "W"))
    found = analyse_athlete(
        AthleteRecord("A", (bout,), Series.of(t_s, values + 80), {"thigh": Series.of(t_s, values)})
    )

    written = plain(found)

    assert json.loads(json.dumps(written, allow_nan=False)) == written
    assert isinstance(written, dict)
    muscle = written["bouts"][0]["muscles"][0]
    assert muscle["site"] == "thigh"
    assert muscle["depth"]["drop"]["unit"] == "%"
    assert muscle["word"]["balance"] == "in balance"
    assert "fit" not in muscle["late"]
    assert written["paces"][0]["pace"]["intensity"]["value"] is None
    assert written["paces"][0]["pace"]["intensity"]["reason"]


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_a_number_that_json_lacks_is_refused(number: float) -> None:
    with pytest.raises(ValueError, match="no place in JSON"):
        plain((1.0, number))


def test_an_unknown_type_is_refused() -> None:
    with pytest.raises(TypeError, match="object has no plain form"):
        plain(object())


def test_mappings_and_sets() -> None:
    assert plain({"a": frozenset({"c", "b"})}) == {"a": ["b", "c"]}
