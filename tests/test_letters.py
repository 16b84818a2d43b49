"""Letters, read back with the email and html libraries of Python."""

import email
import email.policy
import io
import re
import subprocess
import sys
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from urllib.parse import parse_qsl, unquote, urlsplit

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invented_people import asked, contrast, found, question

from pipeline.files.labels import LANGUAGES, labels
from pipeline.files.letter_pages import STYLE
from pipeline.files.letter_replies import is_address
from pipeline.files.letters import finder_letter, letter
from pipeline.files.outbox_people import write_finder, write_people, write_person
from pipeline.files.question_workbook import write_question_workbook
from pipeline.files.schemas import answer_words
from pipeline.stages.replies import holds_reply, reply_lines
from pipeline.values.ref import ref_of


def written(person):
    return letter(person, write_question_workbook(person) if person.questions else b"")


def mail_of(one):
    return email.message_from_bytes(one.eml_bytes, policy=email.policy.default)


class Page(HTMLParser):
    def __init__(self, html):
        super().__init__()
        self.tags, self.attributes, self.links = [], [], []
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes.append((tag, dict(attrs)))
        if tag == "a":
            self.links.append(["", dict(attrs)["href"]])

    def handle_data(self, data):
        if self.tags and self.tags[-1] == "a" and self.links[-1][0] == "":
            self.links[-1][0] = data


def mail_opened(link):
    """Address, subject and body of the mail that a link opens (RFC 6068)."""
    parts = urlsplit(link)
    assert (parts.scheme, parts.netloc, parts.fragment) == ("mailto", "", "")
    # "+" is a plus there and no blank, as it is in forms.
    fields = parse_qsl(parts.query.replace("+", "%2B"), keep_blank_values=True, strict_parsing=True)
    assert [name for name, _ in fields] == ["subject", "body"]
    return unquote(parts.path), fields[0][1], fields[1][1]


def replies_in(letter):
    """What each link of a letter says, and the body of the mail that it opens."""
    return [(words, mail_opened(link)[2]) for words, link in Page(letter.html).links]


@pytest.mark.parametrize(
    ("clear", "held", "language", "sentence"),
    [
        (42, 3, "en", "Thank you - 42 of your 45 rows are ready."),
        (1, 3, "en", "Thank you - 1 of your 4 rows is ready."),
        (0, 3, "en", "Thank you for your 3 rows. They are safe with us"),
        (0, 1, "en", "Thank you for your row. It is safe with us"),
        (7, 0, "en", "Thank you! All your 7 rows are ready."),
        (0, 0, "en", "Thank you for writing to us."),
        (42, 3, "fr", "Merci\u00a0! 42 de vos 45 lignes sont prêtes."),
        (42, 3, "es", "Gracias: 42 de sus 45 filas ya están listas."),
    ],
)
def test_a_letter_says_first_how_many_rows_are_ready(clear, held, language, sentence):
    text = written(asked(rows_clear=clear, rows_held=held, language=language)).text
    assert text.split("\n\n")[1].replace("\n", " ").startswith(sentence)


def test_a_letter_says_what_is_asked_by_when_and_what_happens_otherwise():
    text = written(asked()).text.replace("\n", " ")
    order = [
        "We need your answer to the first 2; the last", "by 28 September 2026", "3 rows stay safely with us",
        "1. Row 11, column B, tag SM0001", "How to answer", "Thank you for your care", "Maud Arsenault",
    ]  # fmt: skip
    places = [text.find(words) for words in order]
    assert places == sorted(places) and places[0] > 0


@pytest.mark.parametrize(
    ("n", "subject"),
    [
        (0, "Thank you for your butterfly sheet"),
        (1, "One short question about your butterfly sheet (about 1 minute)"),
        (2, "2 short questions about your butterfly sheet (about 2 minutes)"),
        (9, "9 short questions about your butterfly sheet (about 5 minutes)"),
    ],
)
def test_the_subject_says_how_many_questions_and_minutes(n, subject):
    one = written(asked(n))
    assert one.subject == subject == mail_of(one)["Subject"]


@pytest.mark.parametrize(("n", "heading"), [(13, "When you have time"), (15, "More questions")])
def test_at_most_twelve_questions_stand_on_the_first_page_and_none_is_lost(n, heading):
    first, later = written(asked(n)).text.split(f"\n{heading}\n")  # the last question is please-check
    assert [len(re.findall(r"^\d+\. Row", page, re.MULTILINE)) for page in (first, later)] == [12, n - 12]
    assert "With kind regards," in first


