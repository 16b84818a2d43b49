"""Rules about the place and its coordinates."""
