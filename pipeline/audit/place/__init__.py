"""Where it was: points, heights, depths, countries and what they are called."""
