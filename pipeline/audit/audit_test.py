"""What a test of the data quality draft is, and what it may say about a record.

Source of the words: TDWG, Biodiversity Data Quality, draft for review of 2026-06-03 (CC BY 4.0). A draft, no standard.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Literal, NamedTuple

Kind = Literal["Validation", "Amendment", "Issue", "Measure"]
COULD_NOT_SAY = ("INTERNAL_PREREQUISITES_NOT_MET", "EXTERNAL_PREREQUISITES_NOT_MET")
OTHER_PREFIX = {"license": "dcterms", "type": "dc"}  # of the terms that tests propose values for


class Response(NamedTuple):
    """What a test says about a record: did it run, what came out, and why in our words."""

    status: str
    result: str = ""
    comment: str = ""


@dataclass(frozen=True)
class AuditTest:
    """A test, read as a form; the names of its file and of its draft label are the same but for the case.

    The function `responds` beside it takes the values of `acted_upon`, `consulted` and `looked_up` in this order,
    and `parameters` (fields of `Sources`) by name. Terms stand without prefix.
    """

    label: str
    test_id: str  # the GUID, by which the draft's own files are joined
    updated: str  # the day of the specification that was followed
    kind: Kind
    acted_upon: tuple[str, ...]
    meaning: str  # in our own words
    advice: str  # what somebody may do about it
    examples: str  # a table: terms, then `status` and `result`; written before the function
    consulted: tuple[str, ...] = ()
    looked_up: tuple[str, ...] = ()
    parameters: tuple[str, ...] = ()
    sees_only_whether_filled: bool = False  # each value comes as "" or "filled"
    sees_no_time: bool = False  # a valid ISO 8601 day with a time comes as the day


def is_empty(value: str) -> bool:
    """Whether nothing stands in a value but blanks and control characters (the draft's `bdqval:Empty`).

    >>> is_empty(" \\t"), is_empty("null"), is_empty("\\u00a0")
    (True, False, False)
    """
    return not value or (value[0] <= " " and all(character <= " " for character in value))


def compliant(comment: str = "") -> Response:
    """The value is as the test wants it."""
    return Response("RUN_HAS_RESULT", "COMPLIANT", comment)


def not_compliant(comment: str) -> Response:
    """The value is not as the test wants it."""
    return Response("RUN_HAS_RESULT", "NOT_COMPLIANT", comment)


def potential_issue(comment: str) -> Response:
    """Somebody who uses the record should look."""
    return Response("RUN_HAS_RESULT", "POTENTIAL_ISSUE", comment)


def not_issue(comment: str = "") -> Response:
    """Nothing that somebody who uses the record should look at."""
    return Response("RUN_HAS_RESULT", "NOT_ISSUE", comment)


def counted(number: int | float, comment: str = "") -> Response:
    """A measure: a number, written without a fraction where it has none."""
    return Response("RUN_HAS_RESULT", f"{number:g}" if isinstance(number, float) else str(number), comment)


def amended(comment: str, **values: str) -> Response:
    """A better value for what stands there, proposed; nothing is changed."""
    return Response("AMENDED", _proposed(values), comment)


def filled_in(comment: str, **values: str) -> Response:
    """A value for what is empty, proposed; nothing is changed."""
    return Response("FILLED_IN", _proposed(values), comment)


def not_amended(comment: str = "") -> Response:
    """Nothing to propose."""
    return Response("NOT_AMENDED", "", comment)


def cannot_say(comment: str) -> Response:
    """The record holds not what the test needs."""
    return Response("INTERNAL_PREREQUISITES_NOT_MET", "", comment)


def source_is_missing(comment: str) -> Response:
    """The list or map that the test needs is not here."""
    return Response("EXTERNAL_PREREQUISITES_NOT_MET", "", comment)


def _proposed(values: dict[str, str]) -> str:
    named = {f"{OTHER_PREFIX.get(term, 'dwc')}:{term}": value for term, value in values.items()}
    return json.dumps(named, ensure_ascii=False)
