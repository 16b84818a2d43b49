"""Rules about finds, held against the release of the same tag."""
