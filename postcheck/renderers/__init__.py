"""Faces: a report made into text, and nothing computed."""
