"""What it was: names and their ranks."""