def test_what_is_left_for_the_second_page_has_a_page_break_before_it():
    html = written(asked(13)).html
    first, second = html.split('<h2 class="new-page">')
    assert (first.count("<article"), second.count("<article")) == (12, 1)
    assert ".new-page { break-before: page; }" in html
    assert "One more question follows" in first


def test_the_page_needs_nothing_from_elsewhere_and_runs_nothing():
    page = Page(written(asked(language="fr")).html)
    assert page.tags.count("h1") == 1 and not {"script", "img", "link", "iframe", "form"} & set(page.tags)
    attributes = dict(page.attributes)
    assert attributes["html"]["lang"] == "fr"
    (policy,) = (a["content"] for _, a in page.attributes if a.get("http-equiv") == "Content-Security-Policy")
    assert policy.startswith("default-src 'none'; style-src 'sha256-") and "unsafe" not in policy
    assert "http" not in written(asked()).html.replace("http-equiv", "")


@pytest.mark.parametrize("typed", ["<script>alert(1)</script>", '"><img src=x onerror=y>', "A & B < C"])
def test_whatever_a_person_typed_is_escaped(typed):
    texts = dict.fromkeys(("seen", "wonder", "suggestion", "why", "tag", "file", "sheet"), typed)
    two = (question(1, **texts), question(2, **texts | {"file": "b"}))
    person = asked(name=typed, questions=two, told=(typed,), signed_by=typed)
    page = Page(written(person).html)
    assert not {"script", "img"} & set(page.tags)
    assert not any(name.startswith("on") for _, attributes in page.attributes for name in attributes)


def test_the_mail_carries_text_page_and_question_sheet_with_their_accents():
    person = asked(language="fr", tags=())
    mail = mail_of(written(person))
    assert [part.get_content_type() for part in mail.walk()] == [
        "multipart/mixed", "multipart/alternative", "text/plain", "text/html",
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    ]  # fmt: skip
    assert mail.get_body(("plain",)).get_content().startswith("Bonjour Anna Thériault,")
    assert "Thériault" in mail.get_body(("html",)).get_content()
    (workbook,) = mail.iter_attachments()
    assert workbook.get_filename() == "questions.xlsx"
    sheet = openpyxl.load_workbook(io.BytesIO(workbook.get_content()))["Vos lignes"]
    assert sheet["I2"].value == "Anna Thériault, près de l'étang"


def test_the_mail_is_a_draft_with_its_addresses():
    mail = mail_of(written(asked()))
    assert (mail["X-Unsent"], mail["Date"]) == ("1", None)
    assert mail["To"] == "Anna Thériault <anna@example.org>"
    assert mail["From"] == "Saltmarsh Wing-Tag Society <coordinator@example.org>"
    assert mail["Reply-To"] == "sheets@example.org"
    assert written(asked()).eml_bytes.isascii() and b"\r" not in written(asked()).eml_bytes


BREAKS = ("\r\n", "\n", "\r", "\u2028", "\x0b")
ATTACKS = (*(f"Eve{line_break}Bcc: all@example.org" for line_break in BREAKS), 'E" <x@y>, "')


@pytest.mark.parametrize("attack", ATTACKS)
def test_no_header_can_be_slipped_in(attack):
    person = asked(name=attack, programme_name=attack, reply_to=f"a@example.org{attack}")
    mail = mail_of(written(person))
    assert mail["Bcc"] is None and mail["Reply-To"] is None
    assert [address.addr_spec for address in mail["To"].addresses] == ["anna@example.org"]
    assert [address.addr_spec for address in mail["From"].addresses] == ["coordinator@example.org"]
    assert mail_of(finder_letter(found(tag=attack, name=attack)))["Bcc"] is None


@pytest.mark.parametrize(
    "address",
    ["a@x.org\r\nBcc: all@x.org", "a@x.org\n", "a@x.org, b@x.org", "anna", "", "a..b@x.org", "é@x.org"],
)
def test_what_is_no_single_address_is_left_for_the_coordinator_to_fill_in(address):
    mail = mail_of(written(asked(email=address)))
    assert mail["To"] is None and mail["Bcc"] is None and mail["Subject"]


