"""The bench: where a supply can be put, what it does there, and how it is tested safely; what a hand finds at each place."""
