"""Small files that ask for much, and what judging them costs."""
