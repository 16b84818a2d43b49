"""The command `rules`: the catalogue in the terminal, one rule in full, or its page written anew."""

from __future__ import annotations

import sys
import textwrap
from difflib import get_close_matches
from pathlib import Path

import pipeline.rules
from pipeline.catalogue import Entry, catalogue
from pipeline.commands.words import WIDTH
from pipeline.rules_page import rules_page

WRONG_USAGE = 2


def rules_command(name: str | None, is_writing: bool) -> int:
    """Lists the rules by subject, explains one, or writes their page."""
    if is_writing:
        page = Path(next(iter(pipeline.rules.__path__))) / "README.md"
        page.write_text(rules_page(), encoding="utf-8", newline="\n")
        print(f"{len(catalogue())} rules written to pipeline/rules/README.md")
        return 0
    if name:
        return _explain(name)
    subject = ""
    for entry in catalogue():
        if entry.subject != subject:
            subject = entry.subject
            print(f"\n{subject}")
        print(f"  {entry.name:<34} {entry.rule.severity:<16} {entry.rule.asks}")
    print(f"\n{len(catalogue())} rules. One in full: tagsheaf rules NAME")
    return 0


def _explain(name: str) -> int:
    entries = {entry.name: entry for entry in catalogue()}
    if name not in entries:
        near = get_close_matches(name, entries, n=1)
        print(f"There is no rule {name}." + (f" Did you mean {near[0]}?" if near else ""), file=sys.stderr)
        return WRONG_USAGE
    print("\n".join(_in_full(entries[name])))
    return 0


def _in_full(entry: Entry) -> list[str]:
    rule = entry.rule
    one = f"an {rule.scope}" if rule.scope == "answer" else f"a {rule.scope}"
    parts = [
        ("", f"{rule.title} ({rule.severity}, asks the {rule.asks}, looks at {one})"),
        ("Says: ", rule.message),
        ("Otherwise: ", rule.unsuggested),
        ("Why: ", rule.why),
        ("Source: ", rule.source),
    ]
    wrapped = [textwrap.wrap(label + text, WIDTH, subsequent_indent="  ") for label, text in parts if text]
    return [line for lines in wrapped for line in lines]
