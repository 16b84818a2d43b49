"""A licence by the address that its publisher gives it."""

from pipeline.audit.audit_test import (
    AuditTest,
    Response,
    cannot_say,
    compliant,
    is_empty,
    not_compliant,
    source_is_missing,
)
from pipeline.audit.licences import main_address
from pipeline.audit.word_lists import Words, shown


def responds(licence: str, words: Words) -> Response:
    if not words.get("license"):
        return source_is_missing("there is no list of licences here")
    if is_empty(licence):
        return cannot_say("license is empty")
    if main_address(licence) in words["license"]:
        return compliant()
    return not_compliant(f"license is {shown(licence)}, not the address of CC0 or of a Creative Commons licence 4.0")


TEST = AuditTest(
    label="VALIDATION_LICENSE_STANDARD",
    test_id="3136236e-04b6-49ea-8b34-a65f25e3aba1",
    updated="2024-03-21",
    kind="Validation",
    acted_upon=("license",),
    parameters=("words",),
    meaning="the licence is the address of CC0 or of a Creative Commons licence in version 4.0, sign by sign",
    advice=(
        "Write the address of the licence; what can be told is proposed beside this. Another licence may be a good one."
    ),
    examples=r"""
        license                                                   | status                         | result
        https://creativecommons.org/licenses/by/4.0/              | RUN_HAS_RESULT                 | COMPLIANT
        http://creativecommons.org/licenses/by-nc/4.0/legalcode   | RUN_HAS_RESULT                 | COMPLIANT
        https://creativecommons.org/publicdomain/zero/1.0/deed.fr | RUN_HAS_RESULT                 | COMPLIANT
        https://creativecommons.org/licenses/by/4.0/deed.mi       | RUN_HAS_RESULT                 | COMPLIANT
        https://creativecommons.org/publicdomain/zero/1.0/deed.mi | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https://creativecommons.org/licenses/by/4.0               | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https://creativecommons.org/licenses/by/4.0/deed.xx       | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https://creativecommons.org/licenses/by/4.0/\u00a0        | RUN_HAS_RESULT                 | NOT_COMPLIANT
        https://creativecommons.org/licenses/by/3.0/              | RUN_HAS_RESULT                 | NOT_COMPLIANT
        CC BY 4.0                                                 | RUN_HAS_RESULT                 | NOT_COMPLIANT
                                                                  | INTERNAL_PREREQUISITES_NOT_MET |
    """,
)
