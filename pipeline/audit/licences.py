"""Addresses of open licences as their publisher writes them, and what people write for them."""

from __future__ import annotations

import re

# The codes of translated deeds and texts, as the draft lists them.
_LANGUAGES = "id|eu|da|de|en|es|fr|fy|hr|it|lv|lt|mi|ni|no|pl|pt|ro|si|fi|sv|tr|cs|el|ru|uk|ar|jp|zh-hans|zh-hant|ko"
_ADDRESS = re.compile(rf"http(s?)(://[^ \s]+?/)((?:deed|legalcode)(?:\.(?:{_LANGUAGES}))?)?")
_ROUND_AN_ADDRESS = re.compile(r"^(?:https?://)?(?:www\.)?|/(?:(?:deed|legalcode)(?:\.[a-z-]+)?)?/?$", re.IGNORECASE)


def main_address(address: str) -> str:
    """The address of the licence itself, without what may follow it; "" where it is no such address.

    >>> main_address("http://creativecommons.org/licenses/by/4.0/deed.fr")
    'https://creativecommons.org/licenses/by/4.0/'
    >>> main_address("https://creativecommons.org/licenses/by/4.0/deed.xx"), main_address("CC0")
    ('', '')
    """
    found = _ADDRESS.fullmatch(address)
    if not found or ("/zero/" in address and address.endswith(".mi")):  # no such translation in the draft's list
        return ""
    return f"https{found[2]}"


def without_dress(written: str) -> str:
    """What is written for a licence without scheme, deed, text and last stroke, as far as it is an address.

    >>> without_dress("http://www.creativecommons.org/licenses/by/4.0/legalcode")
    'creativecommons.org/licenses/by/4.0'
    >>> without_dress("CC BY 4.0")
    'CC BY 4.0'
    """
    return _ROUND_AN_ADDRESS.sub("", written.strip())
