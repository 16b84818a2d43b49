"""What each command does: plain functions that return an exit code."""
