"""What a mail says and carries, whatever program wrote it; and that no damaged mail brings us down."""

from __future__ import annotations

from datetime import date
from email.message import EmailMessage
from email.policy import SMTP

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented_people import asked

from pipeline.files import mail
from pipeline.files.letters import letter
from pipeline.files.mail import Mail, is_mail, read_mail
from pipeline.files.mail_page import text_of_page
from pipeline.files.schemas import answer_words
from pipeline.stages.replies import reply_lines

HEAD = b"From: Anna <Anna@Example.org>\nDate: Mon, 5 Oct 2026 23:30:00 -0300\nSubject: Re: questions\n"


def message(text: str = "1 yes\n2 café\n", **headers: str) -> EmailMessage:
    plain = {"From": "Anna Thériault <Anna@Example.org>", "To": "maud@example.org", "Subject": "Été, ½ réponse",
             "Date": "Mon, 5 Oct 2026 23:30:00 -0300"}  # fmt: skip
    made = EmailMessage()
    for name, value in {**plain, **headers}.items():
        made[name] = value
    made.set_content(text)
    return made


def test_a_mail_is_read_with_its_attachments() -> None:
    made = message()
    made.add_attachment(b"PK\x03\x04", "application", "vnd.ms-excel", filename="réponses.xlsx")
    made.add_attachment("a,b\n", filename="mine.csv")
    for content in (made.as_bytes(), made.as_bytes(policy=SMTP)):
        read = read_mail(content)
        assert (read.sender, read.day) == ("anna@example.org", date(2026, 10, 5))
        assert (read.subject, read.text.strip()) == ("Été, ½ réponse", "1 yes\n2 café")
        assert read.attachments[0] == ("réponses.xlsx", b"PK\x03\x04")
        assert (read.attachments[1][0], read.attachments[1][1].strip()) == ("mine.csv", b"a,b")
        assert is_mail(content)


def test_the_plain_text_goes_before_the_page() -> None:
    made = message()
    made.add_alternative("<p>3 no</p>", "html")
    assert read_mail(made.as_bytes()).text.strip() == "1 yes\n2 café"


def test_a_mail_that_is_only_a_page_is_read_from_it() -> None:
    made = message()
    made.set_content("<p>1 yes<br>2&nbsp;no</p><blockquote>3 F</blockquote>", "html")
    text = read_mail(made.as_bytes()).text
    assert text == "1 yes\n2 no\n> 3 F"
    assert [line.number for line in reply_lines(text, "", "", answer_words())] == [1, 2]


@pytest.mark.parametrize(
    ("charset", "body"),
    [
        pytest.param("utf-8", "2 café".encode(), id="as declared"),
        pytest.param("iso-8859-1", "2 café".encode("latin-1"), id="another alphabet"),
        pytest.param("us-ascii", "2 café".encode(), id="more letters than declared"),
        pytest.param("us-ascii", "2 café".encode("cp1252"), id="more letters than declared, windows"),
        pytest.param("no-such-set", "2 café".encode(), id="an alphabet that nobody knows"),
        pytest.param("base64", "2 café".encode(), id="no alphabet at all"),
    ],
)
def test_the_letters_of_a_mail_survive(charset: str, body: bytes) -> None:
    content = HEAD + f'Content-Type: text/plain; charset="{charset}"\n\n'.encode() + body
    assert read_mail(content).text == "2 café"


def test_a_wrong_alphabet_costs_a_letter_and_no_more() -> None:
    content = HEAD + b"Content-Type: text/plain; charset=utf-8\n\n1 yes\n2 caf\xe9\n"
    assert read_mail(content).text == "1 yes\n2 caf\ufffd\n"


def test_lines_that_the_mail_program_broke_are_put_together() -> None:
    flowed = (
        HEAD + b"Content-Type: text/plain; format=flowed\n\n1 no, it is behind \nthe old mill\n2 yes\n> quoted \n3 no\n"
    )
    assert read_mail(flowed).text == "1 no, it is behind the old mill\n2 yes\n> quoted \n3 no\n"


def test_a_mail_within_a_mail_is_an_attachment() -> None:
    outer = message("See below.\n")
    outer.add_attachment(message("1 yes\n"))
    (name, inner), read = read_mail(outer.as_bytes()).attachments[0], read_mail(outer.as_bytes())
    assert name == "part-1" and read.text.strip() == "See below."
    assert is_mail(inner) and read_mail(inner).text.strip() == "1 yes"


