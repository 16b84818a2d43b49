"""(a) The floor: every workbook read with calamine in two processes, all cells written to one CSV.

python tests/bench/floor.py FOLDER
"""

from __future__ import annotations

import csv
import sys
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

from python_calamine import CalamineWorkbook

CHUNK = 50


def cells(paths: list[Path]) -> list[list[object]]:
    """All rows of some workbooks, each with the path in front."""
    rows: list[list[object]] = []
    for path in paths:
        workbook = CalamineWorkbook.from_path(path)
        for name in workbook.sheet_names:
            sheet = workbook.get_sheet_by_name(name).to_python(skip_empty_area=False)
            rows.extend([str(path), *row] for row in sheet)
    return rows


def main(folder: Path) -> None:
    paths = sorted((folder / "inbox").rglob("*.xlsx"))
    chunks = [paths[i : i + CHUNK] for i in range(0, len(paths), CHUNK)]
    with (
        ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool,
        (folder / "floor.csv").open("w", encoding="utf-8", newline="") as file,
    ):
        writer = csv.writer(file)
        for rows in pool.map(cells, chunks):
            writer.writerows(rows)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
