"""A SNIRF file: tissue saturation as processed data, heart rate beside it, bouts as stimuli.

Source: SNIRF specification v1.1 (github.com/fNIRS/snirf). The label StO2, "Tissue oxygen
saturation", joined its list after that release, on 2024-05-29; readers of 1.1 take it for one they
don't know. Where probes sit and what light they use is not known here: positions are NaN and the
list of wavelengths is empty, which the specification allows for processed data.
"""

from collections.abc import Sequence
from datetime import datetime
from io import BytesIO
from typing import Any, Final

import numpy as np

from livemon.exchange.snirf_parts import Aux, Block, Channel, Stim, Subject
from livemon.exchange.snirf_write import (
    snirf_library,
    write_floats,
    write_text,
    write_texts,
    write_whole,
)
from livemon.exchange.stamps import started

_VERSION: Final = "1.1"
_PROCESSED: Final = 99999  # dataType, appendix "Supported measurementList(k).dataType values"


def snirf_image(subjects: Sequence[Subject], started_utc: str) -> bytes:
    """Return the file's bytes, made in memory: a full disk then meets plain writes only.

    Raises:
        UsageError: h5py isn't installed.
    """
    image = BytesIO()
    begun = started(started_utc)
    with snirf_library().File(image, "w") as file:
        write_text(file, "formatVersion", _VERSION)
        for number, subject in enumerate(subjects, start=1):
            # One alone goes without a number, as readers of single files expect.
            name = "nirs" if len(subjects) == 1 else f"nirs{number}"
            _write_subject(file.create_group(name), subject, begun)
    return image.getvalue()


def _write_subject(group: Any, subject: Subject, begun: datetime | None) -> None:  # noqa: ANN401
    _write_tags(group.create_group("metaDataTags"), subject, begun)
    for number, block in enumerate(subject.blocks, start=1):
        _write_block(group.create_group(f"data{number}"), block)
    _write_probe(group.create_group("probe"), subject)
    for number, aux in enumerate(subject.aux, start=1):
        _write_aux(group.create_group(f"aux{number}"), aux)
    for number, stim in enumerate(subject.stims, start=1):
        _write_stim(group.create_group(f"stim{number}"), stim)


def _write_tags(group: Any, subject: Subject, begun: datetime | None) -> None:  # noqa: ANN401
    tags = {
        "SubjectID": subject.subject_id,
        "MeasurementDate": "unknown" if begun is None else f"{begun:%Y-%m-%d}",
        "MeasurementTime": "unknown" if begun is None else f"{begun:%H:%M:%S}Z",
        "LengthUnit": "mm",
        "TimeUnit": "s",
        "FrequencyUnit": "Hz",
        **dict(subject.tags),
    }
    for name, text in tags.items():
        write_text(group, name, text)


def _write_block(group: Any, block: Block) -> None:  # noqa: ANN401 - h5py has no types
    write_floats(group, "time", block.t_s)
    write_floats(group, "dataTimeSeries", np.column_stack([c.values for c in block.channels]))
    for number, channel in enumerate(block.channels, start=1):
        _write_channel(group.create_group(f"measurementList{number}"), channel)


def _write_channel(group: Any, channel: Channel) -> None:  # noqa: ANN401 - h5py has no types
    write_whole(group, "sourceIndex", channel.place)
    write_whole(group, "detectorIndex", channel.place)
    write_whole(group, "wavelengthIndex", 1)  # must be there, and says nothing of processed data
    write_whole(group, "dataType", _PROCESSED)
    write_whole(group, "dataTypeIndex", 1)
    write_text(group, "dataTypeLabel", channel.label)
    if channel.unit:
        write_text(group, "dataUnit", channel.unit)


def _write_probe(group: Any, subject: Subject) -> None:  # noqa: ANN401 - h5py has no types
    unknown = np.full((len(subject.sites), 3), np.nan)
    write_floats(group, "wavelengths", np.array(subject.wavelengths_nm))
    write_floats(group, "sourcePos3D", unknown)
    write_floats(group, "detectorPos3D", unknown)
    write_texts(group, "sourceLabels", list(subject.sites))
    write_texts(group, "detectorLabels", list(subject.sites))


def _write_aux(group: Any, aux: Aux) -> None:  # noqa: ANN401 - h5py has no types
    write_text(group, "name", aux.name)
    write_floats(group, "dataTimeSeries", aux.values.reshape(-1, 1))
    write_floats(group, "time", aux.t_s)
    write_text(group, "dataUnit", aux.unit)


def _write_stim(group: Any, stim: Stim) -> None:  # noqa: ANN401 - h5py has no types
    write_text(group, "name", stim.name)
    write_floats(group, "data", stim.rows)
    write_texts(group, "dataLabels", list(stim.labels))
