"""Rules about what a spreadsheet did to a cell."""
