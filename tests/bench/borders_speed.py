"""How fast the boundaries are read and asked: python tests/bench/borders_speed.py [points, 1,000,000 if not said].

Points lie at random over North America from Mexico to the Gulf of Saint Lawrence, lakes among them. In
every fiftieth the claimed state is another one, and as many more lie at random over the Atlantic coast, half of them
at sea: these need a distance. Load on the computer moves all figures.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from pipeline.files.boundaries import ATLAS
from pipeline.files.boundary_layers import counties, lakes, shape_at, world

SEED = 20260901
SHARE = 0.02


def timed(what: str, act: Callable[[], Any]) -> Any:
    """Acts, and says how long it took."""
    begin = time.perf_counter()
    outcome = act()
    print(f"{time.perf_counter() - begin:7.2f} s  {what}")
    return outcome


def _on_land(choose: np.random.Generator, count: int) -> tuple[Any, Any]:
    """So many different points in states and provinces."""
    north, east = choose.uniform(18, 52, 3 * count), choose.uniform(-125, -60, 3 * count)
    inland = np.flatnonzero(shape_at(world().layer, north, east) >= 0)[:count]
    return north[inland], east[inland]


def main(count: int) -> None:
    """Prints a line for each thing measured."""
    timed("load: the world's states, the counties, the lakes", lambda: (world(), counties(), lakes()))
    choose = np.random.default_rng(SEED)
    north, east = _on_land(choose, count)
    begin = time.perf_counter()
    timed(f"country of {count:,} points on land", lambda: ATLAS.country_at(north, east))
    states = timed("their state", lambda: ATLAS.state_at(north, east))
    water = timed("land or water", lambda: ATLAS.km_to_land(north, east)) > 0
    print(f"{time.perf_counter() - begin:7.2f} s  together, {water.sum():,} of them in lakes and measured to the shore")
    asked = choose.choice(count, int(count * SHARE), replace=False)
    others = choose.permutation(states[asked])
    begin = time.perf_counter()
    timed(
        f"{len(asked):,} of them outside another state",
        lambda: ATLAS.km_outside_state(north[asked], east[asked], others),
    )
    sea_north, sea_east = choose.uniform(18, 52, len(asked)), choose.uniform(-80, -60, len(asked))
    timed(f"land or water of {len(asked):,} points, half of them at sea", lambda: ATLAS.km_to_land(sea_north, sea_east))
    print(f"{time.perf_counter() - begin:7.2f} s  together")


if __name__ == "__main__":
    main(int(sys.argv[1].replace(",", "")) if len(sys.argv) > 1 else 1_000_000)
