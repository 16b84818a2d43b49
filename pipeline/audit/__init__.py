"""The tests of TDWG's data quality draft, run on any Darwin Core table: one file for each test."""
