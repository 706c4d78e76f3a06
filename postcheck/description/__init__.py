"""The build: what the builder said, read and checked for sense."""
