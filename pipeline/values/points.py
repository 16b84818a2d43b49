"""Points of many rows, each different one asked about once."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
import numpy.typing as npt

Numbers = npt.NDArray[np.float64]
Texts = npt.NDArray[np.str_]


class Points(NamedTuple):
    """The different points among rows, and which of them each row has (-1 for none)."""

    latitudes: Numbers
    longitudes: Numbers
    places: npt.NDArray[np.int64]

    def each(self, ask: Callable[[Numbers, Numbers], Any], blank: Any) -> npt.NDArray[Any]:
        """What is answered about the point of each row; `blank` where it has none."""
        said = np.asarray(ask(self.latitudes, self.longitudes))
        kind = np.result_type(said.dtype, np.asarray(blank).dtype)
        return np.append(said.astype(kind), np.asarray(blank, kind))[self.places]

    def each_claim(self, claimed: Texts, ask: Callable[[Numbers, Numbers, Texts], Any]) -> Numbers:
        """What is answered about the point and the claim of each row; missing where either is."""
        km = np.full(len(claimed), np.nan)
        asked = np.flatnonzero((self.places >= 0) & (claimed != ""))
        if not len(asked):
            return km
        claims, of_claim = np.unique(claimed[asked], return_inverse=True)
        pairs, of_pair = np.unique(self.places[asked] * len(claims) + of_claim.reshape(-1), return_inverse=True)
        place, claim = np.divmod(pairs, len(claims))
        said = np.asarray(ask(self.latitudes[place], self.longitudes[place], claims[claim]))
        km[asked] = said[of_pair.reshape(-1)]
        return km


def points_of(latitudes: Numbers, longitudes: Numbers) -> Points:
    """The points of rows; one without a latitude or a longitude has none.

    >>> points = points_of(np.array([45.5, np.nan, 45.5]), np.array([-64.8, -64.8, -64.8]))
    >>> points.places.tolist(), points.each(lambda north, east: north + east, np.nan).tolist()
    ([0, -1, 0], [-19.299999999999997, nan, -19.299999999999997])
    """
    places = np.full(len(latitudes), -1, dtype="int64")
    known = np.flatnonzero(~np.isnan(latitudes) & ~np.isnan(longitudes))
    both = np.empty(len(known), dtype="complex128")
    both.real, both.imag = latitudes[known], longitudes[known]
    unique, of_point = np.unique(both, return_inverse=True)
    places[known] = of_point.reshape(-1)
    return Points(unique.real.copy(), unique.imag.copy(), places)
