"""Days, years and times of day."""
