"""Rules about answers that came back."""
