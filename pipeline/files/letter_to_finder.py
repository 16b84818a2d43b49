"""What stands in the letter to a finder who is not in people.csv."""

from __future__ import annotations

from pipeline.files.asked import Found
from pipeline.files.labels import labels, spell_day, spell_number
from pipeline.files.letter_parts import Heading, Paragraph, Part, Points, SmallPrint, Words, ending, greeting
from pipeline.files.letter_replies import how_to_send, replies_to, reply_mail
from pipeline.files.question_words import in_order, shown


def _release_found(found: Found, words: Words) -> str:
    if not found.released_in:
        return words["finder_not_known_yet"]
    key = "finder_released_on_in" if found.released_on else "finder_released_in"
    day = spell_day(found.released_on, found.language)
    said = [words[key].format(region=shown(found.released_in), date=day, tag=shown(found.tag))]
    if found.km is not None:
        km = round(found.km)
        number = spell_number(km, found.language)
        said.append(words["finder_km"].format(km=number) if km else words["finder_same_place"])
    if found.days is not None and found.days > 0:
        said.append(words["finder_days_one" if found.days == 1 else "finder_days_many"].format(n=found.days))
    return " ".join(said)


def _asks_of_finder(found: Found, words: Words) -> list[Part]:
    questions = in_order(found.questions)
    if not questions:
        return []
    ask = words["finder_ask_one" if len(questions) == 1 else "finder_ask_many"].format(n=len(questions))
    due = words["finder_due"].format(date=spell_day(found.due.isoformat(), found.language))
    number = words["number"]
    lines = tuple(f"{shown(one.wonder)} ({number} {one.number}, Ref {one.ref})" for one in questions)
    mail = reply_mail(found, subject_of_find(found))
    replies = tuple(replies_to(one, mail, words) for one in questions)
    asked = [Points(lines, replies), *how_to_send(questions, mail, words)]
    return [Paragraph(ask), *asked, Paragraph(f"{due} {words['finder_silent']}")]


def subject_of_find(found: Found) -> str:
    """The tag found, if it was read."""
    words = labels(found.language)
    tag = shown(found.tag)
    return words["finder_subject"].format(tag=tag) if tag else words["finder_subject_unread"]


def parts_of_finder_letter(found: Found) -> list[Part]:
    """The letter to a finder: thanks, where the butterfly came from (region only), questions, cautions."""
    words = labels(found.language)
    day = spell_day(found.found_on, found.language)
    met = ", ".join(filter(None, (shown(found.found_at), day)))
    thanks = words["finder_thanks_at"].format(where_and_when=met) if met else words["finder_thanks"]
    return [
        greeting(found.name, words),
        Paragraph(thanks), Paragraph(_release_found(found, words)), Paragraph(words["finder_rare"]),
        *_asks_of_finder(found, words),
        Heading(words["finder_next_time"]),
        Points((words["finder_live"], words["finder_tag_stays"], words["finder_clusters"])),
        ending(found, words),
        SmallPrint(words["finder_privacy"]),
    ]  # fmt: skip
