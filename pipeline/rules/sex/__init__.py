"""Rules about the sex of a butterfly."""