def test_a_letter_about_a_minor_goes_to_the_guardian_and_does_not_name_the_child():
    person = asked(is_minor=True, guardian_name="Luc Thériault-Roy", guardian_email="luc@example.org")
    one = written(replace(person, name="Zoé Petit", email="zoe@example.org"))
    assert mail_of(one)["To"] == "Luc Thériault-Roy <luc@example.org>"
    assert one.text.startswith("Dear Luc Thériault-Roy,") and "number p014" in one.text
    assert b"zoe" not in one.eml_bytes.lower() and "Zoé" not in one.text + one.html + one.subject


def test_a_guardian_without_an_address_does_not_send_the_letter_to_the_child():
    one = written(asked(is_minor=True, guardian_name="Luc Thériault-Roy"))
    assert mail_of(one)["To"] is None and one.text.startswith("Dear Luc")


def test_without_a_guardian_the_letter_goes_to_the_coordinator():
    one = written(asked(is_minor=True, name="Zoé Petit", email="zoe@example.org"))
    assert [address.addr_spec for address in mail_of(one)["To"].addresses] == ["coordinator@example.org"]
    assert "no guardian is on file" in one.text.replace("\n", " ") and "Zoé" not in one.text + one.html


def test_the_same_letter_gives_the_same_bytes_and_another_seed_another_boundary():
    one, again, other = written(asked()), written(asked()), written(asked(seed="another"))
    assert one == again
    assert mail_of(one)["Message-ID"] != mail_of(other)["Message-ID"]
    assert mail_of(one).get_boundary() != mail_of(other).get_boundary()


@pytest.mark.parametrize(
    ("kinds", "sentence"),
    [
        ("m", "We have one question, and we need your answer to it."),
        ("c", "We have one question. Please check."),
        ("mm", "We have 2 questions, and we need your answer to each."),
        ("cc", "We have 2 questions. Please check when you have time."),
        ("mc", "We need your answer to the first; the other can be checked"),
        ("mcc", "We need your answer to the first; the others can be checked"),
        ("mmc", "We need your answer to the first 2; the last can be checked"),
        ("mmcc", "We need your answer to the first 2; the others can be checked"),
    ],
)
def test_a_letter_tells_what_blocks_from_what_can_wait(kinds, sentence):
    words = {"m": "must-answer", "c": "please-check"}
    questions = tuple(question(number, kind=words[kind]) for number, kind in enumerate(kinds, 1))
    assert sentence in written(asked(questions=questions)).text.replace("\n", " ")


def test_why_we_ask_is_there_for_those_who_open_it():
    one = written(asked(questions=(question(1, why="a day and a month look alike"),)))
    assert "<summary>Why we ask</summary><p>a day and a month look alike</p>" in one.html
    assert "look alike" not in one.text
    assert "<details>" not in written(asked(questions=(question(1),))).html


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("n", [0, 1, 5, 30])
def test_no_placeholder_is_left_unfilled(n, language):
    one = written(asked(n, language, told=("noted",)))
    to_finder = finder_letter(found(language=language))
    assert not re.search(r"\{\w+\}", one.text + one.subject + to_finder.text + to_finder.subject)


def test_every_text_colour_of_the_page_can_be_read_on_white():
    inks = set(re.findall(r"(?<![-\w])color: (#[0-9A-F]{6})", STYLE))
    assert len(inks) >= 4 and all(contrast(ink, "#FFFFFF") >= 4.5 for ink in inks)  # WCAG 2.x, 1.4.3


@pytest.mark.parametrize("language", LANGUAGES)
def test_lines_of_the_text_are_short_enough_to_read(language):
    person = asked(30, language, reminder=2, wrote_on=date(2026, 9, 4), is_last_reminder=True, told=("so " * 60,))
    assert max(map(len, written(person).text.splitlines())) <= 76


@settings(max_examples=30, deadline=None)
@given(st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=60, max_size=400))
def test_what_is_longer_than_a_line_is_read_on_in_the_next_and_nothing_of_it_is_lost(typed):
    text = written(asked(questions=(question(1, wonder=typed),), programme_name=typed, name=typed)).text
    assert max(map(len, text.split("\n"))) <= 76
    assert "".join(text.split()).count(typed) == 3


