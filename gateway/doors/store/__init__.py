"""The durable store: one SQLite file, through SQLAlchemy Core and, where readings come in, its raw driver."""

from gateway.doors.store.writing import SqliteStore, open_store

__all__ = ["SqliteStore", "open_store"]