@pytest.mark.parametrize(
    ("written", "name"),
    [
        pytest.param('"../../etc/mine.xlsx"', "mine.xlsx", id="folders"),
        pytest.param('"C:\\\\mine.xlsx"', "mine.xlsx", id="a drive"),
        pytest.param('".."', "part-1", id="no name"),
        pytest.param('"=?utf-8?q?=C3=A9t=C3=A9=2Exlsx?="', "été.xlsx", id="encoded words"),
        pytest.param('"=?utf-8?q?a=E2=80=AExslx.exe?="', "axslx.exe", id="signs that turn the order of reading"),
        pytest.param('"' + "x" * 200 + '.csv"', "x" * 116 + ".csv", id="a very long name"),
    ],
)
def test_the_name_of_an_attachment_is_a_name_only(written: str, name: str) -> None:
    content = HEAD + f"Content-Disposition: attachment; filename={written}\n\nx".encode()
    assert read_mail(content).attachments == ((name, b"x"),)


@pytest.mark.parametrize(
    ("header", "day"),
    [
        pytest.param("Mon, 5 Oct 2026 23:30:00 -0300", date(2026, 10, 5), id="by the sender's clock"),
        pytest.param("5 Oct 26 08:00 GMT", date(2026, 10, 5), id="an old form"),
        pytest.param("yesterday", None, id="no date"),
        pytest.param("Mon, 99 Oct 2026 23:30:00", None, id="a date that does not exist"),
        pytest.param("", None, id="blank"),
    ],
)
def test_the_day_of_a_mail_is_that_of_its_date(header: str, day: date | None) -> None:
    assert read_mail(b"From: a@b.org\nDate: " + header.encode() + b"\n\nx").day == day


@pytest.mark.parametrize(
    ("header", "sender"),
    [
        pytest.param(b"ANNA@EXAMPLE.ORG", "anna@example.org", id="bare"),
        pytest.param(b'"Anna, of the marsh" <anna@example.org>', "anna@example.org", id="a comma in the name"),
        pytest.param(b"=?utf-8?q?Anna=2C_R=C3=A9mi?= <anna@example.org>", "anna@example.org", id="an encoded comma"),
        pytest.param(b"Ren\xe9 <anna@example.org>", "anna@example.org", id="a letter that is not encoded"),
        pytest.param(b"=?utf-8?q?Anna?=\n <anna@example.org>", "anna@example.org", id="on two lines"),
        pytest.param(b"", "", id="nobody"),
    ],
)
def test_the_sender_of_a_mail_is_an_address(header: bytes, sender: str) -> None:
    assert read_mail(b"From: " + header + b"\nSubject: x\n\nx").sender == sender


@pytest.mark.parametrize(
    ("content", "is_one"),
    [
        pytest.param(HEAD + b"\n1 yes", True, id="headers and words"),
        pytest.param(HEAD.replace(b"\n", b"\r\n") + b"\r\n1 yes", True, id="line ends of the standard"),
        pytest.param(b"\xef\xbb\xbf" + HEAD, True, id="a mark of its alphabet in front"),
        pytest.param(b"From anna Mon Oct 5\n" + HEAD, True, id="out of a mailbox file"),
        pytest.param(b"Received: from x\n\tby y\nMIME-Version: 1.0\n\n", True, id="headers of the way it took"),
        pytest.param(b"From: a@b.org\n\n1 yes", False, id="who it is from alone"),
        pytest.param(b"Subject: x\nDate: y\n\n", False, id="from nobody"),
        pytest.param(b"From: Anna\nDate: 3 Sept\nTo: Maud\n\nTag,Date", False, id="a note with such words"),
        pytest.param(b"Tag,Date,Sex\nSM0012,3/9/26,M", False, id="a table"),
        pytest.param(b"From: <Saved>\nSubject: x\nMIME-Version: 1.0\n\n", False, id="a page that was saved"),
        pytest.param(b"1 yes\n" + HEAD, False, id="headers below words"),
        pytest.param(b"PK\x03\x04", False, id="a workbook"),
        pytest.param(b"", False, id="nothing"),
    ],
)
def test_a_mail_is_known_by_its_bytes(content: bytes, is_one: bool) -> None:
    assert is_mail(content) is is_one


def test_our_own_letter_is_a_mail_with_the_question_sheet() -> None:
    read = read_mail(letter(asked(), b"PK\x03\x04 and more").eml_bytes)
    assert is_mail(letter(asked(), b"").eml_bytes)
    assert read.attachments == (("questions.xlsx", b"PK\x03\x04 and more"),)
    assert read.text == letter(asked(), b"").text and read.day is None


def test_no_more_than_fifty_attachments_are_listed() -> None:
    made = message()
    for number in range(60):
        made.add_attachment(b"x", "application", "octet-stream", filename=f"{number}.xlsx")
    assert [name for name, _ in read_mail(made.as_bytes()).attachments] == [f"{number}.xlsx" for number in range(50)]