def test_a_finder_learns_the_region_and_is_told_to_leave_the_animal():
    one = finder_letter(found())
    text = " ".join(one.text.split())
    assert "New Brunswick (3 de septiembre de 2026)" in text and "4013 km" in text and "139 días" in text
    assert "¿Estaba viva la mariposa? (N.º 1, Ref K7M01PX)" in text
    assert "Deje al animal vivo donde está" in text and "No quite la etiqueta a un insecto vivo" in text
    assert not list(mail_of(one).iter_attachments())
    assert mail_of(one)["To"] == "Rosa Ejemplo <rosa@example.org>"


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"released_in": ""}, "We do not yet know where it was let go."),
        ({"km": 0.2}, "It was found close to where it was let go."),
        ({"days": 1}, "Between the two lies one day."),
        ({"name": ""}, "Hello,"),
        ({"found_at": "", "found_on": ""}, "Thank you for telling us about the butterfly that you found. It"),
    ],
)
def test_a_finder_is_told_only_what_is_known(changed, sentence):
    text = finder_letter(found(language="en", **changed)).text
    assert sentence in " ".join(text.split())


def test_a_person_with_questions_gets_four_files_and_one_without_gets_three(tmp_path):
    letters = {"letter.eml", "letter.html", "letter.txt"}
    assert write_person(tmp_path / "p014", asked()) == []
    assert {path.name for path in (tmp_path / "p014").iterdir()} == letters | {"questions.xlsx"}
    write_person(tmp_path / "p014", asked(0))
    assert {path.name for path in (tmp_path / "p014").iterdir()} == letters
    write_finder(tmp_path / "0f3c5a7e9b12", found())
    assert {path.name for path in (tmp_path / "0f3c5a7e9b12").iterdir()} == letters
    assert b"\r" not in (tmp_path / "p014" / "letter.txt").read_bytes()


def test_many_people_in_two_processes_get_what_they_would_get_in_one(tmp_path):
    people = [replace(asked(2), person_id=f"p{number:03d}", seed=str(number)) for number in range(64)]
    assert write_people(tmp_path / "many", people) == []
    assert write_people(tmp_path / "few", people[:3]) == []
    for path in (tmp_path / "few").rglob("*.*"):
        assert path.read_bytes() == (tmp_path / "many" / path.relative_to(tmp_path / "few")).read_bytes()
    assert len(list((tmp_path / "many" / "volunteers").iterdir())) == 64


def test_the_second_process_does_not_import_pandas():
    program = "import sys, pipeline.files.outbox_people; sys.exit('pandas' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0


FIRST_REF, SECOND_REF = ref_of("a day"), ref_of("a sex")


@pytest.mark.parametrize(
    ("language", "words", "answers"),
    [
        ("en", ["Yes, use your suggestion", "No, it is right as it is", "I do not know"], ["yes", "right", "unknown"]),
        ("fr", ["Oui, prenez votre proposition", "Non, c'est exact ainsi", "Je ne sais pas"],
         ["oui", "exact", "je ne sais pas"]),
        ("es", ["Sí, usen su propuesta", "No, es correcto así", "No lo sé"], ["sí", "correcto", "no lo sé"]),
    ],
)  # fmt: skip
def test_each_question_has_its_replies_ready_and_we_read_them(language, words, answers):
    both = (question(1, ref=FIRST_REF), question(2, ref=SECOND_REF, suggestion="", kind="please-check"))
    replies = replies_in(written(asked(questions=both, language=language)))
    bodies = [f"{FIRST_REF} {answer}" for answer in answers] + [f"{SECOND_REF} {answer}" for answer in answers[1:]]
    assert replies == list(zip(words + words[1:], bodies, strict=True))
    read = [reply_lines(body, "reply.txt", "", answer_words()) for body in bodies]
    assert [(line.ref, line.choice, line.value) for (line,) in read] == [
        (FIRST_REF, "suggestion", ""), (FIRST_REF, "right", ""), (FIRST_REF, "unknown", ""),
        (SECOND_REF, "right", ""), (SECOND_REF, "unknown", ""),
    ]  # fmt: skip
    assert all(holds_reply(body, answer_words()) for body in bodies)


@pytest.mark.parametrize(
    ("language", "sentence"),
    [
        ("en", "all your suggestions are right"),
        ("fr", "toutes vos propositions sont exactes"),
        ("es", "todas sus propuestas son correctas"),
    ],
)
def test_one_reply_above_the_questions_takes_all_suggestions_and_we_read_it(language, sentence):
    one = written(asked(questions=(question(1), question(2)), language=language))
    words, body = replies_in(one)[0]
    assert body == sentence == words.lower()
    assert one.html.index("<article") > one.html.index(words)
    (line,) = reply_lines(body, "reply.txt", "", answer_words())
    assert (line.choice, line.ref, line.number) == ("suggestion", "", 0)


