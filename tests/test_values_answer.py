"""Answers in three languages, with and without words behind them, are read as their sender meant them."""

from __future__ import annotations

import csv
import io
from collections import Counter
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.files.labels import LANGUAGES, labels
from pipeline.files.schemas import answer_words
from pipeline.values.answer import UNREAD, choice_of, fate_of, read, takes_out
from pipeline.values.answer_words import FATES, PICKS, says
from pipeline.values.text import tidy

WORDS = answer_words()
LABELS = ("use_suggestion", "right_as_it_is", "other_value", "do_not_know")  # in the order of PICKS
DRESSES = (str, str.upper, str.lower, "  {} ".format, "{}.".format, "({})".format, "«{}»".format, "{}\n".format)


def lines() -> list[dict[str, str]]:
    text = files("schemas").joinpath("vocabularies/answer_words.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("dress", DRESSES, ids=range(len(DRESSES)))
def test_every_pick_of_the_list_reads_back_however_it_is_dressed(language, dress):
    assert tuple(choice_of(dress(labels(language)[key]), WORDS) for key in LABELS) == PICKS
    numbered = [f"{n} - {labels(language)[key]}" for n, key in enumerate(LABELS, 1)]
    assert tuple(choice_of(dress(text), WORDS) for text in numbered) == PICKS


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_fate_of_the_list_reads_back(language):
    written = [labels(language)[f"fate_{fate.replace(' ', '_')}"] for fate in FATES]
    for dress in DRESSES:
        assert tuple(fate_of(dress(text), WORDS) for text in written) == FATES


@pytest.mark.parametrize("form", ["{}", "{}.", "{})", "({})", " {} ", "{} -", "{}!"])
def test_the_picks_may_be_typed_as_numbers(form):
    assert tuple(choice_of(form.format(number), WORDS) for number in (1, 2, 3, 4)) == PICKS


@pytest.mark.parametrize(
    ("choice", "texts"),
    [
        pytest.param("suggestion", "y|yes|YES!|ok|o|O|oui|Oui.|s|si|sí|SÍ|d'accord|yes, thanks|oui merci", id="yes"),
        pytest.param("right", "right|right as it is|correct|exact|c'est exact|C’est exact|juste|correcto", id="right"),
        pytest.param("right", "está bien|esta bien|no|NO.|non|n|No, thank you", id="no alone is the second pick"),
        pytest.param("other", "other|Autre|otro|other value:", id="other"),
        pytest.param("unknown", "I don't know|don’t know|dont know|unknown|je ne sais pas|sais pas", id="unknown"),
        pytest.param("unknown", "no lo sé|no se|?|??|sorry, I do not know|no idea|¿?", id="unknown in other words"),
        pytest.param("", "|  |\t|-|--|.", id="blank, or a dash for nothing"),
        pytest.param("unread", "14 Sept 2026|female|SM0012|hmm|👍|Marsh Road|5|12|n/a", id="anything else"),
    ],
)
def test_an_answer_alone_is_read(choice, texts):
    assert {text: choice_of(text, WORDS) for text in texts.split("|")} == dict.fromkeys(texts.split("|"), choice)


@pytest.mark.parametrize(
    ("text", "choice", "rest"),
    [
        pytest.param("other: 14 Sept", "other", "14 Sept", id="other with its value"),
        pytest.param("autre : 45,5", "other", "45,5", id="other in french"),
        pytest.param("3: 51.5", "other", "51.5", id="other by its number"),
        pytest.param("other: -64.37", "other", "-64.37", id="a minus is no dash"),
        pytest.param("otro valor: hembra", "other", "hembra", id="other value in spanish"),
        pytest.param("no, it is 14 Sept", "other", "14 Sept", id="no and what it is"),
        pytest.param("non, c'est le 14 septembre", "other", "le 14 septembre", id="no in french"),
        pytest.param("no, es el 14 de septiembre", "other", "el 14 de septiembre", id="no in spanish"),
        pytest.param("no, female", "other", "female", id="no and a word"),
        pytest.param("yes, it is 14 Sept", "other", "14 Sept", id="a day that is named goes before a yes"),
        pytest.param("right, it is 14 Sept", "other", "14 Sept", id="a day that is named goes before a right"),
        pytest.param("no, measured twice", "right", "measured twice", id="no with a reason"),
        pytest.param("2 (measured twice)", "right", "measured twice", id="a number with a reason"),
        pytest.param("2 - sortie d'école", "right", "sortie d'école", id="a reason in french"),
        pytest.param("Sí, estoy segura", "suggestion", "estoy segura", id="yes with a reason"),
        pytest.param("no, I don't know", "unknown", "", id="no, and then unknown"),
        pytest.param("I do not know, maybe the 14th", "unknown", "maybe the 14th", id="unknown with a guess"),
        pytest.param("No, it is right as it is (photo)", "right", "photo", id="a pick with a word more"),
    ],
)
def test_words_behind_a_pick_are_its_value_or_its_reason(text, choice, rest):
    assert tuple(read(text, WORDS)) == (choice, rest)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        pytest.param("14 Sept 2026", "14 Sept 2026", id="a day"),
        pytest.param("it is 14 Sept", "14 Sept", id="it is and a day"),
        pytest.param("4 July 2026", "4 July 2026", id="the fourth of a month is not the fourth pick"),
        pytest.param("3. 9. 2026", "3. 9. 2026", id="a day with points"),
        pytest.param("3/9/26", "3/9/26", id="a day with strokes"),
        pytest.param("2 - 4", "2 - 4", id="a span"),
        pytest.param("2.5", "2.5", id="a decimal"),
        pytest.param("4:30", "4:30", id="a time"),
        pytest.param("1er sept.", "1er sept.", id="the first in french"),
        pytest.param("2 butterflies", "2 butterflies", id="a count"),
        pytest.param("right hindwing", "right hindwing", id="a wing"),
        pytest.param("no tag", "no tag", id="no and a thing"),
        pytest.param("unknown moth", "unknown moth", id="a thing unknown"),
    ],
)
def test_a_value_typed_for_an_answer_is_kept_as_what_it_may_be(text, value):
    assert tuple(read(text, WORDS)) == (UNREAD, value)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("yes, no", id="yes and no"),
        pytest.param("no, yes", id="no and yes"),
        pytest.param("1 right", id="two picks"),
        pytest.param("yes, but only the first", id="half a yes"),
        pytest.param("oui, mais pas le premier", id="half a yes in french"),
        pytest.param("no, it is", id="a sentence broken off"),
        pytest.param("n/a", id="a word for nothing"),
        pytest.param("thanks", id="thanks alone"),
        pytest.param("x" * 121, id="longer than any value"),
        pytest.param("yes " * 500, id="longer than any answer"),
    ],
)
def test_what_can_be_meant_in_two_ways_is_no_answer_and_no_value(text):
    assert tuple(read(text, WORDS)) == (UNREAD, "")


