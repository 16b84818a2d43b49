"""The season's map as SVG text: an own drawing of equal areas, without script, picture or network."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

import numpy as np
import pandas as pd

from pipeline.files.map_ground import GLOBE_KM, WIDTH, Numbers, View, equal_area, ground

TALLEST, SHORTEST, STRIP = 760, 340, 30  # of the drawing, and of the key below it
MARGIN, LEAST_KM = 0.08, 60.0  # round the points; what is always shown, from side to side
MARKS_AT_MOST = 1500  # beyond, the drawing says how many are not shown
NICE = (1, 2, 5)
SOURCE = (
    "Boundaries: Natural Earth; US Census Bureau. Equal-area projection (Lambert). Straight lines, not flight paths."
)


def draw_map(points: pd.DataFrame, links: pd.DataFrame) -> str:
    """The map of releases and finds; blank where there is no point.

    `points` has kind (release or find), latitude, longitude, is_rounded; `links` the places of a release and of its
    find: latitude, longitude, find_latitude, find_longitude.
    """
    if not len(points):
        return ""
    view = _view(points["latitude"].to_numpy(), points["longitude"].to_numpy())
    counted = points.groupby(["kind", "latitude", "longitude"], sort=True).size().rename("count").reset_index()
    counted = counted.sort_values(["kind", "count"], ascending=[False, False], kind="stable")
    shown = counted.groupby("kind", sort=False).head(MARKS_AT_MOST)
    parts = [
        _head(view, points, links),
        '<g clip-path="url(#map-edge)">',
        *ground(view),
        *_lines(view, links),
        *_marks(view, shown),
        *_key(view, points, len(counted) - len(shown)),
        "</svg>",
    ]
    return "\n".join(parts)


def _view(latitudes: Numbers, longitudes: Numbers) -> View:
    """Round all points, with a margin; wide enough for a coast line to be known again."""
    east = np.radians(longitudes)
    turned = float(np.degrees(np.arctan2(np.sin(east).mean(), np.cos(east).mean())))  # also across 180 degrees
    middle = (float(latitudes.min() + latitudes.max()) / 2, turned)
    flat = equal_area(latitudes, longitudes, middle) * GLOBE_KM
    low, high = flat.min(axis=0), flat.max(axis=0)
    sides = np.maximum((high - low) * (1 + 2 * MARGIN), LEAST_KM)
    height = int(np.clip(round(WIDTH * sides[1] / sides[0]), SHORTEST, TALLEST))
    km = float(max(sides[0] / WIDTH, sides[1] / height))
    centre = (low + high) / 2
    return View(*middle, km, float(centre[0] - km * WIDTH / 2), float(centre[1] + km * height / 2), height)


def _head(view: View, points: pd.DataFrame, links: pd.DataFrame) -> str:
    releases, finds = (int((points["kind"] == kind).sum()) for kind in ("release", "find"))
    told = f"{releases} releases and {finds} finds with a point; {len(links)} finds joined to their release by a line."
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="map" viewBox="0 0 {WIDTH} {view.height + STRIP}" role="img"'
        ' aria-labelledby="map-title map-told">\n'
        f'<title id="map-title">Map of releases and finds</title>\n<desc id="map-told">{escape(told)}</desc>\n'
        f'<clipPath id="map-edge"><rect width="{WIDTH}" height="{view.height}"/></clipPath>\n'
        f'<rect class="sea" width="{WIDTH}" height="{view.height}"/>'
    )


def _lines(view: View, links: pd.DataFrame) -> Iterable[str]:
    """A line from each release to its find."""
    unique = links.drop_duplicates().sort_values(list(links.columns))
    starts = view.place(unique["latitude"].to_numpy(), unique["longitude"].to_numpy())
    ends = view.place(unique["find_latitude"].to_numpy(), unique["find_longitude"].to_numpy())
    way = "".join(f"M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}" for a, b, c, d in np.hstack([starts, ends]).tolist())
    yield f'<path class="way" d="{way}"/>\n</g>' if way else "</g>"


def _marks(view: View, counted: pd.DataFrame) -> Iterable[str]:
    """A dot for each place of releases, a diamond for each of finds; larger for more."""
    placed = view.place(counted["latitude"].to_numpy(), counted["longitude"].to_numpy())
    sizes = np.minimum(2.6 + 1.1 * np.sqrt(counted["count"].to_numpy(dtype="float64") - 1), 11)
    for kind, count, (right, down), size in zip(
        counted["kind"], counted["count"], placed.tolist(), sizes.tolist(), strict=True
    ):
        said = f"<title>{count} {kind}{'s' if count > 1 else ''}</title>"
        if kind == "release":
            yield f'<circle class="release" cx="{right:.1f}" cy="{down:.1f}" r="{size:.1f}">{said}</circle>'
        else:
            half = size + 2.4
            yield f'<path class="find" d="{_diamond(right, down, half)}">{said}</path>'


def _diamond(right: float, down: float, half: float) -> str:
    return f"M{right:.1f} {down - half:.1f}l{half:.1f} {half:.1f} {-half:.1f} {half:.1f} {-half:.1f} {-half:.1f}z"


def _key(view: View, points: pd.DataFrame, unshown: int) -> Iterable[str]:
    """What the marks mean, and the scale, in a strip below that hides no mark."""
    words = ["protected places are rounded"] * bool(points["is_rounded"].any())
    words += [f"{unshown} further places not drawn"] * (unshown > 0)
    line = view.height + STRIP / 2
    yield f'<g class="key"><rect y="{view.height}" width="{WIDTH}" height="{STRIP}"/>'
    yield f'<circle class="release" cx="16" cy="{line}" r="3.7"/>{_word(28, line, "released (larger: more)")}'
    if (points["kind"] == "find").any():
        words.insert(0, "found; a line from its release")
        yield f'<path class="find" d="{_diamond(208, line, 6)}"/>'
    yield f"{_word(222, line, ' · '.join(words))}</g>"
    km = _nice(view.km * 150)
    length = km / view.km
    yield (
        f'<g class="scale"><path d="M{WIDTH - 16 - length:.1f} {line - 3}v6h{length:.1f}v-6"/>'
        f"{_word(WIDTH - 24 - length, line, f'{km:g} km')}</g>"
    )


def _word(right: float, line: float, word: str) -> str:
    return f'<text x="{right:.1f}" y="{line + 4.5}">{escape(word)}</text>'


def _nice(km: float) -> float:
    """The largest of 1, 2 or 5 with zeros that is no longer."""
    power = 10.0 ** np.floor(np.log10(km))
    return float(max(step * power for step in NICE if step * power <= km))
