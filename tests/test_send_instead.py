"""Whoever sent what we cannot open is told in their language what it looks like and what to send instead."""

from __future__ import annotations

from typing import Any

import pytest
from test_safety import REFUSED

from pipeline.files import limits, reading
from pipeline.files.labels import in_words
from pipeline.values.send_instead import SEND_A_SHEET, send_instead, sentences

REFUSALS: list[Any] = [case.values for case in REFUSED]
LOOKS = sorted(
    {what for _, refusal, what in REFUSALS if refusal == "file_not_opened"}
    | {limits.TOO_MANY, limits.SPREAD, reading.UNFINISHED, "a file that another program holds open"}
)
WITHOUT_A_BETTER_WAY = {"a recording or a film", "a file of a kind that we do not know"}


@pytest.mark.parametrize("what", LOOKS)
def test_each_kind_of_file_has_its_own_way_out(what: str) -> None:
    assert (send_instead(what) == SEND_A_SHEET) == (what in WITHOUT_A_BETTER_WAY)


@pytest.mark.parametrize("language", ["fr", "es"])
@pytest.mark.parametrize("words", [*LOOKS, *sentences()])
def test_the_words_are_told_in_the_readers_language(language: str, words: str) -> None:
    assert in_words("", words, "en") == words
    assert in_words("", words, language) != words
