"""The installer's files become the desk's bundle, or every mistake in them is named at once."""
