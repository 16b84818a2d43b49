"""What in a finished file tells of a person: names, addresses, exact points, records of children."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

NAME, ADDRESS, POINT, CHILD = "name", "address", "exact point", "child's record"
KINDS = (NAME, ADDRESS, POINT, CHILD)
EXACT_DECIMALS = 3  # about 100 m: what is written finer says where somebody stood
NOBODYS = ".invalid"  # by RFC 2606 the address of nobody, as in the id of a mail
ACCENT, WORD, PARAGRAPH = re.compile("[\u0300-\u036f]+"), re.compile(r"[^\W_]+"), re.compile(r"\n\s*\n")
LOOKED_MOST = 200_000  # texts kept in mind, for letters say much the same to everybody
MAIL = re.compile(r"[\w.+-]+@[\w-]+(?:\.[\w-]+)+")
TELEPHONE = re.compile(r"(?<![\w.:/-])(?!\d{4}-\d\d-\d\d)\+?\(?\d{2,4}\)?(?:[ .-]\(?\d{2,4}\)?){2,5}(?![\w-])")
POSTCODE = re.compile(r"\b[A-Z]\d[A-Z][ -]?\d[A-Z]\d\b|\b\d{5}-\d{4}\b|\b(?:CP|C\.P\.|ZIP) ?\d{5}\b")
STREET = re.compile(
    r"\b\d{1,5}[a-z]?,? (?:[\w'’.-]+ ){1,3}(?:street|st|road|rd|lane|ln|avenue|ave|drive|dr|court|crescent|boulevard)\b"
    r"|\b\d{1,5}[a-z]?,? (?:rue|chemin|avenue|impasse|boulevard|allée|route) [\w'’.-]+(?: [\w'’.-]+){0,3}"
    r"|\b(?:calle|avenida|camino|privada|calzada) (?:[\w'’.-]+ ){1,4}(?:no\.? ?|# ?)?\d{1,5}\b",
    re.IGNORECASE,
)
ROAD = re.compile(  # one cheap look for the words of STREET
    r"\b(?:street|st|road|rd|lane|ln|ave|avenue|drive|dr|court|crescent|boulevard|rue|chemin|impasse|allée|route|calle|"
    r"avenida|camino|privada|calzada)\b", re.IGNORECASE,
)  # fmt: skip
DIGIT, EXACT = re.compile(r"\d"), re.compile(r"\d[.,]\d{3}|\d ?°")  # one cheap look before the close ones
FIGURES = 10  # of a telephone
# A cell that tells nothing but a number, a day, a time, a code or a Ref is the most common of all.
HARMLESS = re.compile(r"\s*(?:\D*|-?\d{1,4}(?:[.,]\d{1,2})?|\d{4}-\d\d(?:-\d\d)?|\d\d:\d\d|[A-Z]{1,3}\d{1,5})\s*")
DEGREES = re.compile(
    rf"(?<![\w.,/-])-?\d{{1,3}}[.,]\d{{{EXACT_DECIMALS},8}}(?![\w./])|\d{{1,3}} ?° ?\d{{1,2}} ?['′]\s?(?:\d[\d.]*)?"
)
Found = Counter[tuple[str, str]]  # (kind, as its reader sees it): how often


class Known(NamedTuple):
    """Whom we know: people by the words of their names, records of children by id, homes in degrees."""

    names: dict[str, list[str]]  # the words of a name with blanks between: the name as it is written
    children: frozenset[str]
    homes: tuple[tuple[float, float], ...]
    looked: dict[str, Found]  # what was found in a text that was looked through before
    begins: frozenset[str]  # the first words of names
    sizes: tuple[int, ...]  # how many words names have


def words_of(text: str) -> list[str]:
    """The words of a text in small letters without accents.

    >>> words_of("Rémi DOUCET's")
    ['remi', 'doucet', 's']
    """
    plain = text if text.isascii() else ACCENT.sub("", unicodedata.normalize("NFKD", text))
    return WORD.findall(plain.casefold())


def known_of(names: Iterable[str], children: Iterable[str], homes: Iterable[tuple[float, float]]) -> Known:
    """The names by their words, the ids of children's records, homes by latitude and longitude."""
    by_words: dict[str, list[str]] = {}
    for name in dict.fromkeys(names):
        if words := words_of(name):
            by_words.setdefault(" ".join(words), []).append(name)
    begins = frozenset(words.partition(" ")[0] for words in by_words)
    sizes = tuple(sorted({words.count(" ") + 1 for words in by_words}))
    return Known(by_words, frozenset(children), tuple(homes), {}, begins, sizes)


def found_in_text(text: str, known: Known) -> Found:
    """The names, addresses and exact degrees of a text: names in the whole of it, the rest paragraph by paragraph."""
    found = _names_in(words_of(text), known)
    if len(known.looked) > LOOKED_MOST:
        known.looked.clear()
    for paragraph, times in Counter(PARAGRAPH.split(text)).items():
        if "@" not in paragraph and HARMLESS.fullmatch(paragraph):
            continue
        if paragraph not in known.looked:
            known.looked[paragraph] = _found_in(" ".join(paragraph.split()))
        if known.looked[paragraph]:
            add(found, known.looked[paragraph], times)
    return found


def _names_in(words: list[str], known: Known) -> Found:
    found: Found = Counter()
    for at, word in enumerate(words):
        if word in known.begins:
            for size in known.sizes:
                name = " ".join(words[at : at + size]) if at + size <= len(words) else ""
                found.update((NAME, written) for written in known.names.get(name, ()))
    return found


def _found_in(text: str) -> Found:
    found: Found = Counter((ADDRESS, " ".join(told.split())) for told in _addresses(text))
    if EXACT.search(text):
        found.update((POINT, point) for point in DEGREES.findall(text) if abs(_number(point)) <= 180)
    return found


def _number(text: str) -> float:
    digits = re.match(r"-?\d+(?:[.,]\d+)?", text)
    return float(digits[0].replace(",", ".")) if digits else 0.0


def _addresses(text: str) -> Iterator[str]:
    if "@" in text:
        yield from (told[0] for told in MAIL.finditer(text) if not told[0].endswith(NOBODYS))
    if not DIGIT.search(text):
        return
    for pattern in (POSTCODE, *([STREET] if ROAD.search(text) else [])):
        yield from (told[0] for told in pattern.finditer(text))
    if sum(map(text.count, "0123456789")) >= FIGURES:
        yield from (told[0] for told in TELEPHONE.finditer(text) if sum(map(str.isdigit, told[0])) >= FIGURES)


def add(found: Found, more: Found, times: int) -> None:
    """Counts what was found so many times more."""
    for told, count in more.items():
        found[told] += count * times
