"""What a SNIRF file holds of one athlete, as plain values: nothing here knows HDF5."""

from dataclasses import dataclass

from livemon.exchange.columns import Array


@dataclass(frozen=True, slots=True, eq=False)
class Channel:
    """One column of a block of data.

    Attributes:
        label: dataTypeLabel: "StO2", "HbT", "HbO" or "HbR".
        unit: in CMIXF-12 spelling; empty where it can't be said.
        place: 1 for the first site: source and detector alike.
    """

    label: str
    unit: str
    place: int
    values: Array


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """Channels that share their times, in seconds."""

    t_s: Array
    channels: tuple[Channel, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Aux:
    """A series beside the light: heart rate, power."""

    name: str
    unit: str
    t_s: Array
    values: Array


@dataclass(frozen=True, slots=True, eq=False)
class Stim:
    """What happened, each time it did.

    Attributes:
        rows: start and duration in seconds, amplitude, and what `labels` says, one row each.
        labels: names of the columns.
    """

    name: str
    labels: tuple[str, ...]
    rows: Array


@dataclass(frozen=True, slots=True, eq=False)
class Subject:
    """One athlete.

    Attributes:
        wavelengths_nm: empty for processed data, whose light nobody knows.
        tags: further metaDataTags.
    """

    subject_id: str
    sites: tuple[str, ...]
    blocks: tuple[Block, ...]
    aux: tuple[Aux, ...]
    stims: tuple[Stim, ...]
    wavelengths_nm: tuple[float, ...] = ()
    tags: tuple[tuple[str, str], ...] = ()
