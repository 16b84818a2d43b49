"""What stands in the letter to a person of people.csv, to a minor's guardian, or to the coordinator."""

from __future__ import annotations

from pipeline.files.asked import Asked, Question
from pipeline.files.labels import labels, spell_day, spell_number
from pipeline.files.letter_parts import (
    Card,
    Heading,
    Paragraph,
    Part,
    Points,
    SmallPrint,
    Words,
    ending,
    greeting,
)
from pipeline.files.letter_replies import replies_above, replies_to, reply_mail
from pipeline.files.question_words import file_in_words, in_order, shown, where_in_words

FIRST_PAGE_QUESTIONS = 12
SEEN_CHARACTERS_MOST = 300
TAGS_NAMED_MOST = 12
QUESTIONS_A_MINUTE = 2


def is_for_coordinator(asked: Asked) -> bool:
    """True for a minor without a guardian: somebody has to speak with the family first."""
    return asked.is_minor and not (asked.guardian_name or asked.guardian_email)


def reader_of(asked: Asked) -> tuple[str, str]:
    """Name and address of whoever reads the letter: the person, a minor's guardian, or the coordinator."""
    if is_for_coordinator(asked):
        return asked.programme_name, asked.contact
    return (asked.guardian_name, asked.guardian_email) if asked.is_minor else (asked.name, asked.email)


