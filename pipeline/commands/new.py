"""The command `new`: an empty programme, ready to be filled in."""

from __future__ import annotations

from pathlib import Path

from pipeline.files.programme import PEOPLE, TAGS
from pipeline.files.schemas import text
from pipeline.settings import SettingsWrong

TABLES = {
    "people.csv": ",".join(PEOPLE),
    "tags.csv": ",".join(TAGS),
    "sites.csv": "name,latitude,longitude,uncertainty_m,public",
    "taxa.csv": "scientificName,rank,vernacular_en,vernacular_fr,vernacular_es,authorship",
    "sensitive_places.csv": "scientificName,area,first_day,last_day,square_degrees",
}


def new_command(folder: Path) -> int:
    """Makes the folders, the settings with their comments, and the tables with their heading rows."""
    if folder.exists() and any(folder.iterdir()):
        raise SettingsWrong(f"{folder} is not empty: choose a new folder, nothing was changed.")
    for name in ("programme", "inbox", "outbox"):
        (folder / name).mkdir(parents=True)
    _write(folder / "programme" / "programme.toml", text("new_programme.toml"))
    for name, heading in TABLES.items():
        _write(folder / "programme" / name, heading + "\n")
    print(f"Made {folder}. Next: fill in programme/programme.toml, people.csv and tags.csv,")
    print("put the sheets that come into inbox/, and type: tagsheaf run")
    print()
    print(text("cautions.txt").strip())
    return 0


def _write(path: Path, words: str) -> None:
    path.write_text(words, encoding="utf-8", newline="\n")
