"""Rules about lengths and mass."""
