"""ORCIDs, by which a recorder may be named beside the name: 16 digits, the last a check character."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence

from pipeline.values.check_character import orcid_fits

_DIGITS = re.compile(r"(?:https?://)?(?:www\.)?(?:orcid\.org/)?(\d{4})-?(\d{4})-?(\d{4})-?(\d{3}[\dXx])/?", re.ASCII)


def orcid_address(text: str) -> str:
    """The ORCID as the portal takes it; "" if the text is none, or its check character (ISO 7064 MOD 11-2) is wrong.

    >>> orcid_address("0000-0002-1825-0097")
    'https://orcid.org/0000-0002-1825-0097'
    >>> orcid_address("orcid.org/0000000218250097"), orcid_address("0000-0002-1825-0098")
    ('https://orcid.org/0000-0002-1825-0097', '')
    """
    found = _DIGITS.fullmatch(text.strip())
    if found is None:
        return ""
    address = "https://orcid.org/" + "-".join(found.groups()).upper()
    return address if orcid_fits(address) else ""


def orcids_of(people: Sequence[Mapping[str, str]]) -> dict[str, str]:
    """By name: the ORCID of everybody whose name may be published, where nobody else bears that name.

    >>> ines = {"name": "Ines", "orcid": "0000-0002-1825-0097", "publish_name": "yes", "minor": "no"}
    >>> orcids_of([ines]), orcids_of([{**ines, "minor": "yes"}]), orcids_of([ines, ines])
    ({'Ines': 'https://orcid.org/0000-0002-1825-0097'}, {}, {})
    """
    bearers = Counter(line["name"] for line in people)
    return {
        line["name"]: orcid_address(line["orcid"])
        for line in people
        if line.get("orcid") and (line["publish_name"], line["minor"], bearers[line["name"]]) == ("yes", "no", 1)
    }