@pytest.mark.parametrize(
    ("suggestions", "words"),
    [
        ((), []),
        (("A",), []),
        (("", ""), []),
        (("A", ""), []),
        (("A", "B"), ["All your suggestions are right"]),
        (("A", "", "B"), ["All your suggestions are right (2 of 3 questions have one)"]),
    ],
)
def test_the_reply_for_all_is_there_where_it_spares_something_and_says_what_it_is_about(suggestions, words):
    questions = tuple(question(number, suggestion=text) for number, text in enumerate(suggestions, 1))
    replies = replies_in(written(asked(questions=questions)))
    assert [said for said, body in replies if body == "all your suggestions are right"] == words


@pytest.mark.parametrize(
    ("changed", "address"),
    [
        pytest.param({}, "sheets@example.org", id="to whom replies go"),
        pytest.param({"reply_to": ""}, "coordinator@example.org", id="else the contact"),
        pytest.param({"reply_to": "a@x.org?bcc=b@x.org"}, "coordinator@example.org", id="as a mail program would"),
        pytest.param({"reply_to": "o'hara+tags&%20#1@x.org"}, "o'hara+tags&%20#1@x.org", id="strange and right"),
    ],
)
def test_a_reply_goes_where_the_letter_says_under_its_subject(changed, address):
    one = written(asked(**changed))
    opened = {mail_opened(link)[:2] for _, link in Page(one.html).links}
    assert opened == {(address, f"Re: {one.subject}")}


NO_ADDRESSES = ("", "anna", "A <a@x.org>", "a@x.org, b@x.org", "a@x.org?cc=b@x.org", 'a"onclick="x@x.org', "a@x.org\n")


@pytest.mark.parametrize("typed", NO_ADDRESSES)
def test_where_no_plain_address_is_known_no_link_is_made(typed):
    assert not is_address(typed)
    one = written(asked(reply_to=typed, contact=typed))
    assert not Page(one.html).links and labels("en")["replies_how"].format(number=1) not in one.text
    assert not Page(finder_letter(found(reply_to=typed, contact=typed)).html).links


@pytest.mark.parametrize(
    "typed", ['"><script>x</script>', "' onclick='x", "&body=1 yes&bcc=a@x.org", "a\r\nBcc: b#?%0A"]
)
def test_nothing_that_a_person_typed_breaks_out_of_a_link(typed):
    texts = dict.fromkeys(("seen", "wonder", "suggestion", "why", "tag", "file", "sheet", "ref"), typed)
    people = asked(questions=(question(1, **texts), question(2, **texts)), name=typed, programme_name=typed)
    finder = found(tag=typed, name=typed, questions=people.questions, reply_to="sheets@example.org")
    for one in (written(people), finder_letter(finder)):
        page = Page(one.html)
        assert len(page.links) >= 6 and "script" not in page.tags
        assert all(set(attributes) == {"href"} for tag, attributes in page.attributes if tag == "a")
        for _, link in page.links:
            assert re.fullmatch(r"mailto:[\w.@-]+\?subject=[\w.%~-]+&body=[\w.%~-]+", link)
            assert mail_opened(link)[:2] == ("sheets@example.org", f"Re: {one.subject}")


def test_a_finder_has_the_same_replies_at_each_question():
    two = tuple(question(number, ref=ref, suggestion=text) for number, ref, text in
                ((1, FIRST_REF, "SM0042"), (2, SECOND_REF, "")))  # fmt: skip
    one = finder_letter(found(questions=two, language="en"))
    assert [body for _, body in replies_in(one)] == [
        f"{FIRST_REF} yes", f"{FIRST_REF} right", f"{FIRST_REF} unknown", f"{SECOND_REF} right", f"{SECOND_REF} unknown"
    ]  # fmt: skip
    assert "underlined answers" in one.html and not Page(finder_letter(found(questions=())).html).links


def test_replies_are_on_the_screen_and_not_on_paper_nor_in_the_text():
    one = written(asked())
    assert "details, .replies, .on-screen { display: none; }" in STYLE.partition("@media print")[2]
    assert "min-height: 2.75rem" in STYLE  # 44 CSS pixels: WCAG 2.2, 2.5.5
    assert "mailto" not in one.text and "underlined" not in one.text and "\n\n\n" not in one.text


