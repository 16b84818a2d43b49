"""The replies that a letter holds ready: links that open a mail in which the answer is already written."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple
from urllib.parse import quote

from pipeline.files.asked import Asked, Found, Question
from pipeline.files.letter_parts import OnScreen, Part, Replies, Reply, Words
from pipeline.files.question_words import OTHER_VALUE, picks, shown

SUBJECT_CHARACTERS_MOST = 150  # a link much longer than a line is not opened everywhere

_ATOM = r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+"
_ADDRESS = re.compile(rf"{_ATOM}(?:\.{_ATOM})*@[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)*")


class ReplyMail(NamedTuple):
    """The mail that answers a letter: whom it goes to, `""` where no address is known, and its subject."""

    to: str
    subject: str


def is_address(text: str) -> bool:
    """Whether the text is one plain address and nothing else.

    >>> is_address("anna@example.org"), is_address("Anna <anna@example.org>"), is_address("a@x.org?bcc=b@x.org")
    (True, False, False)
    """
    return bool(_ADDRESS.fullmatch(text))


def reply_mail(letter: Asked | Found, subject: str) -> ReplyMail:
    """The mail that answers a letter; it goes where a mail program's own reply would go."""
    to = next(filter(is_address, (letter.reply_to, letter.contact)), "")
    return ReplyMail(to, f"Re: {' '.join(shown(subject).split())[:SUBJECT_CHARACTERS_MOST]}")


def mail_link(mail: ReplyMail, body: str) -> str:
    """The link to a mail with its subject and body (RFC 6068): every sign that could end one of them is encoded.

    >>> mail_link(ReplyMail("a+b@example.org", "Re: 2 & 3?"), "K3H8M2Q sí")
    'mailto:a%2Bb@example.org?subject=Re%3A%202%20%26%203%3F&body=K3H8M2Q%20s%C3%AD'
    >>> mail_link(ReplyMail("a@example.org", ""), "1\\n2")
    'mailto:a@example.org?subject=&body=1%0D%0A2'
    """
    written = body.replace("\r\n", "\n").replace("\n", "\r\n")
    return f"mailto:{quote(mail.to, safe='@')}?subject={quote(mail.subject, safe='')}&body={quote(written, safe='')}"


def replies_to(question: Question, mail: ReplyMail, words: Words) -> tuple[Reply, ...]:
    """The answers to one question: our suggestion if there is one, right as it is if it may be, I do not know."""
    if not mail.to:
        return ()
    ready = [pick for pick in picks(question) if pick != OTHER_VALUE]
    return tuple(Reply(words[pick], mail_link(mail, f"{question.ref} {words[f'reply_{pick}']}")) for pick in ready)


def replies_above(questions: Sequence[Question], mail: ReplyMail, words: Words) -> list[Part]:
    """How the links are used and, where there are several suggestions, one link for all of them."""
    n, every = sum(bool(question.suggestion) for question in questions), len(questions)
    if not mail.to or n < 2:
        return how_to_send(questions, mail, words)
    said = words["reply_to_all" if n == every else "reply_to_some"].format(n=n, all=every)
    for_all = Reply(said, mail_link(mail, words["reply_all_right"]))
    return [*how_to_send(questions, mail, words), Replies((for_all,))]


def how_to_send(questions: Sequence[Question], mail: ReplyMail, words: Words) -> list[Part]:
    """What the links do, and how to give an answer that none of them holds."""
    if not mail.to or not questions:
        return []
    return [OnScreen(words["replies_how"].format(number=questions[0].number))]
