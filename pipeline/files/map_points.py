"""Which places the season's map shows: those of clear releases and finds, protected ones as they are shown outside."""

from __future__ import annotations

import sqlite3

import pandas as pd

from pipeline.files.ledger import frame
from pipeline.values.rounding import to_square

CLEAR = """
SELECT records.kind AS kind, records.tag AS tag, records.latitude AS latitude, records.longitude AS longitude,
    rows.is_rounded = 'yes' AS is_rounded
FROM rows JOIN records ON records.key = rows.key
WHERE rows.state = 'clear' AND records.kind IN ('release', 'find')
    AND records.latitude BETWEEN -90 AND 90 AND records.longitude BETWEEN -180 AND 180
ORDER BY records.key
"""
PLACE = ["latitude", "longitude"]


def points_on_map(ledger: sqlite3.Connection, square: float) -> dict[str, pd.DataFrame]:
    """`points` and `links` as the drawing takes them; a place that is rounded outside is rounded here too."""
    points = frame(ledger, CLEAR)
    points[PLACE] = points[PLACE].astype("float64")
    points["is_rounded"] = points["is_rounded"].astype("bool")
    for axis in PLACE:
        points[axis] = points[axis].where(~points["is_rounded"], to_square(points[axis].to_numpy(), square))
    finds = points.loc[points["kind"] == "find", ["tag", *PLACE]]
    releases = points.loc[points["kind"] == "release", ["tag", *PLACE]].drop_duplicates("tag")
    links = releases.merge(finds, on="tag", suffixes=("", "_of_find")).rename(
        columns={f"{axis}_of_find": f"find_{axis}" for axis in PLACE}
    )
    return {"points": points[["kind", *PLACE, "is_rounded"]], "links": links.drop(columns="tag")}
