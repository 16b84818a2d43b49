"""Ids that say themselves who gave them."""

from __future__ import annotations

import re

_SIGN = r"(?:[A-Za-z0-9._~!$&'()*+,;=:@-]|%[0-9A-Fa-f]{2})"
# RFC 8141; an LSID is a URN too.
_URN = re.compile(rf"urn:(?!urn:)[a-z0-9][a-z0-9-]{{0,30}}[a-z0-9]:{_SIGN}(?:{_SIGN}|/)*(?:[?#]\S*)?", re.IGNORECASE)
# RFC 3986, with a host and a path that is more than a stroke.
_HOST = r"(?:\[[0-9A-Fa-f:.]+\]|[A-Za-z0-9](?:[A-Za-z0-9.-]*[A-Za-z0-9])?)"
_QUERY = rf"(?:\?(?:{_SIGN}|[/?])*)?(?:#(?:{_SIGN}|[/?])*)?"
_ADDRESS = re.compile(rf"[A-Za-z][A-Za-z0-9+.-]*://(?:[^\s/?#@]+@)?{_HOST}(?::[0-9]+)?/+{_SIGN}(?:{_SIGN}|/)*{_QUERY}")
_SCOPED = re.compile(r"(?!(?:urn|https?|ftp):)[A-Za-z][A-Za-z0-9._-]*:(?!//)[^\s]+", re.IGNORECASE)


def is_complete(value: str) -> bool:
    """Whether an id is a URN, an address with a path, or a number behind the name of its list and a colon.

    >>> [is_complete(value) for value in ("urn:lsid:example.org:names:42", "https://example.org/42", "example:42")]
    [True, True, True]
    >>> [is_complete(value) for value in ("42", "https://example.org/", "urn:lsid:", "Danaus plexippus", "a:b c")]
    [False, False, False, False, False]
    """
    return bool(_SCOPED.fullmatch(value) or _ADDRESS.fullmatch(value) or _URN.fullmatch(value))
