"""The durable store: one SQLite file, through SQLAlchemy Core and, where readings come in, its raw driver."""

from gateway.doors.store.copying import back_up, put_in_place
from gateway.doors.store.reading import StoreReader, open_reader
from gateway.doors.store.writing import SqliteStore, open_afresh, open_store

__all__ = ["SqliteStore", "StoreReader", "back_up", "open_afresh", "open_reader", "open_store", "put_in_place"]
