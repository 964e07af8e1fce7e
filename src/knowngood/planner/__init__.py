"""What to do next, what may be started or driven, and what is left."""
