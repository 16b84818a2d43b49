"""Names of datums, and codes of EPSG in their various dresses."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import lru_cache

from pipeline.values.datum import compact

NOT_RECORDED = "not recorded"
_CODE = re.compile(
    r"(?:urn:ogc:def:crs:|https?://www\.opengis\.net/def/crs/)?\(?epsg[:/ ]*(?:[0-9.]*[:/])?([0-9]{4,6})\)?", re.I
)
_SAYS_NOTHING = frozenset({"notrecorded", "unknown", "datumunknown", "unknowndatum"})


@lru_cache(maxsize=10_000)
def says_nothing(written: str) -> bool:
    """Whether the text says that the datum was not recorded.

    >>> says_nothing("Not recorded"), says_nothing("unknown"), says_nothing("WGS84")
    (True, True, False)
    """
    return compact(written) in _SAYS_NOTHING


def code_of(written: str, is_datum: Callable[[str], bool], codes: Mapping[str, str]) -> str:
    """The code that a written datum can only mean, "" where there is none.

    >>> known = {"wgs84": "EPSG:4326"}
    >>> [code_of(text, lambda code: code == "EPSG:4326", known) for text in ("WGS_84", "epsg 4326", "4326", "WGS8")]
    ['EPSG:4326', 'EPSG:4326', '', '']
    """
    if (found := _CODE.fullmatch(written.strip())) and is_datum(code := f"EPSG:{found[1]}"):
        return code
    code = codes.get(compact(written), "")
    return code if is_datum(code) else ""
