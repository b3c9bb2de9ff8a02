"""Who is told, when, and what is held back. Says what is to be told as values; makes no words."""
