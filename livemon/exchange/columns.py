"""A table as numpy arrays, one for each column, all of one length.

Numbers are float64 with NaN for "not known", since that is how numpy says it; texts and flags are
objects with None. A moment is an integer of nanoseconds in `<name>_ns`, and seconds in `<name>_s`
(the time of a row is plain `t_ns` and `t_s`).
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from livemon.exchange.extra import needed

_NS_PER_S: Final = 1e9

Array = NDArray[Any]


class Columns(Mapping[str, Array]):
    """One table; `columns["smo2_pct"]` is a column.

    Attributes:
        name: of the table.
        units: by column; empty for counts and texts.
        about: what each column means, in words.
    """

    __slots__ = ("_arrays", "about", "name", "units")

    def __init__(
        self,
        name: str,
        arrays: Mapping[str, Array],
        units: Mapping[str, str],
        about: Mapping[str, str],
    ) -> None:
        self.name, self._arrays, self.units, self.about = name, dict(arrays), units, about

    def __getitem__(self, column: str) -> Array:
        """Return one column."""
        return self._arrays[column]

    def __iter__(self) -> Iterator[str]:
        """Yield the columns' names."""
        return iter(self._arrays)

    def __len__(self) -> int:
        """Return how many columns there are; see `rows`."""
        return len(self._arrays)

    def __repr__(self) -> str:
        """Return name and size."""
        return f"<{self.name}: {self.rows} rows, {', '.join(self)}>"

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return len(next(iter(self._arrays.values())))

    def where(self, **wanted: object) -> "Columns":
        """Return the rows in which every named column has the given value: `site="left thigh"`.

        Raises:
            KeyError: there is no such column.
        """
        keep = np.ones(self.rows, dtype=bool)
        for column, value in wanted.items():
            keep &= np.array([cell == value for cell in self[column].tolist()], dtype=bool)
        return self._kept(keep)

    def used(self) -> "Columns":
        """Return the readings that the live session used: all rows, in tables without readings."""
        if "refused" not in self._arrays:
            return self
        return self._kept(np.array([cell is None for cell in self["refused"]], dtype=bool))

    def to_pandas(self) -> Any:  # noqa: ANN401 - a library that need not be there
        """Return a pandas DataFrame; its `attrs["units"]` holds the units.

        Raises:
            UsageError: pandas isn't installed.
        """
        frame = needed("pandas", "pandas").DataFrame(self._arrays)
        frame.attrs["units"] = dict(self.units)
        return frame

    def to_polars(self) -> Any:  # noqa: ANN401 - a library that need not be there
        """Return a polars DataFrame, in which NaN becomes null.

        Raises:
            UsageError: polars isn't installed.
        """
        polars = needed("polars", "polars")
        cells = {
            name: array.tolist() if array.dtype == object else array
            for name, array in self._arrays.items()
        }
        return polars.DataFrame(cells, strict=False, nan_to_null=True)

    def _kept(self, keep: NDArray[np.bool_]) -> "Columns":
        kept = {name: array[keep] for name, array in self._arrays.items()}
        return Columns(self.name, kept, self.units, self.about)


def seconds(t_ns: Array) -> Array:
    """Return nanoseconds as seconds."""
    return t_ns / _NS_PER_S
