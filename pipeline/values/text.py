"""Free text, and how two spellings of one word are told to be the same."""

from __future__ import annotations

import re
import unicodedata

from pipeline.model import Reading
from pipeline.values.letters import likely_readings, read_again

# Letters that Unicode does not take apart into a plain letter and an accent.
_WHOLE_LETTERS = str.maketrans({"œ": "oe", "æ": "ae", "ø": "o", "ł": "l", "đ": "d", "ı": "i"})
_DASHES = str.maketrans(dict.fromkeys("‐‑‒–—―−﹣-⁻", "-"))
_NOT_IN_A_WORD = re.compile(r"(?:[^\w♀♂]|_)+")
_ESCAPED = re.compile(r"_x00(0[0-9A-Fa-f]|1[0-9A-Fa-f]|7[Ff])_")
_UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u200b-\u200f\u202a-\u202e\u2060\ufeff]")
_DIGITS_OF_OTHER_SCRIPTS = re.compile(r"(?![0-9])\d")
_SMALL_FIGURE = re.compile("[²³¹¼-¾\u2070-\u2089\u2150-\u215f\u2189\u2460-\u249b]")
_ONLY_SIGNS = re.compile(r"[-‐‑‒–—―−.?/*_~\s]+")
_DOUBLE_READ = re.compile("[ÃÂâÅ][\x80-\xbf€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ]|\ufffd")

# Tidied and without blanks. schemas/vocabularies/missing_words.csv lists the same; a test compares the two.
BLANK_WORDS = frozenset({
    "na", "nan", "null", "nil", "nd", "none", "unknown", "unk", "notknown", "notnoted", "notrecorded",
    "notapplicable", "notavailable", "nodata", "missing", "blank", "empty", "inconnu", "inconnue",
    "nonnote", "nonnotee", "pasnote", "nondisponible", "nonapplicable", "aucun", "aucune", "sansobjet",
    "manquant", "vide", "desconocido", "desconocida", "ninguno", "ninguna", "nodisponible", "noaplica",
    "noanotado", "noregistrado", "sindato", "sindatos", "seignora", "vacio", "notmeasured", "nottaken", "notchecked",
    "notweighed", "nodate", "undated", "nonmesure", "nonmesuree", "pasmesure", "pasmesuree", "nonpesee", "sansdate",
    "nomedido", "nomedida", "sinmedir", "sinfecha",
})  # fmt: skip


def read(text: str) -> Reading:
    """Free text as typed, without outer blanks and signs that nobody sees.

    >>> read("  Marsh Road, by the gate ").value
    'Marsh Road, by the gate'
    >>> read("Marsh\\x07 Road")
    Reading(value='Marsh Road', change='signs that cannot be seen taken out', doubt='', candidates=())
    >>> read("Marsh Road_x000D_\\nby the gate").value
    'Marsh Road\\nby the gate'
    >>> read("n/a").value
    'n/a'
    """
    typed = text.strip()
    if typed.isascii() and typed.isprintable() and "_x00" not in typed:
        return Reading(typed)
    seen = _UNSEEN.sub("", _ESCAPED.sub("", typed.replace("\r\n", "\n")))
    value = unicodedata.normalize("NFC", seen).strip()
    return Reading(value, "" if value == typed else "signs that cannot be seen taken out")


def fold(text: str) -> str:
    """Lower case, plain letters, plain digits, one kind of dash.

    >>> fold("  3 Août 2026 – ３ ٣ ")
    '3 aout 2026 - 3 3'
    """
    if not text.isascii():
        text = plain_digits(text)
        text = text.translate(_DASHES)
        text = _UNSEEN.sub("", _without_accents(text).translate(_DASHES)).lower().translate(_WHOLE_LETTERS)
        # A capital in lower case may bring out an accent of its own.
        text = _without_accents(text)
    return text.lower().strip()


def plain_digits(text: str) -> str:
    """The text with the digits of every script written 0 to 9.

    >>> plain_digits("SM٠١٠١"), plain_digits("٥١٫٥")
    ('SM0101', '51.5')
    """
    return _DIGITS_OF_OTHER_SCRIPTS.sub(lambda sign: str(unicodedata.decimal(sign[0])), text).replace("٫", ".")


def _without_accents(text: str) -> str:
    plain = unicodedata.normalize("NFKD", text)
    if _SMALL_FIGURE.search(text):
        # A small figure set high is a mark at a note, and one half is not 1 and 2.
        plain = "".join(sign if _SMALL_FIGURE.match(sign) else unicodedata.normalize("NFKD", sign) for sign in text)
    return "".join(sign for sign in plain if not unicodedata.combining(sign))


def tidy(text: str) -> str:
    """A heading or word as it is compared: lower case, no accents, single blanks for all else.

    >>> tidy(" Date de  Lâcher (j/m/a) ")
    'date de lacher j m a'
    >>> tidy("♀"), tidy("Nº"), tidy("***")
    ('♀', 'no', '')
    """
    return _NOT_IN_A_WORD.sub(" ", fold(text)).strip()


def is_blank_word(text: str) -> bool:
    """The text is a word or sign for nothing, in English, French or Spanish.

    >>> [is_blank_word(text) for text in ("N/A", "?", " - ", "Inconnu", "desconocido", "not noted")]
    [True, True, True, True, True, True]
    >>> [is_blank_word(text) for text in ("", "0", "no", "F?", "#N/A")]
    [False, False, False, False, False]
    """
    if _ONLY_SIGNS.fullmatch(text):
        return bool(text.strip())
    # A word that a spreadsheet wrote into the cell, such as #N/A, is damage and not a word for nothing.
    return not text.lstrip().startswith("#") and tidy(text).replace(" ", "") in BLANK_WORDS


def looks_garbled(text: str) -> bool:
    """The text was once read with the wrong alphabet of signs.

    >>> [looks_garbled(text) for text in ("Qu\u00c3\u00a9bec", "Qu\ufffdbec", "Qu\u201abec", "Québec", "Île")]
    [True, True, True, False, False]
    """
    return not text.isascii() and bool(_DOUBLE_READ.search(text) or likely_readings(text))


def repaired(text: str) -> str:
    """The text as it stood before it was read with the wrong alphabet, or as typed if that cannot be told.

    >>> repaired("Qu\u00c3\u00a9bec"), repaired("Qu\u201abec"), repaired("Qu\ufffdbec"), repaired("Québec")
    ('Québec', 'Québec', 'Qu\ufffdbec', 'Québec')
    """
    return read_again(read_again(text))  # some files were read wrongly twice
