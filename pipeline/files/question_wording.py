"""What a question sheet said about each question, in the language of its reader: the second evidence beside the Ref."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pipeline.catalogue import Entry
from pipeline.files.asking import Shared, questions_of
from pipeline.files.question_words import shown
from pipeline.settings import Settings


def wonders_of(
    questions: Sequence[Mapping[str, Any]],
    findings: Mapping[str, Sequence[Mapping[str, Any]]],
    spoken: Mapping[str, str],
    told: tuple[Settings, Mapping[str, Entry], Any],
) -> dict[str, str]:
    """By Ref: the sentence of each open question; `spoken` gives each addressee's language."""
    settings, entries, today = told
    wonders = {}
    for line in questions:
        members = [one for one in findings.get(line["ref"], ()) if one["state"] == "open"]
        if line["state"] != "open" or not members:
            continue
        members.sort(key=lambda one: one["identity"] != line["leading"])
        lines = [{**one, "tag": ""} for one in members]
        asked = {**line, "finding": 0, "findings": tuple(range(len(lines)))}
        shared = Shared(settings, entries, {}, lines, today, "")
        wonder = questions_of([asked], shared, spoken.get(line["addressee"], "en"))[0].wonder
        wonders[line["ref"]] = shown(wonder)
    return wonders
