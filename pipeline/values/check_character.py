"""Check characters of ISO/IEC 7064, which catch single slips in a code."""

from __future__ import annotations

import re

_SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_ORCID = re.compile(r"(?:https?://orcid\.org/)?(\d{4}-\d{4}-\d{4}-\d{3})([\dX])")


def iso7064_mod37_36(code: str) -> str:
    """The check character of a code of letters and digits (ISO/IEC 7064 MOD 37,36).

    >>> iso7064_mod37_36("A12425GABC1234002")
    'M'
    """
    carried = 36
    for sign in code:
        carried = (carried + _SIGNS.index(sign)) % 36 or 36
        carried = carried * 2 % 37
    return _SIGNS[(1 - carried) % 36]


def iso7064_mod11_2(digits: str) -> str:
    """The check character of a code of digits, 0 to 9 or X (ISO/IEC 7064 MOD 11-2).

    >>> iso7064_mod11_2("0794"), iso7064_mod11_2("079")
    ('0', 'X')
    """
    carried = 0
    for digit in digits:
        carried = (carried + "0123456789".index(digit)) * 2 % 11
    return "0123456789X"[(12 - carried) % 11]


def orcid_fits(text: str) -> bool:
    """The text is an ORCID whose check character fits.

    >>> orcid_fits("https://orcid.org/0000-0002-1825-0097"), orcid_fits("0000-0002-1825-0098")
    (True, False)
    """
    found = _ORCID.fullmatch(text.strip())
    return found is not None and iso7064_mod11_2(found[1].replace("-", "")) == found[2]