@pytest.mark.parametrize(
    ("language", "n", "subject", "sentence"),
    [
        ("en", 1, "Still open: one short question about your butterfly sheet (about 1 minute)",
         "We wrote to you on 4 September 2026, and this is a short reminder of what is still open."),
        ("en", 4, "Still open: 4 short questions about your butterfly sheet (about 2 minutes)",
         "We wrote to you on 4 September 2026"),
        ("fr", 4, "Encore en attente\u00a0: 4 petites questions sur votre fiche papillons (environ 2 minutes)",
         "Nous vous avons écrit le 4 septembre 2026"),
        ("es", 4, "Aún pendiente: 4 preguntas breves sobre su hoja de mariposas (cerca de 2 minutos)",
         "Le escribimos el 4 de septiembre de 2026"),
    ],
)  # fmt: skip
def test_a_reminder_says_so_and_when_we_wrote(language, n, subject, sentence):
    one = written(asked(n, language, reminder=1, wrote_on=date(2026, 9, 4)))
    _, opening, ready, *_ = one.text.replace("\n\n", "\v").replace("\n", " ").split("\v")
    assert one.subject == subject and opening.startswith(sentence)
    assert ready.startswith(("Thank you", "Merci", "Gracias"))
    assert mail_opened(Page(one.html).links[0][1])[1] == f"Re: {' '.join(subject.split())}"


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("is_last", [False, True])
def test_only_the_last_reminder_says_that_it_is_the_last_and_that_a_late_answer_is_welcome(is_last, language):
    person = asked(3, language, reminder=2, wrote_on=date(2026, 9, 4), is_last_reminder=is_last)
    text = written(person).text.replace("\n", " ")
    words = labels(language)
    held = words["silent_held_many"].format(n=3)
    assert held in text
    assert (words["reminder_last"] in text, words["silent_later"] in text) == (is_last, is_last)


@pytest.mark.parametrize("language", LANGUAGES)
def test_after_the_last_reminder_no_day_is_named_any_more(language):
    late = {"wrote_on": date(2026, 9, 4), "is_last_reminder": True}
    rests = written(asked(3, language, reminder=2, rests=True, **late)).text.replace("\n", " ")
    words = labels(language)
    assert words["rests"] in rests and words["silent_later"] in rests and words["reminder_last"] not in rests
    assert words["due"].partition("{")[0] not in rests


def test_a_question_without_right_as_it_is_has_no_link_for_it():
    person = asked(3)
    person = replace(person, questions=tuple(replace(one, is_waivable=False) for one in person.questions))
    words = {body.partition(" ")[2] for _, body in replies_in(written(person))}
    assert "right" not in words and "unknown" in words


def test_a_first_letter_and_a_letter_of_thanks_are_no_reminders():
    first, late = asked(), {"wrote_on": date(2026, 9, 4), "is_last_reminder": True}
    assert written(replace(first, **late)) == written(first)
    assert written(asked(0, reminder=1, **late)) == written(asked(0))


def test_a_reminder_of_an_unknown_day_names_none():
    text = written(asked(reminder=1)).text
    assert "This is a short reminder of what is still open." in text and "We wrote" not in text


@pytest.mark.parametrize(
    ("numbers", "shown"),
    [((1, 2), "1 yes, 2 right as it is, 3 it is 14 September"), ((4, 9), '"4 yes", "4 right as it is"')],
)
def test_an_example_of_an_answer_has_a_number_that_is_asked(numbers, shown):
    one = written(asked(questions=tuple(question(number) for number in numbers)))
    assert shown in " ".join(one.text.split())
    assert f"{numbers[0]} it is 14 September" in one.html


def test_what_holds_for_many_rows_is_one_question():
    block = question(3, rows=(*range(12, 19), 30), n_rows=8, row=0, tag="")
    one = written(asked(questions=(block,)))
    assert one.text.count("We need your answer\n") == 1 == one.html.count("<article")
    assert "3. 8 rows: 12-18, 30, column B" in one.text


def test_what_blocks_stands_before_what_can_wait_on_both_pages():
    kinds = ["please-check", "must-answer"] * 8
    questions = tuple(question(number, kind=kind) for number, kind in enumerate(kinds, 1))
    first, later = written(asked(questions=questions)).html.split('<h2 class="new-page">')
    numbers = [[int(n) for n in re.findall(r"<h3>(\d+)\.", page)] for page in (first, later)]
    assert numbers == [[2, 4, 6, 8, 10, 12, 14, 16, 1, 3, 5, 7], [9, 11, 13, 15]]
