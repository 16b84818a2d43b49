"""Rules about who was given which tags."""
