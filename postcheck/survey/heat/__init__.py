"""Heat in places and conductors, in use and in a fault; fuses and batteries."""
