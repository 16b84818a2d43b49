"""Replies in words: which answers stand in them, and that a table of butterflies is never taken for one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented_people import asked, found, question

from pipeline.files.labels import LANGUAGES
from pipeline.files.letters import finder_letter, letter
from pipeline.files.schemas import answer_words
from pipeline.stages.replies import holds_reply, reply_lines
from pipeline.values.ref import is_ref, ref_of

WORDS = answer_words()
REF = ref_of("an invented question")
OTHER_REF = ref_of("another invented question")
DAMAGED = next(REF[:-1] + sign for sign in "23456789" if sign != REF[-1])


def lines(text):
    return reply_lines(text, "p014/reply.txt", "a" * 64, WORDS)


def said(text):
    """Number, Ref or tag of each answer, its choice, and value or reason."""
    return [(line.number or line.ref or line.tag, line.choice, line.value or line.why) for line in lines(text)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("1 yes", (1, "suggestion", ""), id="number and pick"),
        pytest.param("2 14 Sept 2026", (2, "other", "14 Sept 2026"), id="number and day"),
        pytest.param("3 right", (3, "right", ""), id="right"),
        pytest.param("4) I don't know", (4, "unknown", ""), id="a bracket behind the number"),
        pytest.param("2: no, it is 14 Sept", (2, "other", "14 Sept"), id="a colon, no and a day"),
        pytest.param("3 it is 14 September", (3, "other", "14 September"), id="as the letter proposes"),
        pytest.param("3 c'est le 14 septembre", (3, "other", "le 14 septembre"), id="as the french letter proposes"),
        pytest.param("3 es el 14 de septiembre", (3, "other", "el 14 de septiembre"), id="as the spanish one proposes"),
        pytest.param("2 exact ainsi", (2, "right", ""), id="right in french"),
        pytest.param("2 es correcto así", (2, "right", ""), id="right in spanish"),
        pytest.param("2 right (measured twice)", (2, "right", "measured twice"), id="right with a reason"),
        pytest.param("No. 7: yes", (7, "suggestion", ""), id="the number as in english"),
        pytest.param("N° 7 : oui", (7, "suggestion", ""), id="the number as in french"),
        pytest.param("N.º 7: sí", (7, "suggestion", ""), id="the number as in spanish"),
        pytest.param("Question 7 - yes", (7, "suggestion", ""), id="the word question"),
        pytest.param("  - 7 yes", (7, "suggestion", ""), id="a point of a list"),
        pytest.param("7. yes", (7, "suggestion", ""), id="a numbered list"),
        pytest.param("7\tyes", (7, "suggestion", ""), id="a tab"),
        pytest.param("7 1", (7, "suggestion", ""), id="the pick as a number"),
        pytest.param("7 female", (7, "other", "female"), id="a value in a word"),
        pytest.param("7 right hindwing", (7, "other", "right hindwing"), id="a value that begins like a pick"),
        pytest.param("7 -64.37", (7, "other", "-64.37"), id="a minus is no dash"),
        pytest.param("7: 51,5", (7, "other", "51,5"), id="a decimal comma"),
        pytest.param("7 2026-09-14", (7, "other", "2026-09-14"), id="a day of the standard"),
        pytest.param("7 yes, but not the first", (7, "unread", ""), id="half a yes"),
        pytest.param("7 " + "so it was " * 20, (7, "unread", ""), id="a tale"),
        pytest.param("999 yes", (999, "suggestion", ""), id="the highest number"),
        pytest.param(f"{REF} yes", (REF, "suggestion", ""), id="a Ref"),
        pytest.param(f"{REF.lower()}: 14 Sept", (REF, "other", "14 Sept"), id="a Ref in lower case"),
        pytest.param(f"Ref {REF} right", (REF, "right", ""), id="the word Ref"),
        pytest.param("SM0042 lost", ("SM0042", "other", "lost"), id="a tag and what became of it"),
        pytest.param("SM0042 : non utilisée", ("SM0042", "other", "not used"), id="a tag in french"),
    ],
)
def test_an_answer_is_read_from_a_line(text, expected):
    assert said(text) == [expected]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("yes", [("only", "suggestion")], id="one word"),
        pytest.param(
            "Bonjour Maud,\n\noui, prenez votre proposition\n\nAnna", [("only", "suggestion")], id="in a letter"
        ),
        pytest.param("No lo sé.\n> 1. Fila 8", [("only", "unknown")], id="over what is quoted"),
        pytest.param("no", [], id="a bare no may mean either"),
        pytest.param("yes\nright", [], id="two of them"),
        pytest.param("yes\n1 right", [("question", "right")], id="beside a numbered one"),
        pytest.param("Hello\nyes\nwe saw many\nthis year\nagain\nAnna", [], id="in a long letter"),
        pytest.param("yes, it was a lovely day in the marsh", [], id="a sentence"),
        pytest.param("1", [], id="a figure"),
    ],
)
def test_an_answer_that_names_no_question_is_about_the_only_one(text: str, expected: list[tuple[str, str]]) -> None:
    assert [(line.about, line.choice) for line in lines(text)] == expected
    assert holds_reply(text, WORDS) == bool(expected)


@pytest.mark.parametrize("pick", ["yes", "oui", "sí", "right", "exact", "correcto", "unknown", "no lo sé"])
def test_the_replies_that_a_letter_holds_ready_are_read(pick):
    (line,) = lines(f"{REF} {pick}")
    assert line.ref == REF and line.choice in ("suggestion", "right", "unknown")
    assert holds_reply(f"{REF} {pick}", WORDS)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            "1 yes, 2 no it is 14 Sept, 3 do not know",
            [(1, "suggestion", ""), (2, "other", "14 Sept"), (3, "unknown", "")],
            id="commas",
        ),
        pytest.param(
            "1 oui, 2 exact ainsi, 3 c'est le 14 septembre, 4 je ne sais pas.",
            [(1, "suggestion", ""), (2, "right", ""), (3, "other", "le 14 septembre"), (4, "unknown", "")],
            id="french",
        ),
        pytest.param(
            "1 sí; 2 es correcto así; 3 hembra; 4 no lo sé",
            [(1, "suggestion", ""), (2, "right", ""), (3, "other", "hembra"), (4, "unknown", "")],
            id="spanish, semicolons",
        ),
        pytest.param("1 F, 2 M", [(1, "other", "F"), (2, "other", "M")], id="letters"),
        pytest.param("1 3 Sept, 2 4 Sept", [(1, "other", "3 Sept"), (2, "other", "4 Sept")], id="days"),
        pytest.param("1 yes 2 no", [(1, "suggestion", ""), (2, "right", "")], id="blanks between picks"),
        pytest.param("1 yes. 2 no.", [(1, "suggestion", ""), (2, "right", "")], id="points between picks"),
        pytest.param("1 yes and 2 no", [(1, "suggestion", ""), (2, "right", "")], id="and between picks"),
        pytest.param("Hello, 1 yes, 2 F", [(1, "suggestion", ""), (2, "other", "F")], id="a greeting before"),
        pytest.param("1-3 yes", [(n, "suggestion", "") for n in (1, 2, 3)], id="from one to another"),
        pytest.param("1, 2 et 4 : exact", [(n, "right", "") for n in (1, 2, 4)], id="several at once"),
        pytest.param(
            "1 and 2 yes, 3 no", [(1, "suggestion", ""), (2, "suggestion", ""), (3, "right", "")], id="two, then one"
        ),
        pytest.param(f"{REF} yes, {OTHER_REF} no", [(REF, "suggestion", ""), (OTHER_REF, "right", "")], id="Refs"),
        pytest.param("1 no, Sept 14, 2026", [(1, "other", "Sept 14, 2026")], id="a year is no number"),
        pytest.param("1 no, 51 mm", [(1, "other", "51 mm")], id="a measure is no number"),
        pytest.param("1 no, 14 Sept", [(1, "other", "14 Sept")], id="a day is no number"),
        pytest.param("4 45.83, -64.20", [(4, "other", "45.83, -64.20")], id="a point is one value"),
        pytest.param(
            "SM1 no\nSM0042 lost, SM0043 kept", [("SM0042", "other", "lost"), ("SM0043", "other", "kept")], id="tags"
        ),
    ],
)
def test_several_answers_are_read_from_one_line(text, expected):
    assert said(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("2026 was a great year", id="a year"),
        pytest.param("1000 yes", id="over 999"),
        pytest.param("14 Sept was sunny", id="a day"),
        pytest.param("14 de septiembre", id="a day in spanish"),
        pytest.param("12 butterflies flew", id="a count"),
        pytest.param("2 of them were torn", id="a share"),
        pytest.param("10:30 in the morning", id="a time"),
        pytest.param("45.5, -64.2", id="a point"),
        pytest.param("3/9/26 was warm", id="a day with strokes"),
        pytest.param("506 555 0199", id="a telephone number"),
        pytest.param("On Monday, 3 children came", id="a number within a sentence"),
        pytest.param("07 yes", id="a zero in front"),
        pytest.param("1 and 2 female", id="one value for two"),
        pytest.param("1", id="a number alone"),
        pytest.param("y", id="a letter alone"),
        pytest.param(f"{DAMAGED} yes", id="a Ref whose check character does not fit"),
        pytest.param(f"it is {REF}, yes", id="a Ref within a sentence"),
        pytest.param("1,SM0012,3/9/26,M", id="a line of a table"),
        pytest.param("1;SM0012;M", id="a line of a table, semicolons"),
        pytest.param("", id="nothing"),
    ],
)
def test_no_answer_is_read_where_there_is_none(text):
    assert said(text) == []


@pytest.mark.parametrize("text", ["NONE", " none. ", "Aucune", "ninguna", "I used no tags this year", "NONE\nThanks"])
def test_none_alone_on_a_line_says_that_no_tags_were_used(text):
    assert [(line.about, line.ref, line.number) for line in lines(text)] == [("none", "", 0)]


def test_none_within_a_line_says_no_such_thing():
    assert not any(line.about == "none" for line in lines("1 none\nnone of them was torn"))


@pytest.mark.parametrize(
    "text",
    [
        "all your suggestions are right",
        "All your suggestions are right. Thank you!",
        "Toutes vos propositions sont exactes !",
        "todas sus propuestas son correctas",
    ],
)
def test_all_suggestions_may_be_taken_at_once(text):
    (line,) = lines(text)
    assert (line.about, line.ref, line.number, line.choice, line.typed) == ("question", "", 0, "suggestion", text)


@pytest.mark.parametrize(
    "text",
    [
        "all your suggestions are right except 3",
        "are all your suggestions right?",
        "not all your suggestions are right",
    ],
)
def test_no_suggestion_is_taken_by_half_a_sentence(text):
    assert lines(text) == ()


END = [
    pytest.param("On Mon, 5 Oct 2026 at 10:00, Maud <maud@example.org> wrote:", id="english"),
    pytest.param("On Mon, 5 Oct 2026 at 10:00, Maud Arsenault <\nmaud@example.org> wrote:", id="english, broken"),
    pytest.param("Le lun. 5 oct. 2026 à 10:00, Maud <maud@example.org> a écrit\u00a0:", id="french"),
    pytest.param("El lun, 5 oct 2026 a las 10:00, Maud (<maud@example.org>) escribió:", id="spanish"),
    pytest.param("-----Original Message-----", id="original message"),
    pytest.param("-----Message d'origine-----", id="original message in french"),
    pytest.param("-----Mensaje original-----", id="original message in spanish"),
    pytest.param("From: Maud <maud@example.org>\nSent: Monday", id="headers as some programs write them"),
    pytest.param("De : Maud\nEnvoyé : lundi 5 octobre", id="headers in french"),
    pytest.param("________________________________", id="a line drawn"),
    pytest.param("-- ", id="signature"),
    pytest.param("--", id="signature without its blank"),
    pytest.param("Kind regards,", id="closing"),
    pytest.param("Cordialement", id="closing in french"),
    pytest.param("Saludos,", id="closing in spanish"),
    pytest.param("Our questions\n-------------", id="our own letter"),
    pytest.param("Comment répondre", id="our own letter in french"),
]


@pytest.mark.parametrize("end", END)
def test_nothing_is_read_below_the_end_of_a_reply(end):
    assert said(f"1 yes\n\n{end}\n\n2 no\n3 12 Marsh Road\nNONE") == [(1, "suggestion", "")]


def test_quoted_lines_are_not_read_and_lines_keep_their_numbers():
    text = "> 1 no\n1 yes\r\n  >> 2 no\r\n\r\n3 F"
    assert [(line.row, line.number) for line in lines(text)] == [(2, 1), (5, 3)]
    first = lines(text)[0]
    assert (first.file, first.file_sha256, first.sheet) == ("p014/reply.txt", "a" * 64, "")
    assert [(line.kind, line.typed) for line in lines(text)] == [("-", "1 yes"), ("t", "3 F")]


@pytest.mark.parametrize("language", LANGUAGES)
def test_our_own_letter_holds_no_answers(language):
    text = letter(asked(language=language), b"").text
    assert lines(text) == () and not holds_reply(text, WORDS)
    assert said(f"1 yes\n{text}") == [(1, "suggestion", "")]
    of_find = found(language=language, questions=(question(1, ref=REF, wonder="Was it alive?"),))
    assert not holds_reply(finder_letter(of_find).text, WORDS)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("1 yes", id="one answer"),
        pytest.param("2 14 Sept 2026", id="one day"),
        pytest.param("SM0012 lost\nSM0013 not used", id="what became of tags that no butterfly carries"),
        pytest.param("NONE", id="none"),
        pytest.param("Hello Maud,\n\nNONE\n\nAnna", id="none in a note"),
        pytest.param("All your suggestions are right.", id="all"),
        pytest.param("Dear Maud,\nit rained a lot.\n1 yes\nBest,\nAnna", id="one answer in a short note"),
        pytest.param("1 yes, 2 no, 3 yes, 4 no\n5 yes, 6 no, 7 no, 8 F", id="answers with many commas"),
        pytest.param("1 yes\n2 no\n3 F\n" + "4 yes\n" * 20, id="many answers"),
        pytest.param(f"{REF} oui", id="a Ref"),
        pytest.param("1 yes\n> a\tb\tc\td\n> a\tb\tc\td", id="a table that is quoted"),
    ],
)
def test_a_reply_is_known(text):
    assert holds_reply(text, WORDS)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param("Dear Maud, here is my sheet.", id="a note without answers"),
        pytest.param("No,Tag,Date,Sex\n1,SM0012,3/9/26,M\n2,SM0013,3/9/26,F", id="commas"),
        pytest.param("No, Tag, Date, Mated\n1, SM0012, 3/9/26, yes\n2, SM0013, 3/9/26, no", id="commas and blanks"),
        pytest.param("No;Mated;Sex\n1; yes; M\n2; no; F", id="semicolons"),
        pytest.param("No\tMated\tSex\n1\tyes\tM\n2\tno\tF", id="tabs"),
        pytest.param("No | Mated | Sex\n1 | yes | M\n2 | no | F", id="bars"),
        pytest.param("No  Tag     Date    Sex\n1   SM0012  3/9/26  M\n2   SM0013  3/9/26  F", id="set with blanks"),
        pytest.param("1 SM0012\n2 SM0013", id="numbered codes"),
        pytest.param("\n".join(f"{number} female" for number in range(1, 14)), id="numbered words, many"),
        pytest.param("SM0012 released\nSM0013 released", id="codes and what became of them"),
        pytest.param("a word\n" * 20 + "1 yes", id="one answer in a long text"),
        pytest.param("1 yes\n" * 50_000, id="longer than any reply"),
    ],
)
def test_a_table_or_a_note_is_not_taken_for_a_reply(text):
    assert not holds_reply(text, WORDS)


@given(st.text(max_size=300) | st.text("0123456789 ,;.:)-yesnort\n", max_size=300))
def test_any_text_is_read_without_a_fault(text):
    for line in lines(text):
        assert line.about in ("question", "tag", "none", "only") and 0 <= line.number <= 999
        assert not line.ref or is_ref(line.ref)
        assert line.choice in ("suggestion", "right", "other", "unknown", "unread", "") and line.row >= 1
    assert isinstance(holds_reply(text, WORDS), bool)


PICKED = st.sampled_from(["yes", "no", "right", "I do not know", "oui", "exact ainsi", "no lo sé", "14 Sept 2026", "F"])


@given(st.lists(PICKED, min_size=1, max_size=12), st.sampled_from([", ", "; ", "\n"]))
def test_numbered_answers_are_read_back_one_for_one(picks, between):
    text = between.join(f"{number} {pick}" for number, pick in enumerate(picks, 1))
    assert [line.number for line in lines(text)] == list(range(1, len(picks) + 1))


@given(st.lists(st.tuples(st.from_regex(r"[A-Z]{2}\d{4}", fullmatch=True), st.sampled_from(["M", "F"])), min_size=2))
def test_a_table_of_butterflies_is_never_a_reply(rows):
    for sign in (",", ";", "\t", ", "):
        table = [
            ["No", "Tag", "Date", "Sex"],
            *([str(at), code, "3 Sept", sex] for at, (code, sex) in enumerate(rows, 1)),
        ]
        assert not holds_reply("\n".join(sign.join(row) for row in table), WORDS)
