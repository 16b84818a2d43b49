"""What to send in place of a file that we could not open, by what it looks like."""

from __future__ import annotations

SEND_A_SHEET = "Please send your rows as a sheet: .xlsx, .xls, .ods, .csv or .tsv."
_SAVE_AGAIN = "Please open it in your spreadsheet program, save it as .xlsx and send that copy."
_TYPE_IT = "Please type its rows into our blank form and send that; the picture may stay with you."
_SAVE_THE_ATTACHED = "Please save the sheet that is attached to it, and send that sheet by itself."
_COPY_THE_TABLE = "Please copy its table into a spreadsheet, save that as .xlsx and send it."
_ON_THE_WEB = "Please open the sheet there, choose to download it as .xlsx, and send the file that you get."
_EXPORT = "Please open it in its own program, export it as .xlsx or .csv and send that file."
_DIVIDE = "Please delete what lies far from your rows, or divide it into smaller sheets, and send it again."
_ONCE_MORE = "Please look whether it still opens for you, save it again as .xlsx and send it once more."

_BY_LOOK = {
    "a picture": _TYPE_IT,
    "a PDF": "Please send the sheet that it was made from, or type its rows into our blank form.",
    "an archive": "Please unpack it and send the sheets that are in it.",
    "a word-processor document": _COPY_THE_TABLE,
    "a set of slides": _COPY_THE_TABLE,
    "a link to a sheet on the web": _ON_THE_WEB,
    "a shortcut to a file": "It only says where the file lies on your computer: please send the file itself.",
    "an e-mail": _SAVE_THE_ATTACHED,
    "a web page": _SAVE_AGAIN,
    "an XML file": _EXPORT,
    "a workbook in an old XML form": _SAVE_AGAIN,
    "a binary workbook (.xlsb)": _SAVE_AGAIN,
    "a workbook older than 1993": _SAVE_AGAIN,
    "a sheet or document of another program (.numbers or .pages)": _EXPORT,
    "a database": _EXPORT,
    "a data table of another program": _EXPORT,
    "a damaged workbook": _ONCE_MORE,
    "nothing (0 bytes)": _ONCE_MORE,
    "a file that our reader could not finish": _ONCE_MORE,
    "a file that another program holds open": "Please close it, wait a moment and send it once more.",
    "a sheet with more than 200,000 rows or 300 columns": _DIVIDE,
    "a sheet whose cells are spread too far apart": _DIVIDE,
}


def send_instead(what: str) -> str:
    """A sentence that says what to do about a file that looks like `what`.

    >>> send_instead("an archive")
    'Please unpack it and send the sheets that are in it.'
    >>> send_instead("a recording or a film") == SEND_A_SHEET
    True
    """
    return _BY_LOOK.get(what, SEND_A_SHEET)


def sentences() -> tuple[str, ...]:
    """Every sentence once, for whoever puts them into another language."""
    return tuple(dict.fromkeys((*_BY_LOOK.values(), SEND_A_SHEET)))
