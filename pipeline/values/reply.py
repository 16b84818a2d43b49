"""A reply in words: which lines of a letter are its sender's own, and which answers stand on a line."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from pipeline.values.answer import Answer, begins_with_month, read
from pipeline.values.answer_sheet import ref_typed
from pipeline.values.answer_words import OTHER, PICKS, RIGHT, SUGGESTION, UNKNOWN, AnswerWords, begins, begun
from pipeline.values.ref import is_ref
from pipeline.values.text import fold, tidy

LONGEST_LINE = 1000  # characters
MOST_AT_ONCE = 50  # questions of "1-12 yes"
SHORTEST_REPLY = 5  # lines: a greeting, a word, a name

_MARK = r"[(\[]?(?:(?:question|pregunta|ref|q|nr)\b\.?\s*:?\s*|n(?:o\.|[°º]\.?|\.\s?[oº°]?)\s*|#\s*)?"
_NUMBER = r"[1-9]\d{0,2}(?![\d°%])"
_AFTER = r"(?:\s*(?:\)|[.:=\]–—-]+(?!\d)|,(?=\s+[^\s\d]))+\s*|\s+)(?=\S)"
_KEY = re.compile(rf"{_MARK}(?:(?P<number>{_NUMBER})|(?P<ref>[0-9A-Z]{{7}})(?!\w))(?P<after>{_AFTER})", re.IGNORECASE)
_GAP = re.compile(r"\s*[,;]\s*(?:(?:and|et|y|&)\s+)?|\s*\.?\s+(?:(?:and|et|y|&)\s+)?", re.IGNORECASE)
_BULLET = re.compile(r"(?:[-*•·]\s*)?")
_SEVERAL = re.compile(
    rf"(?P<numbers>{_NUMBER}(?:\s*(?:,|&|\band\b|\bet\b|\by\b)\s*{_NUMBER})+|"
    rf"{_NUMBER}\s*(?:-|–|\bto\b|\bà\b|\ba\b)\s*{_NUMBER})\s*[:.)=]?\s*(?P<rest>[^\W\d].*)",
    re.IGNORECASE,
)
_TELEPHONE = re.compile(r"\d{3}[\s.-]?\d{4}(?!\d)")
_TAG = re.compile(
    r"(?=[A-Z-]*\d[A-Z-]*\d)(?P<tag>[A-Z0-9-]{3,12})(?:\s*[:=]\s*|\s+[–-]?\s*)(?P<fate>\D+)", re.IGNORECASE
)

# Where the letter begins that is replied to, or the sender's signature: folded lines.
_QUOTES = re.compile(r"(?:on|le|el)\b.{3,400}\b(?:wrote|a ecrit|escribio) ?:")
_HEADER = re.compile(r"(?:from|de) ?: ?\S.*")
_NEXT_HEADER = re.compile(r"(?:sent|date|envoye|enviado|fecha)(?: el)? ?:.*")
_CUT = re.compile(
    r"-{2,} ?(?:original message|message d'origine|mensaje original|forwarded message|message transfere"
    r"|mensaje reenviado) ?-{2,}|_{10,}|--"
)
_OF_OUR_LETTER = frozenset({"heading_questions", "heading_how", "heading_more_must", "heading_more_check"})
_LONGEST_CLOSING = 60


class Item(NamedTuple):
    """One answer on a line: the question's number or Ref, or a tag, what was said, and the words as typed.

    `is_plain` if it is in words of ours, and not just any text behind a number.
    """

    said: Answer
    typed: str
    number: int = 0
    ref: str = ""
    tag: str = ""
    begins_line: bool = False
    is_plain: bool = True


def own_lines(text: str, words: AnswerWords) -> Iterator[tuple[int, str]]:
    """The sender's own lines with their numbers: nothing quoted, and nothing from a signature or our letter on.

    >>> list(own_lines("1 yes\\n> 1. Row 8\\n\\n2 no\\nOn 3 October, Maud wrote:\\n3 yes", AnswerWords()))
    [(1, '1 yes'), (4, '2 no')]
    """
    lines = re.split(r"\r\n|\r|\n", text)
    for at, line in enumerate(lines):
        if _is_the_end(lines[at : at + 3], words):
            return
        if line.strip() and not line.lstrip().startswith(">"):
            yield at + 1, line


def _is_the_end(lines: list[str], words: AnswerWords) -> bool:
    folded = [fold(line[:LONGEST_LINE]).replace("’", "'") for line in lines]
    if _CUT.fullmatch(folded[0]) or words.labels.get(tidy(lines[0][:LONGEST_LINE])) in _OF_OUR_LETTER:
        return True
    # Mail programs break this line where it is too long.
    if any(_QUOTES.fullmatch(" ".join(folded[: n + 1])) for n in range(len(folded))):
        return True
    if len(folded) > 1 and _HEADER.fullmatch(folded[0]) and _NEXT_HEADER.fullmatch(folded[1]):
        return True
    return len(lines[0]) <= _LONGEST_CLOSING and begins(lines[0], "end", words)


def items(line: str, words: AnswerWords) -> list[Item]:
    """The answers on one line.

    >>> words = AnswerWords({"yes": "suggestion", "no": "right"}, {"lost": "lost"}, {"it is": "it is", "no": "no"})
    >>> [(item.number, *item.said) for item in items("1 yes, 2 no, it is 14 Sept; 3: 51.5", words)]
    [(1, 'suggestion', ''), (2, 'other', '14 Sept'), (3, 'unread', '51.5')]
    >>> [item.number for item in items("1-3 yes", words)], [item.tag for item in items("SM0012 lost", words)]
    ([1, 2, 3], ['SM0012'])
    >>> items("2026 was a great year", words), items("14 Sept was sunny", words)
    ([], [])
    """
    line = unicodedata.normalize("NFC", line).strip()[:LONGEST_LINE]
    return _of_several(line, words) or _one_by_one(line, words) or _of_tags(line, words)


def only_answer(lines: Sequence[str], words: AnswerWords) -> str:
    """The one line of a short reply that is an answer in words of ours, without saying to which question; else blank.

    A bare "no" is none: it may be the suggestion that is wrong, or what was written.

    >>> words = AnswerWords({"yes": "suggestion", "ok": "suggestion", "no": "right"}, {}, {"no": "no"})
    >>> [only_answer(lines, words) for lines in (["Hello Maud,", "yes.", "Anna"], ["yes", "ok"], ["no"])]
    ['yes.', '', '']
    """
    if len(lines) > SHORTEST_REPLY:
        return ""
    said = [line for line in lines if not _KEY.match(line.strip()) and _is_pick(line, words)]
    return said[0] if len(said) == 1 else ""


def _is_pick(line: str, words: AnswerWords) -> bool:
    choice, rest = read(line, words)
    is_said = choice in (SUGGESTION, RIGHT, UNKNOWN) and not rest and len(tidy(line)) > 1
    return is_said and words.others.get(tidy(line)) != "no"


def _of_several(line: str, words: AnswerWords) -> list[Item]:
    several = _SEVERAL.fullmatch(line)
    if not several:
        return []
    numbers = [int(number) for number in re.findall(r"\d+", several["numbers"])]
    if len(numbers) == 2 and not re.search(r"[,&]|\b(?:and|et|y)\b", several["numbers"], re.IGNORECASE):
        numbers = list(range(numbers[0], numbers[1] + 1))[:MOST_AT_ONCE]
    last = _one_by_one(f"{numbers[-1]} {several['rest']}", words) if numbers else []
    # A value would be one question's; and then the numbers may belong to it.
    if not last or last[0].said.choice not in PICKS or last[0].said.choice == OTHER:
        return []
    return [last[0]._replace(number=number) for number in numbers[:-1]] + last


def _one_by_one(line: str, words: AnswerWords) -> list[Item]:
    found: list[tuple[int, re.Match[str]]] = []
    bullet = _BULLET.match(line)
    first = _KEY.match(line, bullet.end() if bullet else 0)
    if first and _is_key(first, words):
        found.append((first.start(), first))
    for gap in _GAP.finditer(line):
        key = _KEY.match(line, gap.end())
        if not key or (found and gap.start() < found[-1][1].end()) or not _is_key(key, words):
            continue
        is_parted = any(sign in gap[0] for sign in ",;")
        before = read(line[found[-1][1].end() : gap.start()], words) if found else None
        # "1 yes 2 no": where no comma parts them, the first must be said in full.
        is_next = is_parted or (before is not None and before.choice in PICKS and not before.rest)
        if is_next and (found or read(line[key.end() :], words).choice in PICKS):
            found.append((gap.start(), key))
    ends = [*(start for start, _ in found[1:]), len(line)]
    return [_item(key, line[:end], words) for (_, key), end in zip(found, ends, strict=False)]


def _is_key(key: re.Match[str], words: AnswerWords) -> bool:
    """Whether a number or Ref is one of ours, by the words behind it."""
    rest = key.string[key.end() :]
    if key["ref"]:
        has_figure = any(sign.isdigit() for sign in key["ref"])
        return is_ref(ref_typed(key["ref"])) and (has_figure or key["ref"].isupper())
    if key["after"].isspace() and (begins_with_month(rest) or _TELEPHONE.match(rest)):
        return False
    return not begins(rest, "thing counted", words) or bool(begun(rest, words.picks)[0])


def _item(key: re.Match[str], line: str, words: AnswerWords) -> Item:
    typed, behind = (line[at:].strip(" 	,;") for at in (key.start(), key.end()))
    said = read(behind, words)
    is_first = not line[: key.start()].strip(" 	-*•·")
    is_plain = said.choice in PICKS or said.rest != behind
    return Item(said, typed, int(key["number"] or 0), ref_typed(key["ref"] or ""), "", is_first, is_plain)


def _of_tags(line: str, words: AnswerWords) -> list[Item]:
    """What became of tags that are named by their codes, if the line says nothing else."""
    parts = [part.strip() for part in re.split(r"[,;]", line.rstrip(" .,;"))]
    tags = [_TAG.fullmatch(part) for part in parts]
    fates = [words.fates.get(tidy(tag["fate"]), "") if tag else "" for tag in tags]
    if not all(fates):
        return []
    pairs = [(tag, Answer(OTHER, fate)) for tag, fate in zip(tags, fates, strict=True) if tag]
    return [Item(said, tag[0], tag=tag["tag"], begins_line=tag is tags[0]) for tag, said in pairs]
