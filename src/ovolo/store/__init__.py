"""What is kept: jobs and shops as they were typed, every version of them, in SQLite or PostgreSQL.

Documents are kept as people left them, faults and all: what they mean is for other rooms to say. Rows never leave
this room; what does is a frozen dataclass.
"""

from ovolo.store.records import Changed, Kept, NotKept, Summary, Version
from ovolo.store.store import Store

__all__ = ["Changed", "Kept", "NotKept", "Store", "Summary", "Version"]
