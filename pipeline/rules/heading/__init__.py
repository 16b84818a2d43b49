"""Rules about the headings of a table."""
