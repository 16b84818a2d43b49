"""Names of months and weekdays in English, French and Spanish, as folded text has them."""

from __future__ import annotations

_MONTHS = (
    ("january", "janvier", "enero"),
    ("february", "fevrier", "febrero"),
    ("march", "mars", "marzo"),
    ("april", "avril", "abril"),
    ("may", "mai", "mayo"),
    ("june", "juin", "junio"),
    ("july", "juillet", "julio"),
    ("august", "aout", "agosto"),
    ("september", "septembre", "septiembre", "setiembre"),
    ("october", "octobre", "octubre"),
    ("november", "novembre", "noviembre"),
    ("december", "decembre", "diciembre"),
)
ROMAN = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")
_WEEKDAYS = {
    "Monday": ("monday", "mon", "lundi", "lun", "lunes"),
    "Tuesday": ("tuesday", "tue", "tues", "mardi", "martes", "mar"),
    "Wednesday": ("wednesday", "wed", "weds", "mercredi", "mer", "miercoles", "mie"),
    "Thursday": ("thursday", "thu", "thur", "thurs", "jeudi", "jeu", "jueves", "jue"),
    "Friday": ("friday", "fri", "vendredi", "ven", "viernes", "vie"),
    "Saturday": ("saturday", "sat", "samedi", "sam", "sabado", "sab"),
    "Sunday": ("sunday", "sun", "dimanche", "dim", "domingo", "dom"),
}


def _month_of_word() -> dict[str, int]:
    """Every beginning of three letters or more that belongs to one month only, and the Roman numbers."""
    months: dict[str, set[int]] = {}
    for month, names in enumerate(_MONTHS, start=1):
        for name in names:
            for length in range(3, len(name) + 1):
                months.setdefault(name[:length], set()).add(month)
    words = {word: found.pop() for word, found in months.items() if len(found) == 1}
    return words | {word: month for month, word in enumerate(ROMAN, start=1)}


MONTH_OF_WORD = _month_of_word()
WEEKDAY_OF_WORD = {word: weekday for weekday, words in _WEEKDAYS.items() for word in words}
