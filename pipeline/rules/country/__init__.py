"""Rules about country, state and province."""
