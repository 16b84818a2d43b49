"""Rules about the life stage, origin and condition of a butterfly."""
