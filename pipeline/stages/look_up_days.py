"""Adds to the rows what is known of their days: first and last, the season, other readings."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

import pandas as pd

from pipeline.model import DAY, TEXT
from pipeline.settings import Settings
from pipeline.values.day import weekday_written
from pipeline.values.measure import range_before_spreadsheet

FEW = 3  # fewer dates than these tell nothing about their column


def _as_days(texts: pd.Series) -> pd.Series:
    """Whole days (YYYY-MM-DD) as datetime64[s]; anything else is missing."""
    return _by_unique(texts, lambda text: pd.to_datetime(text, format="%Y-%m-%d", errors="coerce"))


def _by_unique(texts: pd.Series, typed: Callable[[pd.Series], pd.Series]) -> pd.Series:
    codes, unique = pd.factorize(texts)
    days = typed(pd.Series(unique, dtype="str")).astype("datetime64[s]")
    return days.take(codes).set_axis(texts.index)


def _last_days(texts: pd.Series) -> pd.Series:
    """The last day that a day, a month or a year has."""

    def ends(unique: pd.Series) -> pd.Series:
        months = pd.to_datetime(unique, format="%Y-%m", errors="coerce") + pd.offsets.MonthEnd(0)
        years = pd.to_datetime(unique.where(unique.str.len() == 4) + "-12-31", errors="coerce", format="%Y-%m-%d")
        return pd.to_datetime(unique, format="%Y-%m-%d", errors="coerce").fillna(months).fillna(years)

    return _by_unique(texts, ends)


def _first_days(texts: pd.Series) -> pd.Series:
    """The first day that a day, a month or a year has."""

    def starts(unique: pd.Series) -> pd.Series:
        padded = unique.mask(unique.str.fullmatch(r"\d{4}-\d\d"), unique + "-01")
        padded = padded.mask(unique.str.fullmatch(r"\d{4}"), unique + "-01-01")
        return pd.to_datetime(padded, format="%Y-%m-%d", errors="coerce")

    return _by_unique(texts, starts)


def look_up_days(rows: pd.DataFrame, settings: Settings) -> dict[str, pd.Series]:
    """The facts about days, as new columns by name."""
    begins, ends = _ends(rows["eventDate"].where(rows["eventDate_doubt"] == "", ""), "/")
    one, two = _ends(rows["eventDate_candidates"], " | ")
    first, last = _first_days(begins), _last_days(ends.where(ends != "", begins))
    season = pd.Timestamp(settings.season.first_day), pd.Timestamp(settings.season.last_day)
    before = (first - season[0]).dt.days.clip(upper=0)
    after = (last - season[1]).dt.days.clip(lower=0)
    year = settings.season.first_day.year
    usual_year = _usual_year(rows["table_id"], first.dt.year)
    return {
        "first_day": first,
        "last_day": last,
        "day_one": _first_days(one),
        "day_two": _first_days(two),
        "other_order": _exchanged(first.where(rows["eventDate"].str.len() == 10)),
        "days_outside_season": before.where(before < 0, after).fillna(0.0).astype("float64"),
        "weekday_written": _told(rows["eventDate_written"], weekday_written),
        "count_was": _told(
            rows["individualCount"].where(rows["individualCount_kind"] == DAY, ""),
            lambda text: range_before_spreadsheet(text, year),
        ),
        "capture_day": _as_days(rows["captureDate"]),
        "emergence_day": _as_days(rows["emergenceDate"]),
        "usual_year": usual_year,
        "day_in_usual_year": _in_year(first, usual_year),
        "season_first_day": pd.Series(season[0], index=rows.index, dtype="datetime64[s]"),
        "season_last_day": pd.Series(season[1], index=rows.index, dtype="datetime64[s]"),
        **_of_columns(rows, first),
    }


def _ends(texts: pd.Series, mark: str) -> tuple[pd.Series, pd.Series]:
    """What stands before the mark and after it; blank where there is none."""
    parts = texts.str.partition(mark).reindex(columns=[0, 2]).astype("str")
    return parts[0], parts[2]


def _told(texts: pd.Series, read: Callable[[str], str]) -> pd.Series:
    codes, unique = pd.factorize(texts)
    return pd.Series([read(text) for text in unique], dtype="str").take(codes).set_axis(texts.index)


def _in_year(days: pd.Series, years: pd.Series) -> pd.Series:
    """The same day and month in another year; missing where that is no day in the calendar."""
    moved = years.astype("Int64").astype("str") + days.dt.strftime("-%m-%d")
    return _as_days(moved.where(years.notna() & days.notna(), "").fillna("").astype("str"))


def _of_columns(rows: pd.DataFrame, first: pd.Series) -> dict[str, pd.Series]:
    """What the true dates and the text dates of a table have in common, where it has three of them."""
    tables = rows["table_id"]
    is_true = rows["eventDate_kind"] == DAY
    is_text = (rows["eventDate_kind"] == TEXT) & rows["eventDate_written"].str.match(r"\d{1,2}\D\d{1,2}\D")

    def of(days: pd.Series, which: Literal["min", "max"]) -> pd.Series:
        by_table = days.groupby(tables)
        return by_table.transform(which).where(by_table.transform("count") >= FEW)

    true_days, text_days = first.where(is_true), first.where(is_text)
    return {
        "first_true_day": of(true_days, "min"),
        "last_true_day": of(true_days, "max"),
        "highest_true_day": of(true_days.dt.day.astype("float64"), "max"),
        "lowest_text_day": of(text_days.dt.day.astype("float64"), "min"),
    }


def _usual_year(tables: pd.Series, years: pd.Series) -> pd.Series:
    """The year that at least 4 rows and more than half of a table's days share."""
    of_years = pd.DataFrame({"table_id": tables, "year": years}).dropna().value_counts(["table_id", "year"])
    counts = of_years.rename("n").reset_index()
    dated = counts.groupby("table_id")["n"].transform("sum")
    usual = counts[(counts["n"] >= 4) & (counts["n"] * 2 > dated)].set_index("table_id")["year"]
    return tables.map(usual).astype("float64")


def _exchanged(days: pd.Series) -> pd.Series:
    """The same days with day and month exchanged; missing where that is no day."""
    return _as_days(days.dt.strftime("%Y-%d-%m").fillna("").astype("str"))
