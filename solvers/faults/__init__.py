"""What can go wrong, as data, and how it is planted."""
