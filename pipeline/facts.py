"""All that is looked up about rows before any rule sees them, one look-up after the other."""

from __future__ import annotations

from collections.abc import Mapping

import pandas as pd

from pipeline.files.programme import ProgrammeFolder
from pipeline.remembered import Remembered
from pipeline.stages.look_up import look_up
from pipeline.stages.look_up_borders import look_up_borders
from pipeline.stages.look_up_days import look_up_days
from pipeline.stages.look_up_neighbours import look_up_neighbours
from pipeline.stages.look_up_people import look_up_people
from pipeline.stages.look_up_places import look_up_places
from pipeline.stages.look_up_points import look_up_points
from pipeline.stages.look_up_releases import tags_elsewhere
from pipeline.stages.look_up_tags import own_tag_facts
from pipeline.stages.look_up_towns import look_up_towns, own_places
from pipeline.values.allotment import Tag
from pipeline.values.atlas import Atlas
from pipeline.whose_tags import example_of


def with_facts(
    rows: pd.DataFrame,
    places: pd.DataFrame,
    known: Remembered,
    told: tuple[ProgrammeFolder, Mapping[str, Tag]],
    atlas: Atlas,
) -> pd.DataFrame:
    """The rows with every fact of `schemas/looked_up.csv`; `told` are the programme and what it says of tags."""
    programme, tags = told
    groups = dict(zip(programme.people["person_id"], programme.people["group"], strict=True))
    rows = rows.assign(**look_up_points(rows, programme.lists.datums, programme.settings))
    rows = rows.assign(
        **look_up(rows, places, programme.lists, programme.settings),
        **look_up_days(rows, programme.settings),
        **look_up_places(rows, (programme.homes, programme.sites), programme.settings, atlas),
        **look_up_people(rows, programme.people),
        **own_tag_facts(rows, tags, groups, programme.settings, (known.elsewhere["tagCode"], example_of(programme))),
    )
    own = own_places(programme.sites, known.sites)
    rows = rows.assign(
        **look_up_borders(rows, programme.lists, programme.settings, atlas),
        **look_up_towns(rows, own, programme.lists, atlas, programme.settings),
    )
    return rows.assign(**tags_elsewhere(rows, known.elsewhere), **look_up_neighbours(rows))
