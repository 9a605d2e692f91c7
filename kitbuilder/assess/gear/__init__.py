"""What is owned: what is due, what is missing, and which item does for another."""
