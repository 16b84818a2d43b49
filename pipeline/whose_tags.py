"""The tags that matter to a run: those of its rows, and all that were handed to their people."""

from __future__ import annotations

from collections.abc import Collection, Iterable

import pandas as pd

from pipeline.files.programme import ProgrammeFolder
from pipeline.remembered import Remembered
from pipeline.values.allotment import Tag, allotted_tags


def tags_of_rows(programme: ProgrammeFolder, codes: Iterable[str], known: Remembered) -> dict[str, Tag]:
    """Every tag that was handed out; where a run looks at some files only, those that these carry or carried."""
    label = programme.settings.season.label
    if known.is_whole:
        return allotted_tags(programme.tags, label)
    return allotted_tags(programme.tags, label, {*codes, *known.tags_before} - {""})


def tags_of_people(
    programme: ProgrammeFolder, tags: dict[str, Tag], rows: pd.DataFrame, known: Remembered
) -> tuple[dict[str, Tag], frozenset[str] | None]:
    """The tags with all that were handed to the senders of the rows, to their groups and to the holders of their tags.

    Beside them the people of whom no tag is missing, None for everybody.
    """
    if known.is_whole:
        return tags, None
    people = {*rows["person_id"], *(tag.person_id for tag in tags.values()), *known.answered_by}
    groups = dict(zip(programme.people["person_id"], programme.people["group"], strict=True))
    ours = {groups.get(person, "") for person in people} - {""}
    people |= {person for person, group in groups.items() if group in ours}
    wanted = _codes(programme, people) | tags.keys()
    return allotted_tags(programme.tags, programme.settings.season.label, wanted), frozenset(people)


def _codes(programme: ProgrammeFolder, people: Collection[str]) -> set[str]:
    return {code for line in programme.tags if line.person_id in people for code in line.codes}


def example_of(programme: ProgrammeFolder) -> str:
    """The first of all tags, to show what one looks like; blank without an allotment list."""
    return min((line.codes[0] for line in programme.tags if line.codes), default="")
