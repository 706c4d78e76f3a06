"""What has to be tested before a place is closed, and what will be reached afterwards."""
