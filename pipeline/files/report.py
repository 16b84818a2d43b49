"""Writes report.html: one page that says what came, what is clear, what is asked and what to do next."""

from __future__ import annotations

from datetime import date
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import jinja2
import pandas as pd
from markupsafe import Markup

from pipeline.catalogue import catalogue
from pipeline.figures import Figures
from pipeline.files.map_drawing import SOURCE, draw_map
from pipeline.files.programme import ProgrammeFolder
from pipeline.frames import lines_of
from pipeline.values.wording import KINDS, conserved_rows, conserved_tags, last_line

LOOKS = {"must-answer": "must", "please-check": "check", "for-information": ""}


@cache
def _template() -> jinja2.Template:
    source = files("pipeline.files").joinpath("report.html").read_text(encoding="utf-8")
    return jinja2.Environment(autoescape=True, trim_blocks=True).from_string(source)


def write_report(
    path: Path, programme: ProgrammeFolder, figures: Figures, tables: dict[str, pd.DataFrame], today: date
) -> None:
    """Writes the page; `tables` are by_person, by_rule, files, batches, points, links."""
    page = _template().render(**_words(programme, figures, tables), today=today.isoformat(), figures=figures)
    beside = path.with_suffix(".new")
    beside.write_text(page + "\n", encoding="utf-8", newline="\n")
    beside.replace(path)


def _words(programme: ProgrammeFolder, figures: Figures, tables: dict[str, pd.DataFrame]) -> dict[str, Any]:
    names = dict(zip(programme.people["person_id"], programme.people["name"], strict=True))
    by_person, came = tables["by_person"], tables["files"]
    wrote = set(by_person.loc[by_person["read"] > 0, "person_id"])
    refused = came[came["refusal"] != ""]
    return {
        "name": programme.settings.programme.name,
        "season": programme.settings.season.label,
        "next": last_line(figures),
        "calm": not (figures.questions or figures.coordinator_questions or figures.refusals),
        "rows_law": conserved_rows(figures.rows),
        "rows_law_of_run": conserved_rows(figures.rows_of_run),
        "tags_law": conserved_tags(figures.tags),
        "shares": _shares(figures),
        "others": figures.rows_read - figures.rows["clear"] - figures.rows["held"],
        "people": [{**line, "name": names.get(line["person_id"], "")} for line in lines_of(by_person)],
        "silent": [f"{person} ({names[person]})" for person in names if person not in wrote],
        "rules": _rules(tables["by_rule"]),
        "refused": list(zip(refused["file"], refused["what"], strict=True)),
        "batches": len(tables["batches"]),
        "map": Markup(draw_map(tables["points"], tables["links"])),
        "map_source": SOURCE,
    }


def _shares(figures: Figures) -> list[tuple[str, str]]:
    """The parts of the bar, in percent of all rows read."""
    clear, held, every = figures.rows["clear"], figures.rows["held"], max(figures.rows_read, 1)
    parts = {"clear": clear, "held": held, "other": figures.rows_read - clear - held}
    return [(state, f"{100 * count / every:.2f}") for state, count in parts.items() if count]


def _rules(by_rule: pd.DataFrame) -> list[dict[str, Any]]:
    titles = {entry.name: entry.rule.title for entry in catalogue()}
    return [
        {
            **line,
            "title": titles.get(line["rule"], ""),
            "kind": KINDS[line["severity"]],
            "look": LOOKS[line["severity"]],
        }
        for line in lines_of(by_rule)
    ]