def test_of_a_mail_that_is_too_large_only_the_head_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    content = HEAD + b"\n" + b"1 yes\n" * 100
    monkeypatch.setattr(mail, "LARGEST_MAIL", len(content) - 1)
    assert read_mail(content) == Mail("anna@example.org", date(2026, 10, 5), "Re: questions")


@pytest.mark.parametrize(
    "body",
    [
        pytest.param(b"Content-Type: multipart/mixed\n\n1 yes", id="parts without a boundary"),
        pytest.param(b"Content-Type: multipart/mixed; boundary=b\n\n1 yes", id="parts that never begin"),
        pytest.param(b"Content-Type: text/plain; charset=\n\n1 yes", id="a charset without a name"),
        pytest.param(b"Content-Type: nonsense\n\n1 yes", id="a type that is none"),
        pytest.param(b"Content-Transfer-Encoding: base64\n\nMSB5ZXM", id="base64 without its end"),
        pytest.param(b"Content-Transfer-Encoding: quoted-printable\n\n1 yes=", id="quoting broken off"),
        pytest.param(b"Content-Type: text/plain; charset=idna\n\n1 yes", id="an alphabet of another kind"),
    ],
)
def test_the_words_of_a_damaged_mail_are_still_read(body: bytes) -> None:
    assert read_mail(HEAD + body).text.strip() == "1 yes"


def test_parts_within_parts_without_end_leave_the_head() -> None:
    nested = b"".join(b"Content-Type: multipart/mixed; boundary=b%d\n\n--b%d\n" % (n, n) for n in range(3000))
    assert read_mail(HEAD + nested).sender == "anna@example.org"


@pytest.mark.parametrize(
    ("page", "text"),
    [
        pytest.param("<html><head><style>p{}</style></head><body>1 yes</body>", "1 yes", id="styles"),
        pytest.param("<script>1 no</script>1 yes", "1 yes", id="scripts"),
        pytest.param("<!-- 1 no --><!--[if x]>2 no<![endif]-->1 yes", "1 yes", id="comments"),
        pytest.param("<div>1 yes</div><div>2 no</div>", "1 yes\n2 no", id="blocks"),
        pytest.param("<table><tr><td>1</td> <td>yes</td></tr></table>", "1 yes", id="a table"),
        pytest.param("1 &lt; 2 &eacute; &#8217; <b>yes</b>", "1 < 2 é ’ yes", id="signs spelled out"),
        pytest.param("1\n  yes", "1 yes", id="line ends that are none"),
        pytest.param("<blockquote>a<blockquote>b</blockquote></blockquote>c", "> a\n> b\nc", id="quoted twice"),
        pytest.param("</blockquote>1 yes", "1 yes", id="a quotation that never began"),
        pytest.param("1 yes <!-- no end", "1 yes", id="a comment without end"),
        pytest.param('<a href="http://example.org/x">yes</a><img src="x">', "yes", id="links and pictures"),
    ],
)
def test_the_words_of_a_page(page: str, text: str) -> None:
    assert text_of_page(page) == text


PIECES = st.sampled_from(
    [
        b"From: a@b.org\n",
        b"From: =?utf-8?b?!!?= <\n",
        b"Date: Mon, 5 Oct\n",
        b"Subject: =?x?q?=ff?=\n",
        b"\n",
        b"\r\n",
        b"Content-Type: multipart/mixed; boundary=b\n",
        b"--b\n",
        b"--b--\n",
        b"Content-Type: text/html\n",
        b"Content-Type: message/rfc822\n",
        b"Content-Type: text/plain; charset*=x''%ff\n",
        b"\xff\xfe\x00",
        b"<!--<",
        b"Content-Transfer-Encoding: x-uuencode\n",
        b"Content-Transfer-Encoding: base64\n",
        b"begin 644 x\n",
        b"=?",
        b"Content-Disposition: attachment; filename*0*=utf-8''%e; filename*1=\"\n",
        b"Content-Type: ;;=\n",
        b"1 yes\n",
    ]
)


@given(st.binary(max_size=400) | st.lists(PIECES, max_size=25).map(b"".join))
def test_any_bytes_are_read_without_a_fault(content: bytes) -> None:
    read = read_mail(content)
    assert isinstance(is_mail(content), bool)
    assert (read.sender + read.subject + read.text).encode() is not None
    assert all(name and isinstance(inside, bytes) for name, inside in read.attachments)


@given(st.text(max_size=300) | st.text("<>!-/ blockquote&;1\n", max_size=300))
def test_any_page_is_read_without_a_fault(page: str) -> None:
    assert isinstance(text_of_page(page), str)
