"""The guide: every page, every key, and how it is shown."""
