"""How long what is kept, and how readings are packed by the hour. Pure: the store's door carries it out."""
