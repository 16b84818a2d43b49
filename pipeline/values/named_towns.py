"""Which town a row means: the programme's own places first, then the open list, by what stands beside the name."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
import pandas as pd
from pyproj import Geod

from pipeline.settings import Settings
from pipeline.values.lists import Lists
from pipeline.values.text import tidy
from pipeline.values.towns import Town, Towns, town_key

GEOD = Geod(ellps="WGS84")
NEAR_KM = 100.0  # of a town that is meant, from the person's other places
SIDE_BY_SIDE_KM = 10.0
Found = tuple[str, Sequence[Town] | None]  # the word that names a town, the towns that it may be


class Named(NamedTuple):
    """A town as a row names it: the words, its state and country where those are clear, and the kind of record."""

    municipality: str
    locality: str
    state: str
    country: str
    kind: str


def candidates(
    named: Named, known: Mapping[str, Town | None], lists: Lists, towns: Towns, settings: Settings
) -> tuple[str, Sequence[Town] | None]:
    """The word that names a town, and the towns that it may be; None where the coordinator knows no point for it."""
    for word in (named.locality, named.municipality):
        if word and town_key(word) in known:
            own = known[town_key(word)]
            return word, None if own is None else (own,)
    for word in (named.municipality, named.locality):
        found = _listed(word, named, lists, towns, settings) if word else ()
        if found:
            return word, _as_one(found)
    # Where only the state or country beside it does not have the town, the town is not what is in doubt.
    anywhere = named._replace(state="", country="")
    is_elsewhere = named.municipality and _listed(named.municipality, anywhere, lists, towns, settings)
    return ("", None) if is_elsewhere else (named.municipality, ())


def _listed(word: str, named: Named, lists: Lists, towns: Towns, settings: Settings) -> Sequence[Town]:
    """The towns of the open list with a name, in the state and country that stand beside it or behind a comma."""
    name, _, behind = word.partition(",")
    states = {state.code for state in lists.states.get(tidy(named.state or behind), ())}
    usual = settings.region.release_countries if named.kind == "release" else settings.region.countries
    countries = (named.country,) if named.country else tuple({code[:2] for code in states} & {*usual}) or tuple(usual)
    found = towns(countries, town_key(name if states or not behind else word))
    return [town for town in found if not states or town.state in states]


def _as_one(towns: Sequence[Town]) -> Sequence[Town]:
    """Towns of one name that lie side by side are one, with a radius round both."""
    first = max(towns, key=lambda town: town.metres)
    apart = max(_km(first, pd.DataFrame([town], columns=Town._fields)) for town in towns)
    return (first._replace(metres=first.metres + apart * 1000),) if apart <= SIDE_BY_SIDE_KM else towns


def near(found: Found, points: pd.DataFrame | None) -> Found:
    """Of several towns of one name the only one near somebody's points, else all of them."""
    word, towns = found
    near = [town for town in towns or () if points is not None and _km(town, points) <= NEAR_KM]
    return (word, near) if len(near) == 1 else found


def _km(town: Town, points: pd.DataFrame) -> float:
    if not len(points):
        return float("inf")
    size = len(points)
    lon, lat = points["longitude"].to_numpy(), points["latitude"].to_numpy()
    _, _, metres = GEOD.inv(lon, lat, np.full(size, town.longitude), np.full(size, town.latitude))
    return float(np.min(metres)) / 1000
