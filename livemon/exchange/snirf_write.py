"""Datasets as SNIRF wants them: scalars without dimensions, 32-bit integers, texts of any length.

Source: SNIRF specification v1.1, "Data Types" (github.com/fNIRS/snirf).
"""

from typing import Any

import numpy as np

from livemon.exchange.columns import Array
from livemon.exchange.extra import needed


def snirf_library() -> Any:  # noqa: ANN401 - h5py has no types
    """Return h5py.

    Raises:
        UsageError: it isn't installed.
    """
    return needed("h5py", "livemon[snirf]")


def write_text(group: Any, name: str, text: str) -> None:  # noqa: ANN401 - as above
    """Write one text. HDF5 has no place for a zero octet."""
    safe = text.replace("\0", "")
    group.create_dataset(name, data=safe, dtype=snirf_library().string_dtype())


def write_texts(group: Any, name: str, texts: list[str]) -> None:  # noqa: ANN401 - as above
    """Write a list of texts."""
    safe = [text.replace("\0", "") for text in texts]
    group.create_dataset(name, data=safe, dtype=snirf_library().string_dtype())


def write_whole(group: Any, name: str, number: int) -> None:  # noqa: ANN401 - as above
    """Write one integer."""
    group.create_dataset(name, data=np.int32(number))


def write_floats(group: Any, name: str, values: Array) -> None:  # noqa: ANN401 - as above
    """Write numbers of one or two dimensions; long ones are packed."""
    packed = {"compression": "gzip", "shuffle": True} if values.size > 1000 else {}
    group.create_dataset(name, data=np.asarray(values, dtype=np.float64), **packed)
