"""Columns of a table, each different value once."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt
import pandas as pd

MOST = 1 << 62
Places = npt.NDArray[np.int64]


class Column(NamedTuple):
    """The different values of a column, and which of them each record has."""

    values: Sequence[Any]
    places: Places

    @staticmethod
    def of_one(value: Any, records: int) -> Column:
        """A column in which every record has the same value."""
        return Column([value], np.zeros(records, dtype=np.int64))

    def seen_as(self, seen: Sequence[Hashable]) -> Column:
        """The same column with another value for each of its different ones, equal ones together."""
        different, again = each_once(seen)
        return Column(different, again[self.places])


def each_once(values: Sequence[Hashable]) -> tuple[list[Any], Places]:
    """The different values in the order in which they come, and which of them each is."""
    different = list(dict.fromkeys(values))
    places = {value: place for place, value in enumerate(different)}
    return different, np.fromiter(map(places.__getitem__, values), np.int64, len(values))


def column(values: Sequence[str]) -> Column:
    """A column of texts, one for each record."""
    places, different = pd.factorize(np.asarray(values, dtype=object))
    return Column(different.tolist(), np.asarray(places, dtype=np.int64))


def blank(records: int) -> Column:
    """A column that the table does not have."""
    return Column.of_one("", records)


def together(columns: Sequence[Column]) -> Column:
    """Several columns as one of tuples.

    >>> pair = together([column(["a", "a", "b"]), column(["x", "x", "x"])])
    >>> pair.values, pair.places.tolist()
    ([('a', 'x'), ('b', 'x')], [0, 0, 1])
    """
    places, different = columns[0].places, len(columns[0].values)
    for other in columns[1:]:
        if different * len(other.values) >= MOST:
            places = _small(places)  # so that twenty columns do not outgrow 64 bits
            different = int(places.max()) + 1 if len(places) else 0
        if len(other.values) > 1:
            places, different = places * len(other.values) + other.places, different * len(other.values)
    places = _small(places)
    first = np.zeros(int(places.max()) + 1 if len(places) else 0, dtype=np.int64)
    first[places[::-1]] = np.arange(len(places) - 1, -1, -1)
    values = [[one.values[place] for place in one.places[first].tolist()] for one in columns]
    return Column(list(zip(*values, strict=True)), places)


def _small(places: Places) -> Places:
    return np.asarray(pd.factorize(places)[0], dtype=np.int64)
