"""Rules about a file as it came."""
