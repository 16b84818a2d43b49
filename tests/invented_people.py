"""Invented people of the Saltmarsh society, for the tests of question sheets and letters."""

from dataclasses import replace
from datetime import date
from typing import Any

from pipeline.files.asked import Asked, Found, Question, RowShown, SheetShown, TagShown

FILE = "thériault/été 2026 final (2).xlsx"


def question(number: int, **changed: Any) -> Question:
    plain = Question(
        ref=f"K7M{number:02d}PX",
        number=number,
        row=10 + number,
        tag=f"SM{number:04d}",
        seen="3/9/26",
        wonder=f"The day in row {10 + number} can be 3 September or 9 March. Which one is it?",
        suggestion="3 September 2026",
        why="",
        kind="must-answer",
        file=FILE,
        sheet="Feuille 1",
        column="B",
        field="eventDate",
        rows=(10 + number,),
        n_rows=1,
    )
    return replace(plain, **changed)


def rows_around(row: int) -> tuple[RowShown, ...]:
    cells = ("SM0042", "3/9/26", "F", "=1+1", "-64.37", "Anna Thériault, près de l'étang")
    words = {row - 1: "neighbour", row: "asked", row + 1: "neighbour"}
    return tuple(RowShown(f"R{at:04d}X", word, FILE, "Feuille 1", at, cells, at == row) for at, word in words.items())


def sheet_shown(row: int = 11) -> SheetShown:
    return SheetShown(FILE, "Feuille 1", ("Tag", "Date", "Sexe", "Note", "Long", "Où"), rows_around(row))


def asked(n: int = 3, language: str = "en", **changed: Any) -> Asked:
    """A person with `n` questions, the last a please-check one, if there are several."""
    questions = [question(number) for number in range(1, n + 1)]
    if n > 1:
        questions[-1] = replace(questions[-1], kind="please-check", suggestion="")
    plain = Asked(
        person_id="p014",
        name="Anna Thériault",
        email="anna@example.org",
        language=language,
        is_minor=False,
        guardian_name="",
        guardian_email="",
        questions=tuple(questions),
        sheets=(sheet_shown(),) if n else (),
        tags=(TagShown("T001QX", "SM0090"), TagShown("T002QX", "SM0091")) if n else (),
        rows_read=46,
        rows_clear=45 - n,
        rows_held=n,
        told=(),
        due=date(2026, 9, 28),
        today=date(2026, 9, 14),
        programme_name="Saltmarsh Wing-Tag Society",
        contact="coordinator@example.org",
        signed_by="Maud Arsenault",
        reply_to="sheets@example.org",
        seed="saltmarsh 2026-0001 p014",
    )
    return replace(plain, **changed)


def found(**changed: Any) -> Found:
    plain = Found(
        find_id="0f3c5a7e9b12",
        name="Rosa Ejemplo",
        email="rosa@example.org",
        language="es",
        tag="SM0042",
        found_on="2027-01-20",
        found_at="Ocampo",
        released_on="2026-09-03",
        released_in="New Brunswick",
        km=4012.6,
        days=139,
        questions=(question(1, wonder="¿Estaba viva la mariposa?", row=0, rows=(), n_rows=0),),
        due=date(2027, 2, 10),
        today=date(2027, 1, 27),
        programme_name="Saltmarsh Wing-Tag Society",
        contact="coordinator@example.org",
        signed_by="Maud Arsenault",
        reply_to="",
        seed="saltmarsh 2026-0002 0f3c5a7e9b12",
    )
    return replace(plain, **changed)


def contrast(one: str, other: str) -> float:
    """Contrast of two #RRGGBB colours: the formula of WCAG 2.2, "contrast ratio"."""

    def luminance(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)
