"""The short visible key of a question: six letters and digits without look-alikes, and a check character."""

from __future__ import annotations

import hashlib
import re
from itertools import count

from pipeline.values.check_character import iso7064_mod37_36

LETTERS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
_SHAPE = re.compile(rf"[{LETTERS}]{{7}}")


def ref_of(identity: str) -> str:
    """The key of the question about a thing: the same thing always has the same key.

    A key whose check character (ISO 7064 MOD 37,36) would be a look-alike is passed over.

    >>> ref_of("p01/sheet/12/sex") == ref_of("p01/sheet/12/sex"), is_ref(ref_of("anything"))
    (True, True)
    """
    bodies = (_body(f"{identity}#{attempt}") for attempt in count())
    return next(body + check for body in bodies if (check := iso7064_mod37_36(body)) in LETTERS)


def _body(text: str) -> str:
    number = int.from_bytes(hashlib.sha256(text.encode()).digest()[:8])
    body = ""
    for _ in range(6):
        number, digit = divmod(number, len(LETTERS))
        body += LETTERS[digit]
    return body


def is_ref(text: str) -> bool:
    """Whether the text is a key whose check character fits.

    >>> is_ref("0000000"), is_ref("")
    (False, False)
    """
    return bool(_SHAPE.fullmatch(text)) and iso7064_mod37_36(text[:-1]) == text[-1]
