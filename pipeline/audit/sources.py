"""What the tests compare with: lists, bounds and maps, handed in by whoever reads them from files."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import numpy as np

from pipeline.audit.names import KnownNames


def _unknown(latitudes: Any, *_: Any) -> Any:
    return np.full(len(latitudes), np.nan)


def _unsaid(latitudes: Any, *_: Any) -> Any:
    return np.full(len(latitudes), "")


@dataclass(frozen=True)
class Sources:
    """Every parameter of the draft's tests, by our names; the defaults are the draft's.

    Names are tidied by `pipeline.values.text.tidy` where a mapping is keyed by names.
    """

    today: date
    earliest_valid_date: str = "1582-11-15"
    latest_valid_date: str = ""  # "" is the end of the year of `today`
    earliest_identified_date: str = "1753-01-01"
    includes_event_date: bool = True  # whether an identification must not be older than the event
    minimum_valid_elevation: float = -430.0  # metres
    maximum_valid_elevation: float = 8850.0
    spatial_buffer_metres: float = 3000.0
    assumed_datum: str = "EPSG:4326"
    assumed_occurrence_status: str = "present"
    country_codes: frozenset[str] = frozenset()  # ISO 3166-1 alpha-2, with XZ and ZZ
    countries: Mapping[str, str] = field(default_factory=dict)  # a tidied name: its code
    country_names: Mapping[str, str] = field(default_factory=dict)  # the same without codes: names only
    states: Mapping[str, frozenset[str]] = field(
        default_factory=dict
    )  # a tidied name: ISO 3166-2 codes, or our map's own
    words: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # a term: the words of its list
    spellings: Mapping[str, Mapping[str, str]] = field(default_factory=dict)  # a term: a loose spelling: its word
    taxa: KnownNames = field(default_factory=KnownNames)  # of taxa.csv
    is_datum: Callable[[str], bool] | None = None  # whether an EPSG code is a datum, an ellipsoid or a CRS in degrees
    datum_codes: Mapping[str, str] = field(default_factory=dict)  # a datum's name as `datum_name` compares it: its code
    largest_shift: Callable[[float, float], int] | None = None  # metres between the assumed and any datum, at a point
    country_standing: Callable[..., Any] = _unsaid  # arrays of latitude, longitude, code; km: words of `standing`
    state_standing: Callable[..., Any] = _unsaid  # the same with ISO 3166-2 codes between blanks
    country_here: Callable[..., Any] = _unsaid  # arrays of latitude, longitude; km: the codes that pass there
    on_land_of: Callable[..., Any] | None = None  # arrays of latitude, longitude, code: whether on that country's land
    km_from_centre: Callable[..., Any] = (
        _unknown  # arrays of latitude, longitude, code: km from a middle of the country
    )
    half_width_km: Mapping[str, float] = field(default_factory=dict)  # half the root of a country's area
    centre_buffer_metres: float = 5000.0

    @property
    def last_valid_date(self) -> str:
        """The last day that an event may have: as set, or in this year."""
        return self.latest_valid_date or f"{self.today.year:04}"

    @property
    def last_identified_date(self) -> str:
        """The last day on which somebody may have identified anything: as set, or today."""
        return self.latest_valid_date or self.today.isoformat()
