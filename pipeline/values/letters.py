"""Letters beyond the plain ones: where English, French and Spanish have them, and what was meant where they do not."""

from __future__ import annotations

import re

_SMALL, _CAPITAL = "àâäáçéèêëîïíñôöóœùûüú", "ÀÂÄÁÇÉÈÊËÎÏÍÑÔÖÓŒÙÛÜÚ"
# Elsewhere a sign points to a wrong alphabet: "cafŽ" or "45¡30" are Mac Roman taken for Windows-1252.
IN_PLACE = re.compile(
    rf"(?<=[a-z{_SMALL}])[{_SMALL}]|[{_SMALL}](?=[a-z])|(?<!\w)[àÀ](?!\w)"
    rf"|(?<=[A-Z])[{_CAPITAL}](?![a-z])|(?<![A-Za-z])[{_CAPITAL}](?=[A-Za-z])"
    r"|(?<=\d)[°º]|(?<=\w)’(?=\w)|(?<!\w)[“«‘¿¡](?=[\w\s])|[”»’](?!\w)"
    r"|(?<=[a-z\s])…(?!\w)|(?<=\s)[–—](?=\s)|(?<=\d)–(?=\d)"
)
BEYOND = re.compile("[^\x00-\x7f\xa0]")
# A capital behind a small letter, or a sign that is no letter beside one: in no name of any language.
_ODD = re.compile(
    r"(?<=[a-zà-ÿ])[À-ÖØ-ÞŒŠŽŸ]|[‚ƒ„†‡ˆ‰‹›™•˜¨´¸¯¬¦¥£¢¤©®§¶±¾·](?=[a-z])|(?<=[a-z])[‚ƒ„†‡ˆ‰‹˜¨¸¯¬¦¤](?!\w)"
)
_COMMON = "àâáçèêîïíñôóùûú"
_NOT_WRITTEN = re.compile("[^\xa0-\xffŒœŸ‐-›€♀♂]")
_RUN = re.compile("[\x80-\U0010ffff]+")
_READ_AS = ("cp1252", "latin-1", "mac_roman", "cp850", "cp437")  # by programs that did not know UTF-8
_SAVED_AND_READ = (("mac_roman", "cp1252"), ("cp1252", "mac_roman"), ("cp850", "cp1252"), ("cp1252", "cp850"))


def are_in_place(text: str) -> bool:
    """Every sign beyond the plain letters stands where one of the three languages has it.

    >>> are_in_place("Québec"), are_in_place("L’Anse à Noël"), are_in_place("QuŽbec")
    (True, True, False)
    """
    return len(IN_PLACE.findall(text)) == len(BEYOND.findall(text))


def read_again(text: str) -> str:
    """The text in the alphabet in which it was saved, or as it is where that cannot be told for sure.

    >>> [read_again(text) for text in ("QuÃ©bec, Montréal", "Qu√©bec", "Qu├®bec")]  # UTF-8 read as another
    ['Québec, Montréal', 'Québec', 'Québec']
    >>> [read_again(text) for text in ("QuŽbec", "QuÈbec", "Qu‚bec", "QuÚbec")]  # old Mac, Windows, DOS
    ['Québec', 'Québec', 'Québec', 'Québec']
    >>> [read_again(text) for text in ("Québec", "Weiß", "Miloš", "São João", "Bjørn", "Smith—Jones")]
    ['Québec', 'Weiß', 'Miloš', 'São João', 'Bjørn', 'Smith—Jones']
    """
    meant = likely_readings(text)
    return meant[0] if len(meant) == 1 else text


def likely_readings(text: str) -> list[str]:
    """What a text that was read with the wrong alphabet may have been, the likeliest only; [] if it looks sound."""
    if text.isascii():
        return []
    whole = _RUN.sub(_as_utf_8, text)
    if whole != text:
        return [whole]
    if not _ODD.search(text):
        return []
    meant = {_converted(text, read, saved) for saved, read in _SAVED_AND_READ}
    likely = {better: _likelihood(better) for better in meant if better and better != text and are_in_place(better)}
    return sorted(better for better, much in likely.items() if much == max(likely.values()))


def _likelihood(text: str) -> int:
    return sum(2 if letter == "é" else letter in _COMMON for letter in text)


def _as_utf_8(run: re.Match[str]) -> str:
    # What stands for one letter took two signs at least, so that a strict decoding is no chance.
    converted = (_converted(run[0], read, "utf-8") for read in _READ_AS)
    return next((text for text in converted if text and not _NOT_WRITTEN.search(text)), run[0])


def _converted(text: str, read: str, saved: str) -> str:
    """The text as its bytes were meant, "" where they cannot have been."""
    try:
        return text.encode(read).decode(saved)
    except UnicodeError:
        return ""
