"""What was tested and measured, against what was to be expected."""
