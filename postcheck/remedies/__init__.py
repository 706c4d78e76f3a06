"""Remedies: what to change, worked out and proven."""
