"""A licence, by its address."""

from pipeline.audit.audit_test import AuditTest, Response, amended, is_empty, not_amended, source_is_missing
from pipeline.audit.licences import main_address, without_dress
from pipeline.audit.word_lists import Spellings, Words, loosely, shown


def responds(licence: str, words: Words, spellings: Spellings) -> Response:
    if not words.get("license"):
        return source_is_missing("there is no list of licences here")
    if is_empty(licence) or main_address(licence) in words["license"]:
        return not_amended()
    meant = spellings.get("license", {}).get(loosely(without_dress(licence)), "")
    if not meant:
        return not_amended(f"license is {shown(licence)}, which names no one licence and version of our list")
    return amended(f"license is {shown(licence)}, a name of this licence", license=f"{meant}legalcode")


TEST = AuditTest(
    label="AMENDMENT_LICENSE_STANDARDIZED",
    test_id="dcbe5bd2-42a0-4aab-bb4d-8f148c6490f8",
    updated="2023-09-18",
    kind="Amendment",
    acted_upon=("license",),
    parameters=("words", "spellings"),
    meaning="the address of the licence is proposed, where one licence in one version is named",
    advice="Look at what is proposed: only who owns the data can say under which licence they are.",
    examples="""
        license | status | result
        CC0 | AMENDED | {"dcterms:license": "https://creativecommons.org/publicdomain/zero/1.0/legalcode"}
        CC0-1.0 | AMENDED | {"dcterms:license": "https://creativecommons.org/publicdomain/zero/1.0/legalcode"}
        CC_BY_NC_4_0 | AMENDED | {"dcterms:license": "https://creativecommons.org/licenses/by-nc/4.0/legalcode"}
        cc by 4.0 | AMENDED | {"dcterms:license": "https://creativecommons.org/licenses/by/4.0/legalcode"}
        https://creativecommons.org/licenses/by/4.0/ | NOT_AMENDED |
        https://creativecommons.org/licenses/by/3.0/ | NOT_AMENDED |
        CC BY | NOT_AMENDED |
        public domain | NOT_AMENDED |
         | NOT_AMENDED |
    """,
)