def subject_of(asked: Asked) -> str:
    """The number of questions and the minutes they take, and whether it is a reminder; or thanks."""
    words, n = labels(asked.language), len(asked.questions)
    number = ("none", "one")[n] if n < 2 else "many"
    key = f"subject_open_{number}" if n and asked.reminder else f"subject_{number}"
    return words[key].format(n=n, minutes=max(2, -(-n // QUESTIONS_A_MINUTE)))


def _whom_it_is_about(asked: Asked, words: Words) -> list[Part]:
    if not asked.is_minor:
        return []
    # The number only: a child's name stays out of letters, subjects and file names.
    key = "for_the_coordinator" if is_for_coordinator(asked) else "for_a_minor"
    return [Paragraph(words[key].format(person=asked.person_id))]


def _reminds(asked: Asked, words: Words) -> list[Part]:
    if not (asked.questions and asked.reminder):
        return []
    if asked.rests:
        return [Paragraph(words["rests"])]
    day = spell_day(asked.wrote_on.isoformat(), asked.language) if asked.wrote_on else ""
    said = [words["reminder" if day else "reminder_undated"].format(date=day)]
    said += [words["reminder_last"]] * asked.is_last_reminder
    return [Paragraph(" ".join([*said, words["reminder_crossed"]]))]


def _ready(asked: Asked, words: Words) -> Paragraph:
    ok, every = asked.rows_clear, asked.rows_clear + asked.rows_held
    if not every:
        return Paragraph(words["ready_nothing_new"])
    share = "all" if ok == every else "some" if ok else "none"
    number = "one" if (ok if share == "some" else every) == 1 else "many"
    counts = {"ok": spell_number(ok, asked.language), "all": spell_number(every, asked.language)}
    return Paragraph(words[f"ready_{share}_{number}"].format(**counts))


def _what_is_asked(questions: list[Question], words: Words) -> str:
    n, must = len(questions), sum(question.kind == "must-answer" for question in questions)
    if n == 1:
        return words["ask_one_must" if must else "ask_one_check"]
    if must in (0, n):
        return words["ask_many_must" if must else "ask_many_check"].format(n=n)
    key = f"ask_mixed_{'one' if must == 1 else 'many'}_{'one' if n - must == 1 else 'many'}"
    return words[key].format(n=n, must=must)


def _what_otherwise(asked: Asked, words: Words) -> str:
    if asked.rows_held:
        key = "silent_held_one" if asked.rows_held == 1 else "silent_held_many"
        said = [words[key].format(n=spell_number(asked.rows_held, asked.language))]
        said += [words["silent_ready"]] * bool(asked.rows_clear)
    else:
        is_blocking = any(question.kind == "must-answer" for question in asked.questions)
        said = [words["silent_nothing_held" if is_blocking else "silent_check"]]
    is_last = bool(asked.reminder) and asked.is_last_reminder
    return " ".join([*said, *([words["silent_later"]] * is_last)])


def _file_named(question: Question) -> str:
    return file_in_words(question.file, question.sheet).replace("\n", ", ")


def card(question: Question, words: Words, names_file: bool) -> Card:
    """One question as a card: where it stands, what we wonder, what was written, what we suggest."""
    where = where_in_words(question, words)
    if question.row and question.n_rows <= 1:
        where = words["where_row"].format(row=where)
    titles = [f"{question.number}. {where}"]
    titles += [words["where_column"].format(column=question.column)] * bool(question.column)
    titles += [words["where_tag"].format(tag=shown(question.tag))] * bool(question.tag)
    seen = shown(question.seen)
    lines = (
        ("", shown(question.wonder)),
        (words["wrote"], seen[:SEEN_CHARACTERS_MOST] + "…" * (len(seen) > SEEN_CHARACTERS_MOST)),
        (words["suggestion"], shown(question.suggestion)),
        (words["file"], _file_named(question) if names_file else ""),
        (words["ref"], question.ref),
    )
    word = words[question.kind.replace("-", "_")]
    why = (words["why_we_ask"], shown(question.why))
    return Card(", ".join(titles), question.kind, word, tuple(line for line in lines if line[1]), why)


def _tags(asked: Asked, words: Words) -> list[Part]:
    n = len(asked.tags)
    if not n:
        return []
    named = ", ".join(shown(tag.tag) for tag in asked.tags[:TAGS_NAMED_MOST])
    named += ", …" if n > TAGS_NAMED_MOST else ""
    key = ("tags" if asked.questions else "tags_in_words") + ("_one" if n == 1 else "_many")
    return [Paragraph(words[key].format(n=n, tags=named))]


def _told(asked: Asked, words: Words) -> list[Part]:
    return [Heading(words["heading_told"]), Points(tuple(map(shown, asked.told)))] if asked.told else []


def _questions(asked: Asked, words: Words) -> tuple[list[Part], list[Part]]:
    """The parts about questions: those of the first page, and what comes on the second."""
    questions = in_order(asked.questions)
    due = "" if asked.rests else " " + words["due"].format(date=spell_day(asked.due.isoformat(), asked.language))
    files = {_file_named(question) for question in questions} - {""}
    mail = reply_mail(asked, subject_of(asked))
    cards = [
        card(question, words, len(files) > 1)._replace(replies=replies_to(question, mail, words))
        for question in questions
    ]
    first, later = cards[:FIRST_PAGE_QUESTIONS], cards[FIRST_PAGE_QUESTIONS:]
    parts: list[Part] = [
        Paragraph(_what_is_asked(questions, words) + due),
        Paragraph(_what_otherwise(asked, words)),
        Heading(words["heading_questions"]),
        *(Paragraph(words["about_file"].format(file=file)) for file in files if len(files) == 1),
        *replies_above(questions, mail, words),
        *first,
    ]
    # Beside questions that keep their numbers from an earlier letter, "1 yes" would answer one that is closed.
    is_from_one = {question.number for question in questions} == set(range(1, len(questions) + 1))
    in_words = words["how_words" if is_from_one else "how_words_numbered"].format(number=questions[0].number)
    how = Points((words["how_file"], in_words, words["how_honest"]))
    after = [Heading(words["heading_how"]), how, *_tags(asked, words)]
    if not later:
        return [*parts, *after], []
    more = words["more_one" if len(later) == 1 else "more_many"].format(n=len(later))
    is_blocking = any(one.kind == "must-answer" for one in later)
    heading = Heading(words["heading_more_must" if is_blocking else "heading_more_check"], is_new_page=True)
    return [*parts, Paragraph(more), *after], [heading, *later]


def parts_of_letter(asked: Asked) -> list[Part]:
    """The letter to one person of people.csv: ready rows, questions, due day, thanks."""
    words = labels(asked.language)
    about = [*_whom_it_is_about(asked, words), *_reminds(asked, words)]
    opening = [greeting(reader_of(asked)[0], words), *about, _ready(asked, words)]
    if asked.questions:
        asks, later = _questions(asked, words)
    else:
        asks, later = [Paragraph(words["nothing_to_answer"]), *_tags(asked, words)], []
    thanks, privacy = Paragraph(words["thanks_end"]), SmallPrint(words["privacy"])
    return [*opening, *asks, *_told(asked, words), thanks, ending(asked, words), privacy, *later]