@pytest.mark.parametrize(
    ("text", "fate"),
    [
        pytest.param("kept", "kept", id="kept is for next year"),
        pytest.param("gardée pour l'an prochain", "kept", id="kept in french"),
        pytest.param("LOST!", "lost", id="capitals"),
        pytest.param("lost (in the marsh)", "lost", id="with more words"),
        pytest.param("puesta en una mariposa", "released", id="released in spanish"),
        pytest.param("left over", "not used", id="another word for not used"),
        pytest.param("torn", "spoiled", id="another word for spoiled"),
        pytest.param("  ", "", id="blank"),
        pytest.param("Rémi Doucet", "unread", id="a name: somebody else has it"),
        pytest.param("used by Rémi", "unread", id="used, by somebody else"),
        pytest.param("lost and found", "unread", id="two fates"),
        pytest.param("?", "unread", id="a question mark"),
    ],
)
def test_what_became_of_a_tag_is_read(text, fate):
    assert fate_of(text, WORDS) == fate


@pytest.mark.parametrize("text", ["take out", "Remove", "delete this row", "withdraw", "à retirer", "Enlever.",
                                  "supprimer", "quitar", "BORRAR", "eliminar la fila"])  # fmt: skip
def test_a_row_is_taken_out_in_three_languages(text):
    assert takes_out(text, WORDS) and choice_of(text, WORDS) == UNREAD


@pytest.mark.parametrize("text", ["", "remove the left wing", "no", "out", "quita", "14 Sept"])
def test_nothing_else_takes_a_row_out(text):
    assert not takes_out(text, WORDS)


@pytest.mark.parametrize("text", ["NONE", "none.", "Aucune", "ninguna", "I used no tags this year", "no usé ninguna"])
def test_no_tags_used_is_said_in_three_languages(text):
    assert says(text, "none", WORDS)


def test_the_list_says_no_word_twice_and_means_only_what_is_known():
    known = {*PICKS, *FATES, "no", "none", "take out", "all", "it is", "because", "but", "courtesy", "end"}
    assert {line["means"] for line in lines()} == {*known, "thing counted"}
    assert {line["language"] for line in lines()} <= {"", *LANGUAGES}
    spellings = Counter(tidy(line["word"]) for line in lines())
    assert all(spellings) and max(spellings.values()) == 1


def test_every_word_of_the_list_alone_says_what_it_means():
    for line in lines():
        means = line["means"]
        if means in (*PICKS, "no"):
            assert choice_of(line["word"], WORDS) == ("right" if means == "no" else means)
        elif means in FATES:
            assert fate_of(line["word"], WORDS) == means


@given(st.text(max_size=400))
def test_any_text_is_read_without_a_fault(text):
    choice, rest = read(text, WORDS)
    assert choice in (*PICKS, "", UNREAD) and fate_of(text, WORDS) in (*FATES, "", UNREAD)
    assert isinstance(takes_out(text, WORDS), bool) and len(rest) <= len(text) * 3


PIECES = st.sampled_from(["no", "yes", "2", "right", "it is", "14 Sept", "other", ",", ":", "(", ")", " ", "but", "?"])


@given(st.lists(PIECES, max_size=80).map("".join) | st.lists(PIECES, max_size=80).map(" ".join))
def test_any_heap_of_our_own_words_is_read_without_a_fault(text):
    assert read(text, WORDS).choice in (*PICKS, "", UNREAD)


@given(
    st.sampled_from(LANGUAGES),
    st.sampled_from(LABELS),
    st.sampled_from(["", " ", "\t", "\u00a0", "\n"]),
    st.sampled_from(["", ".", "!", " ", ";", "…"]),
    st.booleans(),
)
def test_a_pick_is_read_in_any_case_and_punctuation(language, key, before, behind, is_capital):
    text = labels(language)[key]
    written = before + (text.upper() if is_capital else text) + behind
    assert choice_of(written, WORDS) == PICKS[LABELS.index(key)]


@given(st.dates().map(lambda day: day.isoformat()) | st.from_regex(r"[A-Z]{2}\d{4}", fullmatch=True))
def test_a_value_behind_other_or_no_is_never_taken_for_agreement(value):
    assert tuple(read(f"other: {value}", WORDS)) == tuple(read(f"no, it is {value}", WORDS)) == ("other", value)
    assert read(value, WORDS).choice == UNREAD
