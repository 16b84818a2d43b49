"""Facts that a test wants beside the record's own terms, looked up for many sets of values at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
import pandas as pd

from pipeline.audit.audit_test import AuditTest, is_empty
from pipeline.audit.place_name import codes_of_state
from pipeline.audit.sources import Sources
from pipeline.audit.turned import TURNS

Terms = dict[str, list[str]]
Numbers = npt.NDArray[np.float64]
STANDS = ("in", "near", "zone")  # with its country


def looked_up(test: AuditTest, values: Sequence[tuple[str, ...]], sources: Sources) -> list[tuple[Any, ...]]:
    """For each set of values the facts that the test names, in its order."""
    if not test.looked_up:
        return [()] * len(values)
    named = test.acted_upon + test.consulted
    terms = {term: [one[place] for one in values] for place, term in enumerate(named)}
    return list(zip(*(FACTS[name](terms, sources) for name in test.looked_up), strict=True))


def country_standing(terms: Terms, sources: Sources) -> list[str]:
    """Where the point stands to the country of the code, in the words of `pipeline.files.standing`."""
    return list(_asked(terms, terms["countryCode"], sources.country_standing, sources))


def state_standing(terms: Terms, sources: Sources) -> list[str]:
    """Where the point stands to every state of the name."""
    names = set(terms["stateProvince"])
    codes = {name: " ".join(sorted(codes_of_state(name, sources.states))) for name in names}
    return list(_asked(terms, [codes[name] for name in terms["stateProvince"]], sources.state_standing, sources))


def country_here(terms: Terms, sources: Sources) -> list[str]:
    """The codes that pass at the point, for records without one."""
    said = np.full(len(terms["countryCode"]), "", dtype=object)
    north, east, is_point = _points(terms)
    asked = np.flatnonzero(is_point & np.asarray([is_empty(code) for code in terms["countryCode"]], dtype=bool))
    if len(asked):
        said[asked] = sources.country_here(north[asked], east[asked], sources.spatial_buffer_metres / 1000)
    return said.tolist()


def turns(terms: Terms, sources: Sources) -> list[tuple[int, ...] | None]:
    """Which of `TURNS` bring a point into the country of its code; none of one that stands there, None if not known."""
    said: list[tuple[int, ...] | None] = [None] * len(terms["countryCode"])
    if sources.on_land_of is None:
        return said
    codes = np.asarray(terms["countryCode"], dtype=object)
    standing = _asked(terms, terms["countryCode"], sources.country_standing, sources)
    north, east = _degrees(terms["decimalLatitude"]), _degrees(terms["decimalLongitude"])
    is_known = np.isfinite(north) & np.isfinite(east) & np.isin(codes, list(sources.country_codes))
    asked = np.flatnonzero(is_known & ~np.isin(standing, STANDS))
    fits = np.zeros((len(TURNS), len(asked)), dtype=bool)
    for number, turn in enumerate(TURNS):
        one, other = turn.of(north[asked], east[asked])
        may = np.flatnonzero((np.abs(one) <= 90) & (np.abs(other) <= 180) & turn.changes(north[asked], east[asked]))
        if len(may):
            fits[number, may] = sources.on_land_of(one[may], other[may], codes[asked[may]].astype(str))
    for place in np.flatnonzero(is_known).tolist():
        said[place] = ()
    for place, fit in zip(asked[fits.any(axis=0)].tolist(), fits[:, fits.any(axis=0)].T, strict=True):
        said[place] = tuple(np.flatnonzero(fit).tolist())
    return said


def km_from_centre(terms: Terms, sources: Sources) -> list[float]:
    """How far the point lies from the middle of the country of the code; nan where that is not known."""
    north, east, is_point = _points(terms)
    km = np.full(len(north), np.nan)
    codes = np.asarray(terms["countryCode"], dtype=object)[is_point].astype(str)
    km[is_point] = sources.km_from_centre(north[is_point], east[is_point], codes)
    return km.tolist()


def _asked(terms: Terms, codes: list[str], ask: Callable[..., Any], sources: Sources) -> npt.NDArray[np.object_]:
    north, east, is_point = _points(terms)
    claimed = np.asarray(codes, dtype=object)
    asked = np.flatnonzero(is_point & (claimed != ""))
    said = np.full(len(claimed), "", dtype=object)
    if len(asked):
        reach = sources.spatial_buffer_metres / 1000
        said[asked] = ask(north[asked], east[asked], claimed[asked].astype(str), reach)
    return said


def _points(terms: Terms) -> tuple[Numbers, Numbers, npt.NDArray[np.bool_]]:
    north, east = _degrees(terms["decimalLatitude"]), _degrees(terms["decimalLongitude"])
    return north, east, (np.abs(north) <= 90) & (np.abs(east) <= 180)


def _degrees(written: list[str]) -> Numbers:
    return pd.to_numeric(pd.Series(written, dtype=object), errors="coerce").to_numpy(float)


FACTS: dict[str, Callable[[Terms, Sources], list[Any]]] = {
    "country_standing": country_standing,
    "state_standing": state_standing,
    "country_here": country_here,
    "turns": turns,
    "km_from_centre": km_from_centre,
}
