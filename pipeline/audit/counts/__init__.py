"""What the other tests said about the record, counted."""
