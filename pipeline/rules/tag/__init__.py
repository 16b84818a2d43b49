"""Rules about the code on the tag."""
