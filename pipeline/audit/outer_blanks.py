"""Blanks and unseen signs round a value."""


def has_outer_blanks(value: str) -> bool:
    """Whether a value begins or ends with a blank or with a sign that does not print.

    >>> [has_outer_blanks(value) for value in ("CA", "CA ", "\\u00a0CA", "CA\\u200b", "New Brunswick", "")]
    [False, True, True, True, False, False]
    """
    return any(sign.isspace() or not sign.isprintable() for sign in value[:1] + value[-1:])
