"""Rules about the days and times of a row."""
