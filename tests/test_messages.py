"""What rules say in French and Spanish, held against the English in the rules."""

import csv
import io
import string
from importlib.resources import files

import pytest

from pipeline.catalogue import catalogue

LANGUAGES = ("fr", "es")
TEXTS = ("title", "message", "unsuggested", "why")
ASKED = [entry for entry in catalogue() if entry.rule.asks in ("tagger", "finder")]


def messages(language):
    text = files("schemas").joinpath(f"messages/{language}.csv").read_text(encoding="utf-8")
    return {line["rule"]: line for line in csv.DictReader(io.StringIO(text))}


def placeholders(text):
    return {name for _, name, *_ in string.Formatter().parse(text) if name}


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("entry", ASKED, ids=lambda entry: entry.name)
def test_a_rule_that_asks_a_person_says_the_same_in_their_language(entry, language):
    line = messages(language).get(entry.name)
    assert line is not None, f"{entry.name} is not in schemas/messages/{language}.csv"
    for name in TEXTS:
        english, translated = getattr(entry.rule, name), line[name]
        assert bool(translated) == bool(english), name
        assert placeholders(translated) == placeholders(english), name


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_message_is_left_of_a_rule_that_is_gone(language):
    assert set(messages(language)) <= {entry.name for entry in catalogue()}


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_message_was_left_in_english(language):
    english = {entry.name: entry.rule for entry in catalogue()}
    for name, line in messages(language).items():
        assert all(line[text] != getattr(english[name], text) for text in TEXTS if line[text]), name


def test_french_keeps_its_marks_on_the_line():
    # Ordinary typesetting practice: no line break before ; : ! ? and inside quotation marks.
    texts = [line[text] for line in messages("fr").values() for text in TEXTS]
    assert not [text for text in texts if any(f" {mark}" in text for mark in ";:!?»") or "« " in text]
