"""What the methods page needs of the science layer."""
