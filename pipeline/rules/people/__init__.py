"""Rules about people and their privacy."""
