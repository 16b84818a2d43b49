"""Rules about the species."""
